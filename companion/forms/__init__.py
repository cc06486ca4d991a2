"""The forms: what is typed, in the unit that the knitter measures in, and how it becomes a request and comes back."""
