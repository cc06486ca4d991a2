"""Stitches: the operations that a round is made of, and stitch patterns read from the words that knitters type.

An operation takes stitches from the left needle and makes stitches on the right one. A stitch pattern is rounds of
operations, each for one repeat, seen from the right side.
"""
