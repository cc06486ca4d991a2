"""Lengths as knitters write them, in centimetres or inches."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Literal, TypeAlias

Unit: TypeAlias = Literal["cm", "in"]

CM_PER_INCH = 2.54
"""Exact by definition: the international yard and pound agreement of 1959."""

EIGHTHS = 8
"""A dressmaker's tape is marked in eighths of an inch (common practice)."""

NO_NUMBER = "a number is needed here, like 7.5 or 7 1/2"
"""What is said of text that is none."""

_NUMBER = re.compile(
    r"""\s*
    (?P<sign>-)?\s*
    (?: (?P<whole>\d{1,6})\s+(?P<top>\d{1,3})/(?P<bottom>\d{1,3})
      | (?P<only_top>\d{1,3})/(?P<only_bottom>\d{1,3})
      | (?P<decimal>\d{1,6}(?:[.,]\d{0,6})?|[.,]\d{1,6}) )
    \s*\Z""",
    re.VERBOSE,
)

_GLYPHS = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}

_SUFFIXES: dict[str, Unit] = {"cm": "cm", "in": "in", '"': "in", "″": "in"}


def parse_number(text: str) -> float:
    """The number in "7.5", "7,5", "7 1/2" or "7½".

    Raises ValueError with a sentence for the knitter when it is none.
    """
    plain = text
    for glyph, spelled in _GLYPHS.items():
        plain = plain.replace(glyph, spelled)
    found = _NUMBER.match(plain)
    if not found:
        raise ValueError(NO_NUMBER)
    parts = found.groupdict()
    if parts["decimal"]:
        size = float(parts["decimal"].replace(",", "."))
    else:
        bottom = int(parts["bottom"] or parts["only_bottom"])
        if bottom == 0:
            raise ValueError("a fraction cannot have 0 below the line")
        size = float(int(parts["whole"] or 0) + Fraction(int(parts["top"] or parts["only_top"]), bottom))
    return -size if parts["sign"] else size


def parse_length(text: str, unit: Unit) -> float:
    """A typed length in cm; a "cm", "in" or inch mark behind the number goes before `unit`.

    Raises ValueError with a sentence for the knitter when it is none.
    """
    plain = text.strip()
    for suffix, own in _SUFFIXES.items():
        if plain.lower().endswith(suffix):
            return to_cm(parse_number(plain.lower().removesuffix(suffix)), own)
    return to_cm(parse_number(plain), unit)


def to_cm(value: float, unit: Unit) -> float:
    """A length in the given unit, in cm."""
    return value * CM_PER_INCH if unit == "in" else value


def from_cm(cm: float, unit: Unit) -> float:
    """A length in cm, in the given unit."""
    return cm / CM_PER_INCH if unit == "in" else cm


def show_number(cm: float, unit: Unit) -> str:
    """A length in cm as a knitter reads it off a tape: to the millimetre, or to the eighth of an inch."""
    if unit == "cm":
        return f"{cm:z.1f}".removesuffix(".0")
    eighths = round(abs(cm) / CM_PER_INCH * EIGHTHS)
    whole, rest = divmod(eighths, EIGHTHS)
    sign = "-" if cm < 0 and eighths else ""
    if not rest:
        return f"{sign}{whole}"
    part = Fraction(rest, EIGHTHS)
    fraction = f"{part.numerator}/{part.denominator}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def show_length(cm: float, unit: Unit) -> str:
    """A length in cm with its unit, rounded as `show_number` does."""
    return f"{show_number(cm, unit)} {unit}"


def both_units(cm: float) -> str:
    """A length for a sentence that is read in either unit: "18.9 cm (7 1/2 in)"."""
    return f"{show_length(cm, 'cm')} ({show_length(cm, 'in')})"
