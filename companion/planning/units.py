"""What knitters measure, in the unit of the tape they use.

With centimetres go grams, metres of yarn and millimetres of needle; with inches ounces, yards and US sizes.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import lru_cache
from typing import Literal, TypeAlias

Unit: TypeAlias = Literal["cm", "in"]

CM_PER_INCH = 2.54
"""Exact by definition: the international yard and pound agreement of 1959."""

GRAMS_PER_OUNCE = 28.349523125
"""Exact by definition: the avoirdupois ounce, a sixteenth of the pound of 1959."""

METRES_PER_YARD = 0.9144
"""Exact by definition: the international yard and pound agreement of 1959."""

US_NEEDLES = {
    1.5: "000", 2.0: "0", 2.25: "1", 2.5: "1 1/2", 2.75: "2", 3.0: "2 1/2", 3.25: "3",
    3.5: "4", 3.75: "5", 4.0: "6", 4.5: "7", 5.0: "8", 5.5: "9", 8.0: "11",
}  # fmt: skip
"""US numbers of needles by their mm (fineleaffibres.com, needle size conversion; the ends of standard yarn weights)."""

WEIGHTS: dict[Unit, str] = {"cm": "g", "in": "oz"}
YARN_LENGTHS: dict[Unit, str] = {"cm": "m", "in": "yd"}
"""The units of weight and of yarn that go with those of length."""

EIGHTHS = 8
"""A dressmaker's tape is marked in eighths of an inch (common practice)."""

NO_NUMBER = "a number is needed here, like 7.5 or 7 1/2"
"""What is said of text that is not a number."""

_NUMBER = re.compile(
    r"""\s*
    (?P<sign>-)?\s*
    (?: (?P<whole>\d{1,6})\s+(?P<top>\d{1,3})/(?P<bottom>\d{1,3})
      | (?P<only_top>\d{1,3})/(?P<only_bottom>\d{1,3})
      | (?P<decimal>\d{1,6}(?:[.,]\d{0,6})?|[.,]\d{1,6}) )
    \s*\Z""",
    re.VERBOSE,
)

_EITHER = [
    re.compile(pattern.replace(" ", r"\s"))
    for pattern in (
        r"(?P<cm>[\d.]+(?: and [\d.]+)? over 10 cm) \((?P<in>[^()]+ over 4 in)\)",
        r"(?P<cm>[\d.]+ m in 100 g) \((?P<in>[^()]+ oz)\)",
        r"(?P<cm>-?[\d.,]+ (?:cm|g|m)) \((?P<in>[^()]+ (?:in|oz|yd))\)",
        r"(?P<cm>[\d.]+ mm) \((?P<in>US [^()]+)\)",
    )
]
"""What is given in both units, as the functions below write it; a space may be one that does not break."""

_GLYPHS = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}

_SUFFIXES: dict[str, Unit] = {"cm": "cm", "in": "in", '"': "in", "″": "in"}


def parse_number(text: str) -> float:
    """The number in "7.5", "7,5", "7 1/2" or "7½".

    Raises ValueError with a sentence for the knitter when it is not one.
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

    Raises ValueError with a sentence for the knitter when it is not one.
    """
    plain = text.strip()
    for suffix, own in _SUFFIXES.items():
        if plain.lower().endswith(suffix):
            return to_cm(parse_number(plain.lower().removesuffix(suffix)), own)
    return to_cm(parse_number(plain), unit)


def to_cm(value: float, unit: Unit) -> float:
    """A length in the given unit, in cm."""
    return value * CM_PER_INCH if unit == "in" else value


@lru_cache(maxsize=1024)  # a hundred checks name the same few lengths thousands of times
def show_number(cm: float, unit: Unit) -> str:
    """A length in cm as a knitter reads it off a tape: to the millimetre, or to the eighth of an inch.

    A half goes up, as it does in the browser: it is the one place where a length is rounded.
    """
    if unit == "cm":
        tenths = math.floor(Fraction(abs(cm)) * 10 + Fraction(1, 2))
        whole, rest = divmod(tenths, 10)
        sign = "-" if cm < 0 and tenths else ""
        return f"{sign}{whole}.{rest}" if rest else f"{sign}{whole}"
    eighths = math.floor(abs(cm) / CM_PER_INCH * EIGHTHS + 0.5)
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


def counted(number: int, noun: str) -> str:
    """So many of something: "1 repeat", "12 repeats"."""
    plural = "es" if noun.endswith("ch") else "s"
    return f"{number} {noun}{'' if number == 1 else plural}"


def both_amply(cm: float) -> str:
    """A length of yarn that may well be longer, in either unit, whole inches: "65 cm (26 in)"."""
    return f"{show_length(cm, 'cm')} ({math.ceil(cm / CM_PER_INCH)} in)"


def both_units(cm: float) -> str:
    """A length for a sentence that is read in either unit: "18.9 cm (7 1/2 in)"."""
    return f"{show_length(cm, 'cm')} ({show_length(cm, 'in')})"


def in_tenths(value: float) -> str:
    """A number to a tenth, "30.2", and a whole one as a whole one: "44"."""
    return _without_zeros(f"{value:z.1f}")


def _without_zeros(decimal: str) -> str:
    """A number with decimals without those that are zero at its end."""
    return decimal.rstrip("0").removesuffix(".")


def show_weight(grams: float, unit: Unit, decimals: int | None = None) -> str:
    """A weight without its unit: to so many decimals of a gram, or as it was weighed, to a tenth at most.

    An ounce, which is 28 g, has two decimals more. Weights that are alike in grams are alike in ounces.
    """
    if unit == "in":
        ounces = round(grams, 1 if decimals is None else decimals) / GRAMS_PER_OUNCE
        return f"{ounces:z,.{decimals + 2}f}" if decimals else f"{ounces:z,.2f}"
    tenths = 1 if decimals is None else decimals
    return _without_zeros(f"{grams:z,.{tenths}f}") if tenths else f"{grams:z,.0f}"


def show_yarn_length(metres: float, unit: Unit) -> str:
    """A length of yarn to the whole metre or yard, without its unit. Those alike in metres are alike in yards."""
    return f"{round(metres) if unit == 'cm' else round(metres) / METRES_PER_YARD:.0f}"


def both_weights(grams: float, decimals: int | None = None) -> str:
    """A weight for a sentence that is read in either unit, as `show_weight` rounds it: "50 g (1.76 oz)"."""
    return f"{show_weight(grams, 'cm', decimals)} g ({show_weight(grams, 'in', decimals)} oz)"


def both_yarn_lengths(metres: float) -> str:
    """A length of yarn for a sentence that is read in either unit: "420 m (459 yd)"."""
    return f"{show_yarn_length(metres, 'cm')} m ({show_yarn_length(metres, 'in')} yd)"


def both_yardages(metres_per_100g: float) -> str:
    """The length in a weight of yarn, as a ball band has it: "420 m in 100 g (459 yd in 3.53 oz)"."""
    in_yards = f"{metres_per_100g / METRES_PER_YARD:.0f} yd in {100 / GRAMS_PER_OUNCE:.2f} oz"
    return f"{metres_per_100g:g} m in 100 g ({in_yards})"


def both_needle_sizes(mm: float) -> str:
    """A needle for a sentence that is read in either unit: "2.5 mm (US 1 1/2)"; mm alone where no number is usual."""
    number = US_NEEDLES.get(mm)
    return f"{mm:g} mm (US {number})" if number else f"{mm:g} mm"


def in_one_unit(sentence: str, unit: Unit) -> str:
    """A sentence with lengths, weights, needles and gauges in both units, as they are written here, in one of them."""
    if "(" not in sentence:  # the usual case: a page is put together from thousands of strings
        return sentence
    for either in _EITHER:
        sentence = either.sub(rf"\g<{unit}>", sentence)
    return sentence
