"""A plan in words: each round, how the stitches lie on the needles, the written pattern for one size or several.

The words of a round parse back to the same operations.
"""
