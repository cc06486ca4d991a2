"""What stitches take of a yarn, by the model and by weighings, and how much of the yarn is left.

What is left falls along a line over the stitches knitted. Each ball, or lot of balls weighed together, has a line of
its own, and all have one slope: the grams that a thousand stitches take. The model's slope and those of the weighings
are combined by inverse variance.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from ..frozen_model import FrozenModel
from ..gauge.observations import COUNTING_ERROR, GIVE_OR_TAKE, listed
from ..gauge.statistics import Line, Observation, joined, line
from ..units import both_weights

MODEL_ERROR = 0.10
"""One deviation of what a stitch takes by Munden's relation and the ball band, as a part of it (ours).

His constants for dry and for fully relaxed fabric lie 6 % above and 3 % below the washed one, Peirce's geometry 10 %
below, and a band rounds its metres.
"""

PART_ERROR = 0.03
"""How much the parts of a sock, ribbing, heel and foot, differ in what they take: one deviation, as a part (ours)."""

SCALE_ERROR_G = math.hypot(COUNTING_ERROR, 0.4)
"""One deviation of a weighing: a kitchen scale reads to the nearest gram (common practice); the rest is ours.

That rest is what the scale is off by, and the damp that yarn takes up from the air.
"""

LABEL_ERROR = 0.03
"""One deviation of the grams that are said to be at hand at first, as a part of them (ours): nobody weighed them."""

DISBELIEVED = 2.0
"""Deviations beyond which the model is not of this yarn, and is set aside (ours, as for a gauge)."""

ANOTHER_BALL = 3.0
"""Deviations of a scale beyond which the weight can have changed for no stitch's sake (ours)."""

MOST_TIMES = 2.0
"""No stitch takes more than this many times what the model says (ours); yarn that is gone faster went elsewhere."""


FAR_OFF = 2.0
"""A weight as many times what was expected, or such a part of it, is a slip until another one agrees (ours)."""


class Weighed(NamedTuple):
    """Grams of a yarn that were left when so many stitches had been knitted with it."""

    grams: float
    stitches: float


class Amount(FrozenModel):
    """Grams of yarn with one deviation. The true amount may well lie between `low` and `high`."""

    grams: float
    deviation: float

    @property
    def low(self) -> float:
        """The least that it may well be."""
        return self.grams - GIVE_OR_TAKE * self.deviation

    @property
    def high(self) -> float:
        """The most that it may well be."""
        return self.grams + GIVE_OR_TAKE * self.deviation


class Ball(FrozenModel):
    """The line that the weight of a ball falls along: grams left at so many stitches, and one deviation of them.

    `newest` is where it was weighed last.
    """

    grams: float
    deviation: float
    stitches: float
    newest: float
    weighed: bool


class Use(FrozenModel):
    """Grams that 1,000 stitches take of a yarn, what is left of it, and the sums behind both.

    `weighed`: weighings tell what the stitches take, not only the model. `sums` has a sentence for each source, `why`
    the one that puts them together. `asks` is about a last weight that nothing explains, which does not count yet.
    """

    per_thousand: float
    deviation: float
    weighed: bool
    ball: Ball
    sums: tuple[str, ...]
    why: str
    asks: str | None = None

    @property
    def give_or_take(self) -> float:
        """How far off the grams in 1,000 stitches may well be."""
        return GIVE_OR_TAKE * self.deviation

    def taken(self, stitches: float) -> Amount:
        """What so many stitches take."""
        thousands = stitches / 1000
        error = math.hypot(self.deviation, PART_ERROR * self.per_thousand)
        return Amount(grams=thousands * self.per_thousand, deviation=thousands * error)

    def left(self, stitches: float) -> Amount:
        """What is left when so many stitches have been knitted in all; less than nothing where it does not reach."""
        along = (stitches - self.ball.stitches) / 1000
        since = (stitches - self.ball.newest) / 1000
        return Amount(
            grams=self.ball.grams - along * self.per_thousand,
            deviation=math.hypot(self.ball.deviation, along * self.deviation, since * PART_ERROR * self.per_thousand),
        )


class _Point(NamedTuple):
    stitches: float
    grams: float
    deviation: float
    weighed: bool


def use_of(calculated: float, at_hand: float, weighed: Sequence[Weighed], model: str = "") -> Use:
    """What a yarn's stitches take, and what is left of it.

    `calculated` are the grams in 1,000 stitches by the model, and `model` the sum behind them; `at_hand` the grams at
    the start. Weighings come in the order in which they were made; where the weight changes as no stitch changes it,
    another ball has been begun or yarn has gone elsewhere, and a new line begins. A weighing before the first stitch
    takes the place of what was said to be at hand. One that is far from what was expected counts once the next agrees.
    """
    believed: list[Weighed] = []
    odd: Weighed | None = None
    for one in weighed:
        if odd and _explained(_scaled(odd), _scaled(one), calculated):
            believed += [odd, one]
            odd = None
        elif one.stitches and _far_off(one, _use(calculated, at_hand, believed, model).left(one.stitches)):
            odd = one
        else:
            believed.append(one)
            odd = None
    found = _use(calculated, at_hand, believed, model)
    return found.model_copy(update={"asks": _question(odd, found.left(odd.stitches))}) if odd else found


def _far_off(one: Weighed, expected: Amount) -> bool:
    """Whether a weight is as far from the expected one as no scale and no fabric explains.

    Nothing on the scale is no slip, and where nothing was expected to be left there is nothing to compare with.
    """
    beyond = one.grams > 0 and expected.grams > 0 and not expected.low <= one.grams <= expected.high
    return beyond and not expected.grams / FAR_OFF < one.grams < expected.grams * FAR_OFF


def _question(odd: Weighed, expected: Amount) -> str:
    more, less = "another ball with it, or something else on the scale", "is a ball missing"
    return (
        f"{odd.grams:g} g were weighed and about {max(0.0, expected.grams):.0f} g expected: "
        f"{f'was {more}' if odd.grams > expected.grams else less}? Weigh once more. "
        "It counts when the second weighing agrees."
    )


def _scaled(one: Weighed) -> _Point:
    return _Point(one.stitches, one.grams, SCALE_ERROR_G, weighed=True)


def _use(calculated: float, at_hand: float, weighed: Sequence[Weighed], model: str) -> Use:
    """The same from weighings that are all believed."""
    points = [_scaled(one) for one in weighed]
    if not points or points[0].stitches:
        points.insert(0, _Point(0.0, at_hand, max(LABEL_ERROR * at_hand, SCALE_ERROR_G), weighed=False))
    balls = _balls(points, calculated)
    lines = [(ball, found) for ball in balls if (found := line([point[:3] for point in ball]))]
    slopes = [(-1000 * found.slope, 1000 * _misfit(ball, found) * found.across**-0.5) for ball, found in lines]
    by_model = (calculated, MODEL_ERROR * calculated)
    counts = not slopes or _agree(joined(slopes), by_model)
    value, deviation = joined([*slopes, by_model] if counts else slopes)
    sums = (
        f"{model or 'By the plan'}: {_rate(*by_model)}.",
        *(f"{_weights(ball)}: {_rate(*slope)}." for (ball, _), slope in zip(lines, slopes, strict=True)),
        *(_step(before[-1], after[0]) for before, after in pairwise(balls)),
    )
    return Use(
        per_thousand=value,
        deviation=deviation,
        weighed=bool(slopes),
        ball=_level(balls[-1]),
        sums=sums,
        why=_together(bool(slopes), counts, _rate(value, deviation)),
    )


def _balls(points: Sequence[_Point], calculated: float) -> list[list[_Point]]:
    """The points parted where the weight changed by what no stitches take."""
    balls = [[points[0]]]
    for before, point in pairwise(points):
        if _explained(before, point, calculated):
            balls[-1].append(point)
        else:
            balls.append([point])
    return balls


def _explained(before: _Point, point: _Point, calculated: float) -> bool:
    """Whether stitches explain how the weight changed."""
    most = MOST_TIMES * calculated * (point.stitches - before.stitches) / 1000
    gone = before.grams - point.grams
    tolerance = ANOTHER_BALL * math.hypot(before.deviation, point.deviation)
    return min(0, most) - tolerance <= gone <= max(0, most) + tolerance


def _misfit(ball: Sequence[_Point], found: Line) -> float:
    """By how much more the weighings stray from their line than a scale explains; never less than 1."""
    if len(ball) < 3:
        return 1.0
    squares = sum(
        ((point.grams - found.level - found.slope * (point.stitches - found.middle)) / point.deviation) ** 2
        for point in ball
    )
    return math.sqrt(max(1.0, squares / (len(ball) - 2)))


def _agree(one: Observation, other: Observation) -> bool:
    return abs(one[0] - other[0]) <= DISBELIEVED * math.hypot(one[1], other[1])


def _level(ball: Sequence[_Point]) -> Ball:
    """The middle of a ball's points, where the error of its level does not hang on the slope."""
    found = line([point[:3] for point in ball])
    grams, deviation = joined([(point.grams, point.deviation) for point in ball])
    return Ball(
        grams=grams,
        deviation=deviation * (_misfit(ball, found) if found else 1.0),
        stitches=found.middle if found else ball[-1].stitches,
        newest=ball[-1].stitches,
        weighed=any(point.weighed for point in ball),
    )


def _rate(per_thousand: float, deviation: float) -> str:
    rate, deviation = both_weights(per_thousand, 2), GIVE_OR_TAKE * deviation
    return f"{rate} per 1,000 stitches, give or take {both_weights(deviation, 2)}"


def _weights(ball: Sequence[_Point]) -> str:
    """The weighings of a ball in a sentence: "50 g at the start and 31 g after 4,120 stitches", with ounces."""
    return listed(
        [
            f"{both_weights(point.grams)} "
            f"{'at the start' if not point.stitches else f'after {point.stitches:,.0f} stitches'}"
            for point in ball
        ]
    )


def _step(before: _Point, after: _Point) -> str:
    """Why a weighing is not compared with the one before it."""
    return (
        f"From {_weights([before])} to {_weights([after])}: no stitches explain that. Yarn came or went, so what is "
        "left is calculated from the later weight on."
    )


def _together(weighed: bool, counts: bool, result: str) -> str:
    if not weighed:
        return f"Only calculated so far: {result}. Another weighing further on makes it surer."
    if not counts:
        return f"From the weighings: {result}. What was calculated is too far off to be of this yarn, and left out."
    return f"From what was calculated and what was weighed, the surest counting most: {result}."
