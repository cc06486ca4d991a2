"""The gauge checks in a pair's logbook, as evidence of the one gauge that both socks have. Pure.

Every check counts, also one whose rounds were ripped since: they were knitted by the same hands from the same yarn.
Only what the knitter takes back herself, as a mistake, does not count.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from ...planning import CannotKnitError, Check, Plan
from ...planning.recalculation.by_fabric import Known
from ...planning.recalculation.recalculate import refuse_miscounts
from ..logbook import MOVES, SOCKS, THIS_SERVER, Entry, Sock, left_out
from .counted_on import on_its_fabric


@dataclass(frozen=True)
class KeptCheck:
    """A check after so many rounds (`round`) of its sock; the check itself has the rounds knitted of the whole pair."""

    id: str
    at: str
    sock: Sock
    round: int
    check: Check


def checks_kept(entries: Iterable[Entry]) -> list[KeptCheck]:
    """Every check that was not taken back, in the order of the logbook."""
    log = sorted(entries, key=Entry.order)
    out = left_out(log)
    return [
        KeptCheck(
            id=entry.id,
            at=entry.at,
            sock=entry.sock,
            round=entry.round,
            check=Check.model_validate(entry.data).model_copy(update={"round": knitted}),
        )
        for entry, knitted in _with_rounds_knitted(log)
        if entry.kind == "check" and entry.id not in out
    ]


def _with_rounds_knitted(log: Iterable[Entry]) -> Iterator[tuple[Entry, int]]:
    """Each entry with the rounds of the pair that had been knitted by then, the ripped ones included."""
    done: dict[Sock, int] = dict.fromkeys(SOCKS, 0)
    ripped = 0
    for entry in log:
        if entry.kind in MOVES:
            if entry.device == THIS_SERVER and entry.kind == "go":
                ripped += max(0, done[entry.sock] - entry.round)
            done[entry.sock] = entry.round
        yield entry, sum((done | {entry.sock: entry.round}).values()) + ripped


def where_counted(one: KeptCheck, plan: Plan) -> Check:
    """The check with whether it was counted in a stitch pattern, which the plan that its sock follows tells."""
    return on_its_fabric(one.check, plan, one.round)


def is_miscount(check: Check, plan: Plan) -> bool:
    """Whether no fabric of the yarn that a pair was planned with can be as this check says."""
    try:
        refuse_miscounts(Known(plan, [check], 0))
    except CannotKnitError:
        return True
    return False
