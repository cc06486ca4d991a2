"""Which sock a gauge check is about and where that sock is, as the address or the form says."""

from __future__ import annotations

from dataclasses import dataclass

from flask import abort, request

from ..logbook import SOCKS, Sock
from ..planning.document import Plan
from .asked import whole_number
from .open_pair import OpenPair


@dataclass(frozen=True)
class CheckPlace:
    """A sock with its plan and the rounds of it that are done."""

    sock: Sock
    plan: Plan
    done: int

    def in_words(self) -> str:
        """The place: "Sock 1, Leg, 12 of 61 rounds"."""
        for section, span in self.plan.spans():
            if self.done in span:
                rounds = "rows" if section.flat else "rounds"
                return f"Sock {self.sock}, {section.title}, {span.index(self.done)} of {len(span)} {rounds}"
        return f"Sock {self.sock}, finished"


def place_asked(pair: OpenPair) -> CheckPlace:
    """The place that is asked about; what the server knows of it when nothing is said."""
    sock = sock_asked()
    plan = pair.plan(sock)
    total = plan.count
    done = _whole_number("round", min(pair.done[sock], total))
    if done > total:
        abort(400, f"This sock has {total} rounds, not {done}. Open the check from the knit page.")
    return CheckPlace(sock, plan, done)


def sock_asked() -> Sock:
    """The sock that is asked about, the first when nothing is said."""
    number = _whole_number("sock", 1)
    if number not in SOCKS:
        abort(400, "A pair has sock 1 and sock 2. Open the check from the knit page.")
    return 2 if number == 2 else 1


def _whole_number(name: str, otherwise: int) -> int:
    if not request.values.get(name):
        return otherwise
    number = whole_number(name)
    if number is None:
        abort(400, f"“{name}” has to be a whole number in this address. Open the check from the knit page.")
    return number
