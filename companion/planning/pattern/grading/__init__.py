"""Several sizes as one text: which rounds they share, and numbers in brackets where they differ."""
