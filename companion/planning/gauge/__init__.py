"""The gauge from all that is known of it: what was assumed, counted and measured, one estimate, and what it asks for.

How far each kind of source usually is off stands in one place, `observations.py`, and is ours. The limits of the
decision were chosen with simulated knitters (`companion simulate`).
"""
