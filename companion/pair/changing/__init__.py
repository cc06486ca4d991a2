"""Going on by another plan: the ways that a check, a try-on or sock two offers, what is taken, and taking it back."""
