"""The colour chart: what it asks of the hands, how it lies over rounds that are already shaped, and the second sock.

Each row is written as it looks on the right side and is knitted from its right end; a chart one stitch wide is stripes.
"""
