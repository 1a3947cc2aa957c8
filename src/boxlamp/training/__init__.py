"""Learning from nights that are over: a past whelping told again, moment by moment."""
