"""The plan document, the rounds that it is made of, and designs: requests without foot and gauge.

A plan has sections, each with steps, each round with work by zone and operations. An operation takes stitches from
the left needle and makes stitches on the right one, by the table in `stitches/operations.py`. The document's keys
are fixed, because other programs read it.
"""
