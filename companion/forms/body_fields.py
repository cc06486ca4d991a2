"""What the forms share that ask for a foot and a gauge, and how numbers become entries of a plan request."""

from __future__ import annotations

from typing import Any, cast

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from wtforms import Field

from ..planning import Fault, PlanRequest
from .base import UnitForm, refusal, refuse
from .shoe_size import ShoeFields
from .typed_fields import Kind, NumberField

MISSING = "needed, but missing"


def field_at(where: str) -> FieldInfo:
    """The definition of an entry of the plan request."""
    part, entry = where.split(".")
    return cast(type[BaseModel], PlanRequest.model_fields[part].annotation).model_fields[entry]


def number_for(label: str, where: str, kind: Kind, needed: str = "") -> NumberField:
    """A field for a number of the plan request."""
    return NumberField(label, field_at(where), kind, needed=needed, where=where)


def wheres(form: type[UnitForm]) -> dict[str, str]:
    """The entries of the plan request that the numbers of a kind of form go to, by the names of their fields."""
    fields = ((name, getattr(form, name)) for name in dir(form))
    return {name: field.kwargs["where"] for name, field in fields if getattr(field, "field_class", None) is NumberField}


class BodyFields(ShoeFields):
    """A foot, what differs on the other one, and a gauge.

    Numbers stay as they were typed, so that whatever is refused is shown again.
    """

    ball_circumference = number_for("Ball of the foot", "foot.ball_circumference_cm", "length", MISSING)
    foot_length = number_for("Foot length", "foot.length_cm", "length", MISSING)
    ankle_circumference = number_for("Round the ankle", "foot.ankle_circumference_cm", "length")
    heel_diagonal = number_for("Heel diagonal", "foot.heel_diagonal_cm", "length")
    leg_circumference = number_for("Round the leg", "foot.leg_circumference_cm", "length")
    other_ball = number_for("Ball of the other foot", "other_foot.ball_circumference_cm", "length")
    other_length = number_for("Length of the other foot", "other_foot.length_cm", "length")
    other_heel = number_for("Heel diagonal of the other foot", "other_foot.heel_diagonal_cm", "length")
    other_ankle = number_for("Round the other ankle", "other_foot.ankle_circumference_cm", "length")
    other_leg = number_for("Round the other leg", "other_foot.leg_circumference_cm", "length")
    stitches = number_for("Stitches", "gauge.stitches_per_10cm", "gauge", MISSING)
    rounds = number_for("Rounds", "gauge.rounds_per_10cm", "gauge")

    def put_body(self, data: dict[str, Any]) -> None:
        """Put the numbers that were read, and what they were guessed from, into a request's data."""
        if "shoe_size" in self:
            data["foot"] |= self.shoe_data()
        for field in self.numbers():
            if field.where and field.value is not None:
                put(data, field.where, field.value)

    def places(self) -> dict[str, Field | None]:
        """The fields by the entries of the request that they fill."""
        found: dict[str, Field | None] = {field.where: field for field in self.numbers() if field.where}
        # What belongs to stitches and rounds together is said beside the rounds, which are the ones often miscounted.
        return found | {"gauge": self.rounds}

    def take_faults(self, faults: list[Fault]) -> list[str]:
        """Put each fault of a request beside its field; returns those that belong to none."""
        fields = [(fault, self.places().get(fault.where)) for fault in faults]
        for fault, field in fields:
            if field and not field.errors:
                refuse(field, fault.message)
        return [refusal(fault.given, fault.message) for fault, field in fields if not field]


def put(data: dict[str, Any], where: str, value: object) -> None:
    """Set the entry of nested data that a dotted path names."""
    *path, last = where.split(".")
    for key in path:
        data = data.setdefault(key, {})
    data[last] = value
