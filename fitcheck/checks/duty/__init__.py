"""Rules about duty: may this part, tube or fluid do this work."""
