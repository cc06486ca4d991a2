"""How much fabric there is to count on: what lies plain and flat below the needles, and where there will be enough."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from ..construction.constructions import built
from ..construction.sections.leg import LEG
from ..faults import CannotKnitError, Fault
from ..fit.targets import fit_of
from ..gauge.check import Check
from ..gauge.decision import Room
from ..plan.document import Plan
from ..units import CM_PER_INCH, Unit, show_number
from .check_places import FABRIC_CM

LONGEST_CM = 10
"""The usual length to count over (common practice)."""

SHORTEST_CM = 2
"""The shortest length that a check can have: that of a counting glass (BS 5441:1988)."""

FLAT = 0.9
"""The part of a tube lying flat that can be counted across, away from its two folds (ours)."""


MORE_THAN_KNITTED = "only {done} rounds are knitted; count again, and see that the rounds knitted are right"
"""What is said of a count of more rounds than there are."""


class _Fabric(NamedTuple):
    """Sections without a break that can be counted on: their rounds, and how high one is."""

    span: range
    round_cm: float


def room_below(plan: Plan, done: int) -> Room | None:
    """What can be counted over after so many rounds: on the newest fabric that is high enough; None without any."""
    fabric = _counted_on(plan, done)
    if fabric is None:
        return None
    newest = min(done, fabric.span.stop)
    stitches, fit = plan.rounds()[newest - 1].after, fit_of(plan.request)
    across = fit.leg.width(stitches) if newest - 1 in plan.span(LEG.key) else fit.fabric.width(stitches)
    height = (newest - fabric.span.start) * fabric.round_cm
    return Room(stitches_cm=_whole_cm(FLAT * across / 2), rounds_cm=_whole_cm(height))


def counted_span(plan: Plan, done: int) -> range | None:
    """The rounds without a break that can be counted on after so many; None where there is not enough of any."""
    fabric = _counted_on(plan, done)
    return fabric.span if fabric else None


def _counted_on(plan: Plan, done: int) -> _Fabric | None:
    """The newest fabric that is high enough to be counted on."""
    for fabric in reversed(tuple(_fabrics(plan))):
        if (min(done, fabric.span.stop) - fabric.span.start) * fabric.round_cm >= FABRIC_CM:
            return fabric
    return None


def next_room(plan: Plan, done: int) -> int | None:
    """The first round from here on after which there is fabric enough; None where there will be none."""
    enough = (fabric.span.start + math.ceil(FABRIC_CM / fabric.round_cm) for fabric in _fabrics(plan))
    ends = (fabric.span.stop for fabric in _fabrics(plan))
    return next((at for at, end in zip(enough, ends, strict=True) if done < at <= end), None)


def over_shown(cm: float, unit: Unit) -> str:
    """A length to count over as its field has it; in half inches, of which 2 in are taken for 5 cm."""
    if unit == "cm":
        return show_number(cm, unit)
    return show_number(max(2, math.floor(cm / 1.25)) / 2 * CM_PER_INCH, unit)


def refuse_more_than_knitted(check: Check, done: int) -> None:
    """Raises CannotKnitError for a check that counts more rounds than the sock has."""
    most = max((spot.count for spot in check.rounds), default=0)
    if most > done:
        raise CannotKnitError(Fault("rounds", f"{most:g}", MORE_THAN_KNITTED.format(done=done)))


def _whole_cm(length: float) -> float:
    return float(max(SHORTEST_CM, min(LONGEST_CM, math.floor(round(length, 1)))))


def _fabrics(plan: Plan) -> Iterator[_Fabric]:
    """The stretches of fabric that can be counted on, in the order of knitting."""
    span, height = range(0), 0.0
    for section, part in built(plan):
        if part.countable:
            own = plan.span(section.key)
            span = range(span.start if span else own.start, own.stop)
            height += section.length_cm
            continue
        if span:
            yield _Fabric(span, height / len(span))
        span, height = range(0), 0.0
    if span:
        yield _Fabric(span, height / len(span))
