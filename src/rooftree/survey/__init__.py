"""Places, observations and the gates they set."""
