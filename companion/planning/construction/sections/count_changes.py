"""Around a change of the count: the rounds of a pattern are finished before it, and a large one is made in steps."""

from __future__ import annotations

from collections.abc import Iterator

from ...plan.document import Round

MOST_AT_ONCE = 0.1
"""The part of its stitches that one plain round may lose or win (ours): more makes a frill."""

PLAIN_BETWEEN = 3
"""Plain rounds from one such round to the next (common practice)."""


def pattern_row(rounds: tuple[Round, ...], before: int) -> int:
    """The round of the leg's pattern that was worked last, 0 where what is on the needles is not in pattern.

    `before` is the one worked last before these rounds of a section.
    """
    for item in reversed(rounds):
        if item.chart_row:
            return item.chart_row
        if item.before == item.after:
            return 0
    return before


def until_finished(row_worked: int, high: int, room: int, at_least: int, plain_after: int = 0) -> int | None:
    """Rounds to work before stitches in pattern change, `at_least` so many: those that finish its rows.

    The pattern is so many rounds `high`. The last `plain_after` of the `room` rounds that are left are not in pattern.
    None without room for them and the round that changes: a pattern that was begun is not broken within its rows.
    """
    if not row_worked:
        return at_least
    to_finish = -(row_worked + at_least) % high
    wait = at_least + min(to_finish, max(0, room - plain_after - at_least))
    return None if to_finish and wait >= room else wait


def in_steps(count: int, to: int) -> Iterator[int]:
    """The counts on the way to another one, the last of them that one; none where it is the same."""
    while count != to:
        most = max(2, int(MOST_AT_ONCE * count) // 2 * 2)
        count += max(-most, min(most, to - count))
        yield count
