"""What an estimate of the gauge asks for: nothing, counting over more fabric, or a change.

Cautious: a change that was not needed costs hours of ripping, and counting once more a minute.
"""

from __future__ import annotations

import math
from typing import Literal, TypeAlias

from .document import Value
from .evidence import Estimate, Gauges
from .observed import COUNTING_ERROR, FABRIC_SPREAD, GIVE_OR_TAKE, What, per_10cm, range_per_10cm

Verdict: TypeAlias = Literal["nothing to change", "measure again", "change"]

CLEARLY = 3.0
"""Deviations by which the fabric must differ from the plan before a change is advised (ours)."""

FOLLOWS = 1.0
"""Deviations by which the rest follows the estimate once a plan has been brought to the checks (ours).

Its gauge is then itself only an earlier estimate, and nothing speaks for it any more.
"""

SURE_ENOUGH = 0.005
"""One deviation, as a part of the gauge, below which more counting brings little (ours).

On a sock of 60 stitches that is less than half a stitch, and one can only add or leave out two.
"""

MATTERS: dict[What, float] = {"stitches": 0.025, "rounds": 0.012}
"""Parts of the gauge by which a difference is felt: 2.5 % round the foot, 3 mm of its length (ours)."""

SPOT_CM = 10
"""A spot that fits on a sock laid flat."""


class Measure(Value):
    """How much more to count to be surer: spots of 10 cm for stitches and for rounds, and about how many of each.

    `ask` says that in words, as in "count about 30 stitches more, at 1 other spot", and `sums` tell where these come
    from, a sentence or two for each.
    """

    stitch_spots: int
    stitches: int
    round_spots: int
    rounds: int
    ask: str
    sums: tuple[str, ...]


class Planned(Value):
    """The gauge that a plan was worked out with, over 10 cm."""

    stitches: float
    rounds: float

    def both(self) -> tuple[tuple[What, float], ...]:
        """Each kind with its gauge."""
        return ("stitches", self.stitches), ("rounds", self.rounds)


def differs(estimate: Estimate, planned: float, *, follows: bool = False) -> bool:
    """Whether the fabric is clearly not what the plan has; less is enough once the plan follows the checks."""
    return (
        estimate.counted and abs(estimate.per_10cm - planned) > (FOLLOWS if follows else CLEARLY) * estimate.deviation
    )


def is_open(gauges: Gauges, planned: Planned) -> bool:
    """Whether the fabric looks different from the plan or uneven, and more counting would tell whether it is."""
    return any(
        (found.uneven or abs(found.per_10cm - at) > found.deviation)
        and may_matter(found, at, what)
        and _more_spots(found)
        for what, found, at in _both(gauges, planned)
    )


def may_matter(estimate: Estimate, planned: float, what: What) -> bool:
    """Whether the fabric may differ from the plan by as much as is felt."""
    off = abs(estimate.per_10cm - planned)
    return estimate.counted and off + estimate.give_or_take > MATTERS[what] * planned


def more_to_count(gauges: Gauges, planned: Planned) -> Measure | None:
    """What to count to be sure; None where the counts are sure enough for what hangs on them."""
    spots = {
        what: _more_spots(found) if may_matter(found, at, what) else 0 for what, found, at in _both(gauges, planned)
    }
    if not any(spots.values()):
        return None
    amounts = {
        what: 10 * math.ceil(spots[what] * found.per_10cm * SPOT_CM / 100) for what, found, _ in _both(gauges, planned)
    }
    ask = " and ".join(
        f"about {amounts[what]} {what} more, at {spots[what]} {'other spots' if spots[what] > 1 else 'other spot'}"
        for what in amounts
        if spots[what]
    )
    return Measure(
        stitch_spots=spots["stitches"],
        stitches=amounts["stitches"],
        round_spots=spots["rounds"],
        rounds=amounts["rounds"],
        ask=f"count {ask}",
        sums=tuple(_spots_sum(what, found, spots[what]) for what, found, _ in _both(gauges, planned) if spots[what]),
    )


def _spots_sum(what: What, found: Estimate, spots: int) -> str:
    """Why so many spots: how sure the estimate is without them, and how sure it becomes."""
    one = _of_one_spot(found)
    then = (found.deviation**-2 + spots * one**-2) ** -0.5
    now, by_itself, enough = (GIVE_OR_TAKE * deviation for deviation in (found.deviation, one, then))
    return (
        f"{what.capitalize()}: {found.per_10cm:.1f} over {SPOT_CM} cm, give or take {now:.1f}, is what is known, and "
        f"one spot tells it to give or take {by_itself:.1f}. With {spots} more that becomes {enough:.1f}, within "
        f"{100 * GIVE_OR_TAKE * SURE_ENOUGH:.0f} %: sure enough. {spots} times {found.per_10cm:.1f} are "
        f"{spots * found.per_10cm:.0f}, in tens {10 * math.ceil(spots * found.per_10cm * SPOT_CM / 100)}."
    )


def how_sure(gauges: Gauges, planned: Planned, *, settled: bool) -> str:
    """Between what the gauge lies, in words, and how sure that is: `settled` where more counting brings little."""
    counted = [(what, found, at) for what, found, at in _both(gauges, planned) if found.counted]
    if not counted:
        return "Nothing was counted."
    told = [
        f"{what} lie between {range_per_10cm(found.low, found.high)}, planned are {per_10cm(at)}"
        for what, found, at in counted
    ]
    if any(found.error > MATTERS[what] for what, found, _ in counted):
        return f"{'; '.join(told).capitalize()}."
    near = all(abs(found.per_10cm - at) <= found.deviation for _, found, at in counted)
    surely = "You can be sure of it" if settled and near else "You can be fairly sure of it"
    return f"{surely}: {'; '.join(told)}."


def _both(gauges: Gauges, planned: Planned) -> tuple[tuple[What, Estimate, float], ...]:
    found = {"stitches": gauges.stitches, "rounds": gauges.rounds}
    return tuple((what, found[what], at) for what, at in planned.both())


def _more_spots(found: Estimate) -> int:
    """Spots of 10 cm that bring an estimate to where it is sure enough."""
    aim = SURE_ENOUGH * found.per_10cm
    if found.deviation <= aim:
        return 0
    return math.ceil(_of_one_spot(found) ** 2 * (aim**-2 - found.deviation**-2))


def _of_one_spot(found: Estimate) -> float:
    """One deviation of what a single spot tells, per 10 cm."""
    return math.hypot(COUNTING_ERROR * 10 / SPOT_CM, FABRIC_SPREAD * found.per_10cm)
