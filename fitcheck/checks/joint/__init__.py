"""Rules about one joint: will it mate, will it seal, is everything there that it needs."""
