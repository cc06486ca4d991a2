"""What a shoe size says of a foot that cannot be measured: a guess, with the range that it may be wrong by.

Size to length: EU = 1.5 x cm + 2, UK = 3 x in - 23, US men = 3 x in - 22, US women = 3 x in - 21, as published
converters have it; Mondopoint is the length in mm. Printed tables disagree by as much as the length is said here to be
uncertain by. Length to circumference: least squares on 6,068 measured adult feet (ANSUR II, 2012 US Army survey,
report NATICK/TR-15/007, approved for public release), for US sizes on the men or women among them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, NamedTuple

from ..faults import CannotKnitError, Fault
from ..request.foot import Foot, Guessed, ShoeSystem
from ..units import CM_PER_INCH, Unit, show_length, show_number
from .feet import SHORTEST_FITTED_CM

LENGTH_IS_OFF_CM = 0.5
"""A shoe size tells the length no better than this: EU 38 is printed as 23.5, 24.0 and 24.4 cm."""

NINE_IN_TEN = 1.645
"""Deviations either side that hold nine in ten of a normal distribution."""

LONGEST_FITTED_CM = 32.3
"""The longest foot in the survey; SHORTEST_FITTED_CM is the shortest."""


class Line(NamedTuple):
    """Ball circumference = `constant + by_length x foot length`, all cm; `residual` is one deviation."""

    constant: float
    by_length: float
    residual: float


ALL_FEET = Line(4.58, 0.754, 1.06)
MENS_FEET = Line(9.22, 0.590, 1.04)
WOMENS_FEET = Line(8.69, 0.573, 0.94)


class Scale(NamedTuple):
    """Length in cm = (size + `added`) x `step_cm`, for sizes from `least` to `most`."""

    added: float
    step_cm: float
    least: float
    most: float
    ball: Line


THIRD_INCH = CM_PER_INCH / 3

SCALES: Mapping[ShoeSystem, Scale] = {
    "EU": Scale(-2, 2 / 3, 17, 53, ALL_FEET),
    "UK": Scale(23, THIRD_INCH, 0, 17, ALL_FEET),
    "US men": Scale(22, THIRD_INCH, 1, 18, MENS_FEET),
    "US women": Scale(21, THIRD_INCH, 2, 19, WOMENS_FEET),
    "Mondopoint": Scale(0, 0.1, 100, 340, ALL_FEET),
}
"""UK and US sizes start again below a child's 13, so only the adult ones are read."""


class Span(NamedTuple):
    """A guessed length in cm, and how short and how long it may be."""

    low: float
    middle: float
    high: float

    def words(self, unit: Unit) -> str:
        """The span as read off a tape: "23.5 to 24.5 cm"."""
        return f"{show_number(self.low, unit)} to {show_length(self.high, unit)}"


class UsualFoot(NamedTuple):
    """The foot that usually wears a shoe size. `outside` says how it lies beyond the measured feet."""

    length: Span
    ball: Span
    outside: Literal["small", "large", ""]


def foot_length(system: ShoeSystem, size: float) -> float:
    """The foot length in cm that a shoe size is made for."""
    scale = SCALES[system]
    return (size + scale.added) * scale.step_cm


def usual_foot(system: ShoeSystem, size: float) -> UsualFoot:
    """The foot that usually wears a shoe size: nine in ten feet of its length have a ball inside the span.

    Raises ValueError with a sentence for the knitter when the system has no such size.
    """
    scale = SCALES[system]
    if not scale.least <= size <= scale.most:
        child = " Give a child's size as EU or Mondopoint." if size < scale.least and scale.added > 0 else ""
        raise ValueError(f"allowed: {system} {scale.least:g} to {scale.most:g}.{child}")
    length = foot_length(system, size)
    ball = scale.ball.constant + scale.ball.by_length * length
    off = NINE_IN_TEN * scale.ball.residual
    return UsualFoot(
        Span(length - LENGTH_IS_OFF_CM, length, length + LENGTH_IS_OFF_CM),
        Span(ball - off, ball, ball + off),
        "small" if length < SHORTEST_FITTED_CM else "large" if length > LONGEST_FITTED_CM else "",
    )


def guess_words(system: ShoeSystem, size: float, unit: Unit) -> str:
    """What is guessed from a shoe size, and that it is a guess."""
    foot = usual_foot(system, size)
    beyond = (
        f" Feet this {foot.outside} were not among the measured ones, so it is even less sure." if foot.outside else ""
    )
    long, ball = show_length(foot.length.middle, unit), show_length(foot.ball.middle, unit)
    return (
        f"{system} {size:g} is a foot about {long} long and {ball} round the ball, where nine in ten have "
        f"{foot.ball.words(unit)}. This is a guess: shoes of one size differ, and so do feet.{beyond} "
        "Measure as soon as you can."
    )


def guessed(foot: Foot) -> dict[Guessed, Span]:
    """Those entries of a foot that are guessed from its shoe size, each with the span that it may lie in.

    Raises CannotKnitError when there is no such shoe size.
    """
    shoe = foot.shoe_size
    if shoe is None:
        return {}
    try:
        usual = usual_foot(shoe.system, shoe.size)
    except ValueError as error:
        raise CannotKnitError(Fault("foot.shoe_size.size", f"{shoe.size:g}", str(error))) from error
    spans: dict[Guessed, Span] = {"length_cm": usual.length, "ball_circumference_cm": usual.ball}
    return {entry: spans[entry] for entry in shoe.guessed}
