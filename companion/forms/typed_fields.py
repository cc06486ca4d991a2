"""Fields for what is typed: text, and numbers in the unit that the knitter measures in."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, Literal, TypeAlias

from pydantic.fields import FieldInfo
from wtforms import Field, StringField
from wtforms.validators import ValidationError

from ..planning.units import (
    CM_PER_INCH,
    EIGHTHS,
    GRAMS_PER_OUNCE,
    METRES_PER_YARD,
    WEIGHTS,
    YARN_LENGTHS,
    Unit,
    in_tenths,
    parse_length,
    parse_number,
    show_number,
)
from .widgets import TextInput

Kind: TypeAlias = Literal["length", "gauge", "yardage", "colour repeat", "weight", "number"]
"""What a number is of; yardage is the length of a yarn in 100 g."""

GAUGE_OVER_CM: dict[Unit, float] = {"cm": 10.0, "in": 4 * CM_PER_INCH}
"""The length that stitches and rounds are counted over: 10 cm, or 4 in on an inch tape (common practice)."""

ONE_IN: dict[Kind, float] = {
    "gauge": GAUGE_OVER_CM["cm"] / GAUGE_OVER_CM["in"],
    "yardage": METRES_PER_YARD,
    "colour repeat": METRES_PER_YARD,
    "weight": GRAMS_PER_OUNCE,
}
"""What one of the typed units is to the planning, in a form in inches; in one in centimetres they are the same."""

NAMES: dict[Kind, dict[Unit, str]] = {
    "length": {"cm": "cm", "in": "in"},
    "yardage": YARN_LENGTHS,
    "colour repeat": YARN_LENGTHS,
    "weight": WEIGHTS,
}
"""What the units are called, where a number is not only a count."""


def stripped(text: str | None) -> str:
    """Typed text without the spaces round it."""
    return (text or "").strip()


def typed(label: str = "", *validators: Callable[[Any, Field], None]) -> StringField:
    """A field that takes text as it is typed."""
    return StringField(label, list(validators), filters=[stripped], widget=TextInput())


class NumberField(StringField):
    """A number as it is typed, in the unit of its form.

    `data` stays the text, so that whatever is refused is shown again; given a number of the planning, it becomes what a
    knitter would type. `value` is the number as the planning takes it, None until it was read and where it is refused.
    `rule` is the planning's entry with its limits, `where` the dotted name of that entry in a plan request, and
    `needed` what is said where nothing is typed; without it the number may be left out.
    """

    _form: Any
    widget = TextInput()

    def __init__(
        self, label: str, rule: FieldInfo, kind: Kind = "number", *, needed: str = "", where: str = "", **others: Any
    ) -> None:
        super().__init__(label, filters=[stripped], **others)
        self.rule, self.kind, self.needed, self.where = rule, kind, needed, where
        self.value: float | None = None

    def process_data(self, value: Any) -> None:
        """Takes text as it is."""
        number = isinstance(value, int | float)
        self.data = to_typed(value, self.kind, self._form.shown_unit()) if number else value

    def pre_validate(self, form: Any) -> None:
        """Read the number. Raises ValidationError with a sentence for the knitter when it is refused."""
        self.value = None
        if not self.data and not self.needed:
            return
        if not self.data:
            raise ValidationError(self.needed)
        unit = form.shown_unit()
        try:
            value = from_typed(self.data, self.kind, unit)
        except ValueError as error:
            raise ValidationError(str(error)) from error
        if refusal := outside(value, self.rule, self.kind, unit):
            raise ValidationError(refusal)
        self.value = value


def from_typed(text: str, kind: Kind, unit: Unit) -> float:
    """A typed number as the planning takes it: in cm, over 10 cm, in metres, in grams.

    Raises ValueError with a sentence for the knitter.
    """
    return parse_length(text, unit) if kind == "length" else parse_number(text) * _one(kind, unit)


def _one(kind: Kind, unit: Unit) -> float:
    return ONE_IN.get(kind, 1.0) if unit == "in" else 1.0


def to_typed(value: float, kind: Kind, unit: Unit) -> str:
    """A number as a knitter would type it: to the mm or 1/8 in, 0.1 of a stitch, a yard, 0.1 of a repeat's, 0.01 oz."""
    typed_value = value / _one(kind, unit)
    match kind:
        case "length":
            return show_number(value, unit)
        case "gauge" | "colour repeat":
            return in_tenths(typed_value)
        case "yardage" if unit == "in":
            return f"{typed_value:.0f}"
        case "weight" if unit == "in":
            return f"{typed_value:.2f}"
        case _:
            return f"{value:g}"


def _inside(limit: float, kind: Kind, unit: Unit, *, least: bool) -> str:
    """A limit as it would be typed, rounded to the allowed side so that typing it is accepted."""
    step = from_typed("1", kind, unit) / (EIGHTHS if kind == "length" and unit == "in" else 10)
    # The small number keeps a limit that is a whole step from being pushed to the next one by its last bit.
    steps = math.ceil(limit / step - 1e-9) if least else math.floor(limit / step + 1e-9)
    return to_typed(steps * step, kind, unit)


def limits_of(field: FieldInfo) -> tuple[float, float]:
    """The least and the greatest value that a field of the planning allows."""
    rules = field.metadata
    return max(getattr(one, "ge", -math.inf) for one in rules), min(getattr(one, "le", math.inf) for one in rules)


def outside(value: float, field: FieldInfo, kind: Kind, unit: Unit) -> str | None:
    """What is allowed, in the knitter's unit, when a value lies outside; None when it does not."""
    least, greatest = limits_of(field)
    return None if least <= value <= greatest else allowed(field, kind, unit)


def allowed(field: FieldInfo, kind: Kind, unit: Unit) -> str:
    """What a field of the planning allows, in the knitter's unit."""
    least, greatest = limits_of(field)
    low, high = _inside(least, kind, unit, least=True), _inside(greatest, kind, unit, least=False)
    return f"allowed: {low} to {high}{f' {NAMES[kind][unit]}' if kind in NAMES else ''}"


def changed_unit(text: str, kind: Kind, before: Unit, after: Unit) -> str:
    """A typed number in another unit; as it was typed when it is no number."""
    if kind == "number":
        return text
    try:
        return to_typed(from_typed(text, kind, before), kind, after)
    except ValueError:
        return text
