"""A range of sizes: feet by their circumference, and gauges, as they are typed for a grid or a graded pattern."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from pydantic import ValidationError

from ..faults import Fault
from ..units import CM_PER_INCH, Unit, parse_length, parse_number, show_length, show_number
from .foot import Foot
from .plan_request import Gauge

LENGTH_TO_BALL = 1.08
"""Foot length over ball circumference of a usual foot, where only the circumference is known.

Of the 6,068 adult feet of ANSUR II (2012 US Army survey, report NATICK/TR-15/007, approved for public release) half
lie below it, and half within 0.04 of it. A child's foot is often a little shorter for its width.
"""

CIRCUMFERENCES: dict[Unit, tuple[str, ...]] = {
    "cm": ("18", "19", "20", "21", "22", "23", "24", "25", "26", "27", "28"),
    "in": ("7", "7 1/2", "8", "8 1/2", "9", "9 1/2", "10", "10 1/2", "11"),
}
"""Round the ball, from a large child's foot to a large man's (ours)."""

GAUGES = ("28", "30", "32", "34", "36")
"""Stitches over 10 cm or 4 in of the usual sock yarns (common practice)."""

STEPS = (-4, -2, 0, 2, 4)
"""Stitches by which the gauges round a known one differ from it (ours)."""

MOST_FEET, MOST_GAUGES = 20, 8
"""Feet and gauges in one grid; more columns would not fit on a sheet of paper (ours)."""

MOST_SIZES = 8
"""Sizes of one pattern; brackets of more are hard to read (ours)."""


class Over(NamedTuple):
    """The width that a gauge is given over."""

    words: str
    cm: float


def over(unit: Unit) -> Over:
    """10 cm, or 4 in where lengths are in inches."""
    return Over("4 in", 4 * CM_PER_INCH) if unit == "in" else Over("10 cm", 10.0)


def foot_for(ball_cm: float, length_cm: float | None = None) -> Foot:
    """A foot with a known circumference of the ball, and perhaps a known length; cm.

    Raises ValidationError when that is no foot to plan for.
    """
    return Foot(ball_circumference_cm=ball_cm, length_cm=length_cm or round(ball_cm * LENGTH_TO_BALL, 1))


_LISTED = re.compile(r"\d+\s+\d+/\d+|(?:[^\s;,]|,(?=\d(?:[\s;,]|\Z)))+")
"""A mixed number, or what stands between spaces, semicolons and commas. A comma before one last digit is a point."""


def typed_list(text: str) -> tuple[str, ...]:
    """The numbers in "20 22 24", "20,22,24", "20; 22,5" or "7 1/2, 8", each as it was typed."""
    return tuple(_LISTED.findall(text))


def _limits(entry: str, unit: Unit) -> str:
    low, high = (
        next(getattr(each, side) for each in Foot.model_fields[entry].metadata if hasattr(each, side))
        for side in ("ge", "le")
    )
    return f"allowed: {show_number(low, unit)} to {show_length(high, unit)}"


def _foot(ball: str, length: str | None, unit: Unit) -> Foot | Fault:
    try:
        ball_cm = parse_length(ball, unit)
    except ValueError as error:
        return Fault("circumferences", ball, str(error))
    try:
        length_cm = parse_length(length, unit) if length is not None else None
    except ValueError as error:
        return Fault("lengths", length or "", str(error))
    try:
        return foot_for(ball_cm, length_cm)
    except ValidationError as error:
        entry = str(error.errors()[0]["loc"][0])
        if entry == "length_cm" and length is not None:
            return Fault("lengths", length, f"the length of a foot is needed here; {_limits(entry, unit)}")
        return Fault(
            "circumferences", ball, f"needed is the way round the ball of a foot; {_limits(entry, unit)}, "
            "and with it a length that a foot can have"
        )  # fmt: skip


def _too_many(where: str, given: Sequence[str], most: int) -> list[Fault]:
    return [Fault(where, str(len(given)), f"at most {most} are allowed")] if len(given) > most else []


def read_feet(
    circumferences: Sequence[str], lengths: Sequence[str], unit: Unit, most: int = MOST_FEET
) -> tuple[tuple[Foot, ...], list[Fault]]:
    """Feet from typed circumferences, with typed lengths for each of them or with the usual ones; or what is wrong.

    The feet are sorted: a pattern names its sizes from the smallest on (common practice).
    """
    faults = _too_many("circumferences", circumferences, most)
    if lengths and len(lengths) != len(circumferences):
        faults.append(
            Fault(
                "lengths", str(len(lengths)), f"one for each of the {len(circumferences)} circumferences is needed, "
                "or none at all"
            )
        )  # fmt: skip
    if faults:
        return (), faults
    each_length: Sequence[str | None] = lengths or [None] * len(circumferences)
    read = [_foot(*pair, unit) for pair in zip(circumferences, each_length, strict=True)]
    feet = [item for item in read if isinstance(item, Foot)]
    feet.sort(key=lambda foot: (foot.ball_circumference_cm, foot.length_cm))
    return tuple(feet), [item for item in read if isinstance(item, Fault)]


def _gauge(text: str, unit: Unit) -> Gauge | Fault:
    factor = 10 / over(unit).cm
    stitches, times, rounds = text.lower().replace("×", "x").partition("x")
    try:
        counts = [parse_number(part) * factor for part in (stitches, *([rounds] if times else []))]
    except ValueError:
        return Fault("gauges", text, "needed are stitches, or stitches and rounds, like 30 or 30x42")
    try:
        return Gauge(stitches_per_10cm=counts[0], rounds_per_10cm=counts[1] if times else None)
    except ValidationError as error:
        given = error.errors()[0]
        if given["type"] == "value_error":
            return Fault("gauges", text, "rounds are 1 to 1.9 times the stitches of plain knitting; count both again")
        least, most = ("16", "100") if "rounds_per_10cm" in given["loc"] else ("14", "60")
        return Fault("gauges", text, f"allowed: {least} to {most} over 10 cm")


def read_gauges(texts: Sequence[str], unit: Unit) -> tuple[tuple[Gauge, ...], list[Fault]]:
    """Gauges over 10 cm or 4 in from "30" or, with rounds, "30x42"; or what is wrong with them."""
    faults = _too_many("gauges", texts, MOST_GAUGES)
    if faults:
        return (), faults
    read = [_gauge(text, unit) for text in texts]
    return tuple(item for item in read if isinstance(item, Gauge)), [item for item in read if isinstance(item, Fault)]


def gauges_round(gauge: Gauge) -> tuple[Gauge, ...]:
    """The given gauge between those of slightly coarser and finer fabrics of its proportions."""
    found = []
    for step in STEPS:
        stitches = gauge.stitches_per_10cm + step
        rounds = gauge.rounds_per_10cm and round(gauge.rounds_per_10cm * stitches / gauge.stitches_per_10cm, 1)
        try:
            found.append(Gauge(stitches_per_10cm=stitches, rounds_per_10cm=rounds, basis=gauge.basis))
        except ValidationError:
            continue  # beyond what is ever knitted as a sock
    return tuple(found)
