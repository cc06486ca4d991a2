"""What a sock takes of each yarn, what is left of it by weight, and where a yarn ends that does not reach."""
