"""Rules about the yarn of a pair: what was weighed, what that says of the rest, and that in words. Pure."""
