"""Rules about circuits: what is fed, what is open, what fails together."""
