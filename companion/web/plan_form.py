"""The plan form, and how it becomes a plan request and back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, get_args

from wtforms import BooleanField, HiddenField, RadioField, SelectField

from ..planning.design import USUAL_FOOT, USUAL_GAUGE
from ..planning.faults import Fault
from ..planning.request import (
    STRANDED_EASE,
    USUAL_EASE,
    Arrangement,
    Basis,
    Construction,
    Leg,
    PlanRequest,
)
from ..planning.units import Unit
from .body_fields import BODY, MISSING, REQUIRED, BodyFields, Goes, kinds_of, places_of, put
from .colour_fields import ColourFields, colour_values
from .forms import to_typed, typed
from .shoe_size import shoe_values
from .yarn_fields import FIELD_OF, yarn_values

NUMBERS = {
    **BODY,
    "ease_percent": Goes("ease.circumference_percent", "number"),
    "length_ease": Goes("ease.length_cm", "length"),
    "cuff_length": Goes("cuff.length_cm", "length"),
    "leg_length": Goes("leg.length_cm", "length"),
    "needle_mm": Goes("needles.size_mm", "number"),
}
WORDS = {
    "title": "title",
    "basis": "gauge.basis",
    "direction": "construction.direction",
    "heel": "construction.heel",
    "toe": "construction.toe",
    "turn": "construction.turn",
    "flap": "construction.flap",
    "garter_edge": "construction.garter_edge",
    "rib": "cuff.rib",
    "leg_until": "leg.until",
    "foot_pattern": "foot_pattern",
    "arrangement": "needles.arrangement",
    "two_at_a_time": "needles.two_at_a_time",
}


def _ways(part: str, label: str) -> RadioField:
    """A field for one entry of the construction."""
    return RadioField(label, choices=get_args(Construction.model_fields[part].annotation), validate_choice=False)


class PlanForm(BodyFields, ColourFields):
    """The plan form."""

    numbers = NUMBERS
    places = places_of(NUMBERS) | {where: name for name, where in WORDS.items()} | FIELD_OF
    kinds = kinds_of(NUMBERS)

    title = typed("Name of the pair")
    basis = SelectField("Counted on", choices=get_args(Basis), validate_choice=False)
    ease_percent = typed("Smaller than the foot, in percent")
    length_ease = typed("Shorter than the foot")
    direction = _ways("direction", "Direction")
    heel = _ways("heel", "Heel")
    toe = _ways("toe", "Toe")
    turn = _ways("turn", "Heel turn")
    flap = _ways("flap", "Fabric of the flap")
    garter_edge = BooleanField("Garter edge")
    rib = typed("Ribbing")
    cuff_length = typed("Cuff")
    leg_length = typed("Leg below the cuff")
    leg_until = RadioField(
        "The leg goes on", choices=get_args(Leg.model_fields["until"].annotation), validate_choice=False
    )
    foot_pattern = SelectField(
        "Top of the foot",
        choices=get_args(PlanRequest.model_fields["foot_pattern"].annotation),
        validate_choice=False,
    )
    arrangement = SelectField("Needles", choices=get_args(Arrangement), validate_choice=False)
    two_at_a_time = BooleanField("Two at a time")
    needle_mm = typed("Needle size in mm")
    choice = HiddenField("Stitches round the leg")

    def request_data(self) -> dict[str, Any]:
        """The plan request that the form asks for. What is not a number or not allowed is told at its field."""
        data: dict[str, Any] = {"foot": {}, "gauge": {}}
        for name, where in WORDS.items():
            if name in self and self[name].data and not self._hidden(name):
                put(data, where, self[name].data)
        self.put_body(data)
        self.put_colour(data)
        return data

    def _hidden(self, name: str) -> bool:
        """Whether a question does not arise: only from the toe up can the leg go on until the yarn is used."""
        return name == "leg_until" and self.direction.data != "toe-up"

    def take_faults(self, faults: list[Fault]) -> list[str]:
        """Put each fault of a request beside its field; returns those that belong to none."""
        return super().take_faults([fault for fault in faults if not self.take_chart_fault(fault)])

    def only_incomplete(self) -> bool:
        """Whether nothing is wrong but that needed numbers are missing."""
        return all(error == MISSING for field in self for error in field.errors)


def _typed_values(data: Mapping[str, Any], unit: Unit) -> Iterator[tuple[str, str]]:
    for name, where in WORDS.items():
        yield name, _at(data, where) or ""
    for name, goes in NUMBERS.items():
        value = _at(data, goes.where)
        yield name, "" if value is None else to_typed(value, goes.kind, unit)


def _at(data: Any, where: str) -> Any:
    for key in where.split("."):
        data = data[key]
    return data


def form_values(request: PlanRequest, unit: Unit) -> dict[str, Any]:
    """What stands in the form for a request. The usual ease is left to the planning, which knows what is usual."""
    values = dict(_typed_values(request.model_dump(), unit))
    if request.ease.circumference_percent == (STRANDED_EASE if request.stranded else USUAL_EASE):
        values["ease_percent"] = ""
    return {
        "unit": unit,
        "typed_unit": unit,
        **values,
        **shoe_values(request.foot.shoe_size),
        **yarn_values(request.yarns),
        **colour_values(request),
    }


def first_values(unit: Unit) -> dict[str, Any]:
    """What stands in the form at first: the planning's own values, the foot and the gauge left empty."""
    values = form_values(PlanRequest(foot=USUAL_FOOT, gauge=USUAL_GAUGE), unit)
    return values | dict.fromkeys((*REQUIRED, "title"), "")
