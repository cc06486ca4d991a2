"""The outcomes of a simulation in a table: a line for each kind of knitter."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from .kinds import KINDS
from .life import Outcome
from .policies import POLICIES

COLUMNS = ("gauge", *POLICIES, "advised", "again", "gauge held", "size held", "counted", "ripped")

NOTE = """Of 100 socks, how many have a foot within 2.5 % round and 4 mm of length of what was asked for: never checked,
changed at each check as it says, knitted with Tapeline, and told the true gauge where they are checked. The rest is of
Tapeline. Advised: of 100 knitters, how many were advised to change anything; where the gauge is as planned, each is a
false alarm. Again: changes advised after the first. Held: of 100 ranges stated, how many held the truth. Counted:
stitches and rounds for a sock; ripped: stitches knitted again."""


def table(found: Sequence[Outcome]) -> str:
    """The outcomes as a Markdown table."""
    lines = [f"| {' | '.join(COLUMNS)} |", f"| --- |{' ---: |' * (len(COLUMNS) - 1)}"]
    for key, kind in KINDS.items():
        socks = [one for one in found if one.kind == key]
        if socks:
            lines.append(f"| {' | '.join((kind.title, *_figures(socks)))} |")
    return "\n".join([*lines, "", NOTE, *_not_reached(found)])


def _not_reached(found: Sequence[Outcome]) -> Iterator[str]:
    """A paragraph for each kind whose socks fit less often than is wanted: why, and the price."""
    for key, kind in KINDS.items():
        ours = [one.fits for one in found if (one.kind, one.policy) == (key, "Tapeline")]
        if ours and kind.wanted and share(ours) < kind.wanted.fit:
            yield f"\nNot reached: {kind.title}, {share(ours):.0f} of {kind.wanted.fit}. Why: {kind.wanted.why_not}."


def share(values: Iterable[bool]) -> float:
    """How many of 100 are true."""
    every = list(values)
    return 100 * sum(every) / len(every)


def _figures(socks: Sequence[Outcome]) -> Iterator[str]:
    for policy in POLICIES:
        yield f"{share(one.fits for one in socks if one.policy == policy):.0f}"
    ours = [one for one in socks if one.policy == "Tapeline"]
    advised = [one for one in ours if one.changes]
    yield f"{share(one.changes > 0 for one in ours):.0f}"
    yield f"{sum(one.changes - 1 for one in advised) / len(advised):.1f}" if advised else "–"
    yield _part(sum(one.gauges_held for one in ours), sum(one.gauges_stated for one in ours))
    yield _part(sum(one.sizes_held for one in ours), sum(one.sizes_stated for one in ours))
    yield f"{sum(one.counted for one in ours) / len(ours):.0f}"
    yield f"{sum(one.ripped for one in ours) / len(ours):.0f}"


def _part(held: int, stated: int) -> str:
    return f"{100 * held / stated:.0f}" if stated else "–"
