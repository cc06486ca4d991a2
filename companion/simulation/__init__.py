"""Knitters in numbers, by the thousand, to see what checking is worth."""
