"""What the forms share: numbers as they are typed, in the unit that the knitter measures in."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, ClassVar, Literal, TypeAlias, get_args

from flask_wtf import FlaskForm  # type: ignore[import-untyped]
from pydantic.fields import FieldInfo
from wtforms import HiddenField, RadioField, StringField

from ..planning.faults import Fault, shown
from ..planning.units import CM_PER_INCH, EIGHTHS, Unit, from_cm, parse_length, parse_number, show_number, to_cm

if TYPE_CHECKING:
    from wtforms import Form as Base
else:
    Base = FlaskForm

Kind: TypeAlias = Literal["length", "gauge", "number"]

GAUGE_OVER_CM: dict[Unit, float] = {"cm": 10.0, "in": 4 * CM_PER_INCH}
"""The length that stitches and rounds are counted over: 10 cm, or 4 in on an inch tape (common practice)."""


def stripped(text: str | None) -> str:
    """Typed text without the spaces round it."""
    return (text or "").strip()


def typed(label: str = "") -> StringField:
    """A field that takes text as it is typed."""
    return StringField(label, filters=[stripped])


class UnitForm(Base):
    """A form whose lengths are all in one unit.

    `typed_unit` is the unit that the page was made in. A form sent with another `unit` comes from a browser
    without scripts, where the knitter wants the page in that unit. `kinds` names the fields that follow the unit.
    """

    kinds: ClassVar[Mapping[str, Kind]] = {}

    unit = RadioField("Lengths", choices=get_args(Unit), default="cm", validate_choice=False)
    typed_unit = HiddenField()

    def shown_unit(self) -> Unit:
        """The unit chosen, cm when it is none that we know."""
        return "in" if self.unit.data == "in" else "cm"

    def number(self, name: str, kind: Kind, allowed: FieldInfo) -> float | None:
        """What is typed in a field as the planning takes it; None with a sentence at the field when it is refused."""
        unit = self.shown_unit()
        try:
            value = from_typed(self[name].data or "", kind, unit)
        except ValueError as error:
            errors_of(self[name]).append(str(error))
            return None
        if refusal := outside(value, allowed, kind, unit):
            errors_of(self[name]).append(refusal)
            return None
        return value

    def told(self, field: Any) -> str:
        """What is wrong with a field, after what was typed there; what was chosen, or a whole chart, is in sight."""
        given = shown(field.data or "") if type(field) is StringField else ""
        return str(Fault("", given, "; ".join(field.errors)))

    def take_unit(self) -> bool:
        """Turn the numbers to the chosen unit if the page was in another; returns whether it was."""
        before: Unit = "in" if self.typed_unit.data == "in" else "cm"
        after = self.shown_unit()
        if not self.typed_unit.data or before == after:
            return False
        for name, kind in self.kinds.items():
            self[name].data = changed_unit(self[name].data or "", kind, before, after)
        self.typed_unit.data = after
        return True


def from_typed(text: str, kind: Kind, unit: Unit) -> float:
    """A typed number as the planning takes it: cm, or stitches and rounds over 10 cm.

    Raises ValueError with a sentence for the knitter.
    """
    match kind:
        case "length":
            return parse_length(text, unit)
        case "gauge":
            return parse_number(text) * GAUGE_OVER_CM["cm"] / GAUGE_OVER_CM[unit]
        case "number":
            return parse_number(text)


def to_typed(value: float, kind: Kind, unit: Unit) -> str:
    """A number as a knitter would type it: lengths to the mm or 1/8 in, gauges to a tenth of a stitch."""
    match kind:
        case "length":
            return show_number(value, unit)
        case "gauge":
            return f"{value * GAUGE_OVER_CM[unit] / GAUGE_OVER_CM['cm']:.1f}".removesuffix(".0")
        case "number":
            return f"{value:g}"


def _inside(limit: float, kind: Kind, unit: Unit, *, least: bool) -> str:
    """A limit as it would be typed, rounded to the allowed side so that typing it is accepted."""
    step = 0.1 if unit == "cm" or kind == "gauge" else 1 / EIGHTHS
    shown = from_cm(limit, unit) if kind == "length" else limit
    if kind == "gauge":
        shown = limit * GAUGE_OVER_CM[unit] / GAUGE_OVER_CM["cm"]
    # The small number keeps a limit that is a whole step from being pushed to the next one by its last bit.
    steps = math.ceil(shown / step - 1e-9) if least else math.floor(shown / step + 1e-9)
    if kind == "length":
        return show_number(to_cm(steps * step, unit), unit)
    return f"{steps * step:.1f}".removesuffix(".0")


def limits_of(field: FieldInfo) -> tuple[float, float]:
    """The least and the greatest value that a field of the planning allows."""
    least, greatest = -math.inf, math.inf
    for rule in field.metadata:
        least = getattr(rule, "ge", least)
        greatest = getattr(rule, "le", greatest)
    return least, greatest


def outside(value: float, field: FieldInfo, kind: Kind, unit: Unit) -> str | None:
    """What is allowed, in the knitter's unit, when a value lies outside; None when it does not."""
    least, greatest = limits_of(field)
    return None if least <= value <= greatest else allowed(field, kind, unit)


def allowed(field: FieldInfo, kind: Kind, unit: Unit) -> str:
    """What a field of the planning allows, in the knitter's unit."""
    least, greatest = limits_of(field)
    low, high = _inside(least, kind, unit, least=True), _inside(greatest, kind, unit, least=False)
    return f"allowed: {low} to {high}{f' {unit}' if kind == 'length' else ''}"


def changed_unit(text: str, kind: Kind, before: Unit, after: Unit) -> str:
    """A typed number in another unit; as it was typed when it is no number."""
    if kind == "number":
        return text
    try:
        return to_typed(from_typed(text, kind, before), kind, after)
    except ValueError:
        return text


def errors_of(field: Any) -> list[str]:
    """The list of a field's errors, to add to."""
    field.errors = list(field.errors)
    found: list[str] = field.errors
    return found
