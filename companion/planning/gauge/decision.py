"""What an estimate of the gauge asks for: nothing, counting over more fabric, or a change.

Cautious: a change that was not needed costs hours of ripping, and counting once more a minute.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Literal, TypeAlias

from ..frozen_model import FrozenModel
from ..units import both_units, in_tenths
from .estimate import Estimate, Gauges
from .observations import COUNTING_ERROR, FABRIC_SPREAD, GIVE_OR_TAKE, What, per_10cm, range_per_10cm

Verdict: TypeAlias = Literal["nothing to change", "measure again", "change"]

CLEARLY = 3.0
"""Deviations by which the fabric must differ from the plan before a change is advised (ours)."""

FOLLOWS = 1.0
"""Deviations by which the rest follows the estimate once a plan has been brought to the checks (ours).

Its gauge is then itself only an earlier estimate, and nothing speaks for it any more.
"""

COMES_AND_GOES = 0.005
"""How far a steady gauge is off today and right again tomorrow: one deviation, as a part of it (ours)."""

SURE_ENOUGH = 0.005
"""One deviation, as a part of the gauge, below which more counting brings little (ours).

On a sock of 60 stitches that is less than half a stitch, and one can only add or leave out two.
"""

MATTERS: dict[What, float] = {"stitches": 0.025, "rounds": 0.012}
"""Parts of the gauge by which a difference is felt: 2.5 % round the foot, 3 mm of its length (ours)."""

SPOTS_AGAIN = 3
"""Spots that are counted again before a change is believed: more bring little, and nobody counts them (ours)."""

SPOTS_BELIEVED = 4
"""Spots at one place that a change rests on: the first count, and the three that confirm it (ours)."""


class Room(FrozenModel):
    """The longest lengths that a count can go over on the fabric there is: stitches across and rounds up, in cm."""

    stitches_cm: float
    rounds_cm: float


class Measure(FrozenModel):
    """What to count again before a change is believed: spots of stitches and of rounds, each over so many cm.

    `after_round` is None where it can be counted now; otherwise the round of the sock after which there is fabric
    enough. `ask` says all that in words, and `sums` tell how sure it becomes, a sentence or two for each.
    """

    stitch_spots: int
    stitches_over_cm: float
    round_spots: int
    rounds_over_cm: float
    after_round: int | None
    ask: str
    sums: tuple[str, ...]


class Planned(FrozenModel):
    """The gauge that a plan was calculated with, over 10 cm."""

    stitches: float
    rounds: float

    def both(self) -> tuple[tuple[What, float], ...]:
        """Each kind with its gauge."""
        return ("stitches", self.stitches), ("rounds", self.rounds)


def differs(estimate: Estimate, planned: float, *, follows: bool = False) -> bool:
    """Whether the fabric is clearly not what the plan has; less is enough once the plan follows the checks."""
    unsure = math.hypot(estimate.deviation, COMES_AND_GOES * planned)
    return estimate.counted and abs(estimate.per_10cm - planned) > (FOLLOWS if follows else CLEARLY) * unsure


def is_open(gauges: Gauges, planned: Planned) -> bool:
    """Whether the fabric looks uneven, or different from the plan by as much as may be felt."""
    return any(
        (found.uneven or abs(found.per_10cm - at) > found.deviation) and may_matter(found, at, what)
        for what, found, at in _both(gauges, planned)
    )


def may_matter(estimate: Estimate, planned: float, what: What) -> bool:
    """Whether the fabric may differ from the plan by as much as is felt."""
    off = abs(estimate.per_10cm - planned)
    return estimate.counted and off + estimate.give_or_take > MATTERS[what] * planned


def counted_enough(gauges: Gauges, planned: Planned, spots: Mapping[What, int]) -> bool:
    """Whether what was counted at this place suffices to decide on all that may matter.

    Where the first count was of one kind alone, the other has only the spots that confirmed it.
    """
    mattering = [what for what, found, at in _both(gauges, planned) if may_matter(found, at, what)]
    confirmed = max(spots.values()) >= SPOTS_BELIEVED
    return not mattering or (confirmed and all(spots[what] >= SPOTS_AGAIN for what in mattering))


def count_again(gauges: Gauges, room: Room, after_round: int | None) -> Measure:
    """Three more spots of stitches and of rounds, over as much as there is room for."""
    over = {"stitches": room.stitches_cm, "rounds": room.rounds_cm}
    each = [(what, found, over[what]) for what, found in gauges.both()]
    when = f"knit on to round {after_round} of the sock, and then " if after_round else ""
    return Measure(
        stitch_spots=SPOTS_AGAIN,
        stitches_over_cm=room.stitches_cm,
        round_spots=SPOTS_AGAIN,
        rounds_over_cm=room.rounds_cm,
        after_round=after_round,
        ask=f"{when}count stitches over {both_units(room.stitches_cm)} and rounds over {both_units(room.rounds_cm)}, "
        f"at {SPOTS_AGAIN} other spots",
        sums=tuple(_spots_sum(*one) for one in each),
    )


def _spots_sum(what: What, found: Estimate, over_cm: float) -> str:
    """Why so many spots: how sure the estimate is without them, and how sure it becomes."""
    one = _of_one_spot(found, over_cm)
    then = (found.deviation**-2 + SPOTS_AGAIN * one**-2) ** -0.5
    now, by_itself, enough = (in_tenths(GIVE_OR_TAKE * deviation) for deviation in (found.deviation, one, then))
    return (
        f"{what.capitalize()}: {per_10cm(found.per_10cm)}, give or take {now}, is what is known, and one spot "
        f"of {both_units(over_cm)} tells it to give or take {by_itself}. With {SPOTS_AGAIN} more that becomes "
        f"{enough}."
    )


def how_sure(gauges: Gauges, planned: Planned) -> str:
    """Between what the gauge lies, in words, and how sure that is."""
    counted = [(what, found, at) for what, found, at in _both(gauges, planned) if found.counted]
    if not counted:
        return "Nothing was counted."
    said = [
        f"{what} lie between {range_per_10cm(found.low, found.high)}, planned are {per_10cm(at)}"
        for what, found, at in counted
    ]
    if any(found.error > MATTERS[what] for what, found, _ in counted):
        return f"{'; '.join(said).capitalize()}."
    settled = all(found.error <= SURE_ENOUGH or not may_matter(found, at, what) for what, found, at in counted)
    near = all(abs(found.per_10cm - at) <= found.deviation for _, found, at in counted)
    surely = "You can be sure of it" if settled and near else "You can be fairly sure of it"
    return f"{surely}: {'; '.join(said)}."


def _both(gauges: Gauges, planned: Planned) -> tuple[tuple[What, Estimate, float], ...]:
    at = dict(planned.both())
    return tuple((what, found, at[what]) for what, found in gauges.both())


def _of_one_spot(found: Estimate, over_cm: float) -> float:
    """One deviation of what a single spot tells, per 10 cm."""
    return math.hypot(COUNTING_ERROR * 10 / over_cm, FABRIC_SPREAD * found.per_10cm)
