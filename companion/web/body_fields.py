"""What the forms share that ask for a foot and a gauge, and how numbers become entries of a plan request."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar, NamedTuple

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from ..planning.faults import Fault
from ..planning.request import PlanRequest
from .forms import Kind, errors_of, typed
from .shoe_size import ShoeFields


class Goes(NamedTuple):
    """Where in the plan request a number of the form goes."""

    where: str
    kind: Kind


BODY = {
    "ball_circumference": Goes("foot.ball_circumference_cm", "length"),
    "foot_length": Goes("foot.length_cm", "length"),
    "ankle_circumference": Goes("foot.ankle_circumference_cm", "length"),
    "heel_diagonal": Goes("foot.heel_diagonal_cm", "length"),
    "leg_circumference": Goes("foot.leg_circumference_cm", "length"),
    "stitches": Goes("gauge.stitches_per_10cm", "gauge"),
    "rounds": Goes("gauge.rounds_per_10cm", "gauge"),
}
"""The numbers of a foot and a gauge."""

REQUIRED = ("ball_circumference", "foot_length", "stitches")
MISSING = "needed, but missing"


def places_of(numbers: Mapping[str, Goes]) -> dict[str, str]:
    """The fields by the entries of the request that they fill."""
    # What belongs to stitches and rounds together is told beside the rounds, which are the ones often miscounted.
    return {goes.where: name for name, goes in numbers.items()} | {"gauge": "rounds"}


def kinds_of(numbers: Mapping[str, Goes]) -> dict[str, Kind]:
    """How each field follows the unit."""
    return {name: goes.kind for name, goes in numbers.items()}


class BodyFields(ShoeFields):
    """A foot and a gauge. Numbers stay as they were typed, so that whatever is refused is shown again."""

    numbers: ClassVar[Mapping[str, Goes]] = BODY
    places: ClassVar[Mapping[str, str]] = places_of(BODY)
    kinds = kinds_of(BODY)

    ball_circumference = typed("Ball of the foot")
    foot_length = typed("Foot length")
    ankle_circumference = typed("Round the ankle")
    heel_diagonal = typed("Heel diagonal")
    leg_circumference = typed("Round the leg")
    stitches = typed("Stitches")
    rounds = typed("Rounds")

    def put_body(self, data: dict[str, Any]) -> None:
        """Put the numbers, and what they were guessed from, into a request's data.

        What is missing, no number or not allowed is told at its field.
        """
        if "shoe_size" in self:
            data["foot"] |= self.shoe_data()
        for name, goes in self.numbers.items():
            if name not in self:
                continue
            if self[name].data:
                value = self.number(name, goes.kind, field_at(goes.where))
                if value is not None:
                    put(data, goes.where, value)
            elif name in REQUIRED:
                errors_of(self[name]).append(MISSING)

    def take_faults(self, faults: list[Fault]) -> list[str]:
        """Put each fault of a request beside its field; returns those that belong to none."""
        others = []
        for fault in faults:
            name = self.places.get(fault.where)
            if name is None or name not in self:
                others.append(str(fault))
            elif not self[name].errors:
                errors_of(self[name]).append(fault.message)
        return others


def put(data: dict[str, Any], where: str, value: object) -> None:
    """Set the entry of nested data that a dotted path names."""
    *path, last = where.split(".")
    for key in path:
        data = data.setdefault(key, {})
    data[last] = value


def field_at(where: str) -> FieldInfo:
    """The definition of an entry of the plan request."""
    part, entry = where.split(".")
    model = PlanRequest.model_fields[part].annotation
    assert isinstance(model, type)
    assert issubclass(model, BaseModel)
    return model.model_fields[entry]
