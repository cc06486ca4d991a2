"""The pages on which another plan is chosen to go on by, and those that take one back."""
