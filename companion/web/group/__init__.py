"""The leader's and the followers' pages.

A design has two links, and the follower's is a hash of the leader's (`links.py`): the leader's page can show it
though the store keeps hashes of both, and nobody finds the leader's from it. A pair remembers the version of the
design that it was planned by; taking a newer one over is a revision from where the socks are: what is knitted settles
its own entries, and what a leader has left to her followers stays their own. Notes and stages are those of the newest
version: they change no stitch, and a change of them is announced, as is what a leader says. A stage ends with a day
in the design's time zone, and days are counted there, never hours. What a follower shares is a row of its own,
deleted when it is taken back. The leader's page reads no plan and no logbook, of which a large group has thousands: a
summary of each plan, and where each pair stands, are kept beside.
"""
