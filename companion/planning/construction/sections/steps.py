"""A large change of a count, made in steps."""

from __future__ import annotations

from collections.abc import Iterator

MOST_AT_ONCE = 0.1
"""The part of its stitches that one plain round may lose or win (ours): more makes a frill."""

PLAIN_BETWEEN = 3
"""Plain rounds from one such round to the next (common practice)."""


def in_steps(count: int, to: int) -> Iterator[int]:
    """The counts on the way to another one, the last of them that one; none where it is the same."""
    while count != to:
        most = max(2, int(MOST_AT_ONCE * count) // 2 * 2)
        count += max(-most, min(most, to - count))
        yield count
