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

from .document import Value
from .observed import COUNTING_ERROR, GIVE_OR_TAKE, listed
from .weighted import Line, Observation, joined, line

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

SET_ASIDE = 2.0
"""Deviations beyond which the model is not of this yarn, and is set aside (ours, as for a gauge)."""

ANOTHER_BALL = 3.0
"""Deviations of a scale beyond which the weight can have changed for no stitch's sake (ours)."""

MOST_TIMES = 2.0
"""No stitch takes more than this many times what the model says (ours); yarn that is gone faster went elsewhere."""


class Weighed(NamedTuple):
    """Grams of a yarn that were left when so many stitches had been knitted with it."""

    grams: float
    stitches: float


class Amount(Value):
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


class Ball(Value):
    """The line that the weight of a ball falls along: grams left at so many stitches, and one deviation of them.

    `newest` is where it was weighed last.
    """

    grams: float
    deviation: float
    stitches: float
    newest: float
    weighed: bool


class Use(Value):
    """Grams that 1,000 stitches take of a yarn, what is left of it, and the sums behind both.

    `weighed`: weighings tell what the stitches take, not only the model. `sums` has a sentence for each source, `why`
    the one that puts them together.
    """

    per_thousand: float
    deviation: float
    weighed: bool
    ball: Ball
    sums: tuple[str, ...]
    why: str

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


def use_of(reckoned: float, at_hand: float, weighed: Sequence[Weighed], model: str = "") -> Use:
    """What a yarn's stitches take, and what is left of it.

    `reckoned` are the grams in 1,000 stitches by the model, and `model` the sum behind them; `at_hand` the grams at
    the start. Weighings come in the order in which they were made; where the weight changes as no stitch changes it,
    another ball has been begun or yarn has gone elsewhere, and a new line begins. A weighing before the first stitch
    takes the place of what was said to be at hand.
    """
    points = [_Point(one.stitches, one.grams, SCALE_ERROR_G, weighed=True) for one in weighed]
    if not points or points[0].stitches:
        points.insert(0, _Point(0.0, at_hand, max(LABEL_ERROR * at_hand, SCALE_ERROR_G), weighed=False))
    balls = _balls(points, reckoned)
    lines = [(ball, found) for ball in balls if (found := line([point[:3] for point in ball]))]
    slopes = [(-1000 * found.slope, 1000 * _misfit(ball, found) * found.across**-0.5) for ball, found in lines]
    by_model = (reckoned, MODEL_ERROR * reckoned)
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


def _balls(points: Sequence[_Point], reckoned: float) -> list[list[_Point]]:
    """The points parted where the weight changed by what no stitches take."""
    balls = [[points[0]]]
    for before, point in pairwise(points):
        most = MOST_TIMES * reckoned * (point.stitches - before.stitches) / 1000
        gone = before.grams - point.grams
        tolerance = ANOTHER_BALL * math.hypot(before.deviation, point.deviation)
        if min(0, most) - tolerance <= gone <= max(0, most) + tolerance:
            balls[-1].append(point)
        else:
            balls.append([point])
    return balls


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
    return abs(one[0] - other[0]) <= SET_ASIDE * math.hypot(one[1], other[1])


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
    return f"{per_thousand:.2f} g per 1,000 stitches, give or take {GIVE_OR_TAKE * deviation:.2f}"


def _weights(ball: Sequence[_Point]) -> str:
    """The weighings of a ball in a sentence: "50 g at the start and 31 g after 4,120 stitches"."""
    return listed(
        [
            f"{point.grams:g} g {'at the start' if not point.stitches else f'after {point.stitches:,.0f} stitches'}"
            for point in ball
        ]
    )


def _step(before: _Point, after: _Point) -> str:
    """Why a weighing is not compared with the one before it."""
    return (
        f"From {_weights([before])} to {_weights([after])}: no stitches explain that. Yarn came or went, so what is "
        "left is reckoned from the later weight on."
    )


def _together(weighed: bool, counts: bool, result: str) -> str:
    if not weighed:
        return f"Only reckoned so far: {result}. Another weighing further on makes it surer."
    if not counts:
        return f"From the weighings: {result}. What was reckoned is too far off to be of this yarn, and left out."
    return f"From what was reckoned and what was weighed, the surest counting most: {result}."
