"""What a simulated knitter does at a check: nothing, what one count says, what this program says, or what is true."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Literal, TypeAlias

from ..planning import CannotKnitError, Check, recalculate
from ..planning.gauge.observations import Evidence, assumed
from ..planning.recalculation.candidates import ways_on
from ..planning.recalculation.options import Ranges
from ..planning.recalculation.recalculate import Recalculation
from .counting import Eyes
from .hands import Fabric
from .sock import Sock

Policy: TypeAlias = Literal["never", "face value", "Tapeline", "truth"]

MOST_SPOTS = 3
"""Spots of a kind that she counts once more at one place, however many are asked for."""


class Knitter:
    """Somebody knitting one sock: the sock, the eyes that count on it, and what was counted, advised and stated so far.

    `held` and `stated` count the ranges of a gauge that held the true one of the next round, and all of them; `ranges`
    are the sizes that were stated last.
    """

    def __init__(self, sock: Sock, eyes: Eyes, spots: int, draw: Random) -> None:
        self.sock, self.eyes, self.spots, self.draw = sock, eyes, spots, draw
        self.evidence: list[Evidence] = [assumed(sock.plan.request)]
        self.counted = 0.0
        self.changes = self.held = self.stated = 0
        self.ranges: Ranges | None = None

    def count(self, stitches: int, rounds: int) -> Check:
        """Count so many spots of each."""
        check = self.eyes.count(self.sock, (stitches, rounds), self.draw)
        self.counted += sum(spot.count for spot in (*check.stitches, *check.rounds))
        return check

    def trust(self, fabric: Fabric) -> None:
        """Take a gauge for that of the whole sock, and do what follows from it."""
        sock = self.sock
        gauge = {"stitches_per_10cm": fabric.stitches, "rounds_per_10cm": fabric.rounds}
        request = sock.plan.request.model_copy(update={"gauge": sock.plan.request.gauge.model_copy(update=gauge)})
        way = next(way for way in ways_on(sock.plan, request, sock.done) if way.recommended)
        self.changes += way.plan.rounds() != sock.plan.rounds()
        sock.go_on_with(way.plan, way.done)

    def ask(self) -> Recalculation:
        """What this program says of all that was counted so far."""
        found = recalculate(self.sock.plan, self.sock.done, self.evidence)
        truth = self.sock.hands.at(self.sock.knitted_ever)
        for gauge, true in ((found.gauges.stitches, truth.stitches), (found.gauges.rounds, truth.rounds)):
            self.held += gauge.low <= true <= gauge.high
            self.stated += 1
        return found


def _face_value(knitter: Knitter) -> None:
    check = knitter.count(knitter.spots, knitter.spots)
    stitches, rounds = (
        10 * sum(spot.count for spot in spots) / sum(spot.over_cm for spot in spots)
        for spots in (check.stitches, check.rounds)
    )
    knitter.trust(Fabric(stitches, rounds))


def _tapeline(knitter: Knitter) -> None:
    """Count, try the ruler and count once more where that is asked for, and accept what is recommended."""
    knitter.evidence.append(knitter.count(knitter.spots, knitter.spots))
    found = knitter.ask()
    if found.verdict == "measure again" and found.measure:
        more = found.measure
        knitter.sock.knit_to(more.after_round or 0)
        knitter.eyes = knitter.eyes.try_ruler(knitter.draw)
        knitter.evidence.append(knitter.count(min(MOST_SPOTS, more.stitch_spots), min(MOST_SPOTS, more.round_spots)))
        found = knitter.ask()
    option = found.recommended
    knitter.changes += found.verdict == "change"
    knitter.sock.go_on_with(option.plan, option.done)
    knitter.ranges = option.ranges


def _truth(knitter: Knitter) -> None:
    knitter.trust(knitter.sock.hands.at(knitter.sock.knitted_ever))


POLICIES: dict[Policy, Callable[[Knitter], None] | None] = {
    "never": None,
    "face value": _face_value,
    "Tapeline": _tapeline,
    "truth": _truth,
}
"""What is done at each place; None where none is sought."""


def check(knitter: Knitter, policy: Callable[[Knitter], None]) -> None:
    """Check at a place; where nothing can be knitted with what was counted, knit on as before."""
    try:
        policy(knitter)
    except CannotKnitError:
        return
