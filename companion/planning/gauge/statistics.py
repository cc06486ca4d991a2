"""Combining observations by inverse variance: what each is worth is one over the square of its deviation."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

Observation = tuple[float, float]
"""A value and its deviation."""


def joined(observations: Sequence[Observation]) -> Observation:
    """Observations of one value, combined into a mean and its deviation."""
    weights = [1 / deviation**2 for _, deviation in observations]
    total = sum(weights)
    return sum(weight * value for weight, (value, _) in zip(weights, observations, strict=True)) / total, total**-0.5


class Line(NamedTuple):
    """A weighted least-squares line. `level` is its value at `middle`, where the errors of level and slope part.

    `total` and `across` are one over the variance of the level and of the slope.
    """

    middle: float
    level: float
    slope: float
    total: float
    across: float


def line(points: Sequence[tuple[float, float, float]]) -> Line | None:
    """The line through points (where, value, deviation); None where they do not lie at two places at least."""
    if len({at for at, _, _ in points}) < 2:
        return None
    weighted = [(deviation**-2, at, value) for at, value, deviation in points]
    total = sum(weight for weight, _, _ in weighted)
    middle = sum(weight * at for weight, at, _ in weighted) / total
    level = sum(weight * value for weight, _, value in weighted) / total
    across = sum(weight * (at - middle) ** 2 for weight, at, _ in weighted)
    slope = sum(weight * (at - middle) * (value - level) for weight, at, value in weighted) / across
    return Line(middle, level, slope, total, across)


def wandering(points: Sequence[tuple[float, float, float]], wanders: float) -> tuple[float, float, float]:
    """A value that wanders, as of the last of the points (where, value, deviation), and its deviation.

    Between two points it moves by `wanders` times the root of the way from one to the other: the local level of R. E.
    Kalman, J. Basic Engineering 82 (1960) 35. Where it stays, this is the mean by inverse variance. The third is how
    far the points are from what those before them say, in squared deviations.
    """
    (last, value, deviation), *later = sorted(points)
    variance, misfit = deviation**2, 0.0
    for at, seen, error in later:
        variance += wanders**2 * (at - last)
        gain = variance / (variance + error**2)
        misfit += (seen - value) ** 2 / (variance + error**2)
        value += gain * (seen - value)
        variance *= 1 - gain
        last = at
    return value, variance**0.5, misfit
