"""The gauge checks in a pair's logbook, as evidence of the one gauge that both socks have. Pure.

Every check counts, also one whose rounds were ripped since: they were knitted by the same hands from the same yarn.
Only what the knitter leaves out herself, as a slip of the pen, does not count.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from .logbook import MOVES, SOCKS, THIS_SERVER, Entry, Sock, left_out
from .planning.check import Check
from .planning.document import Plan
from .planning.faults import CannotKnitError
from .planning.recalculation import refuse_miscounts


@dataclass(frozen=True)
class KeptCheck:
    """A check with the place of its sock, `round`; the check itself has the rounds knitted of the whole pair."""

    id: str
    at: str
    sock: Sock
    round: int
    check: Check
    left_out: bool


def checks_kept(entries: Iterable[Entry]) -> list[KeptCheck]:
    """Every check in the order of the logbook."""
    told = sorted(entries, key=Entry.order)
    out = left_out(told)
    return [
        KeptCheck(
            id=entry.id,
            at=entry.at,
            sock=entry.sock,
            round=entry.round,
            check=Check.model_validate(entry.data).model_copy(update={"round": knitted}),
            left_out=entry.id in out,
        )
        for entry, knitted in _with_rounds_knitted(told)
        if entry.kind == "check"
    ]


def _with_rounds_knitted(told: Iterable[Entry]) -> Iterator[tuple[Entry, int]]:
    """Each entry with the rounds of the pair that had been knitted by then, the ripped ones included."""
    places: dict[Sock, int] = dict.fromkeys(SOCKS, 0)
    ripped = 0
    for entry in told:
        if entry.kind in MOVES:
            if entry.device == THIS_SERVER and entry.kind == "go":
                ripped += max(0, places[entry.sock] - entry.round)
            places[entry.sock] = entry.round
        yield entry, sum((places | {entry.sock: entry.round}).values()) + ripped


def is_miscount(check: Check, plan: Plan) -> bool:
    """Whether no fabric of the yarn that a pair was planned with can be as this check says."""
    try:
        refuse_miscounts(plan, [check])
    except CannotKnitError:
        return True
    return False
