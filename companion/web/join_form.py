"""The short form of a follower: her foot, her gauge, and the construction where the design leaves a choice."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError

from ..planning.design import Design, request_for
from ..planning.faults import Fault, faults_of
from ..planning.request import Foot, Gauge, PlanRequest
from ..planning.units import Unit
from .design_form import BODY
from .forms import errors_of, typed
from .plan_form import MISSING, NUMBERS, REQUIRED, field_at
from .shoe_size import ShoeFields

FIELDS = tuple(name for name in BODY if name in NUMBERS)
_FIELD_OF = {NUMBERS[name].where: name for name in FIELDS} | {"gauge": "rounds"}


class JoinForm(ShoeFields):
    """Foot and gauge. Numbers stay as they were typed, so that whatever is refused is shown again."""

    kinds = {name: NUMBERS[name].kind for name in FIELDS}  # noqa: RUF012

    ball_circumference = typed("Ball of the foot")
    foot_length = typed("Foot length")
    ankle_circumference = typed("Round the ankle")
    heel_diagonal = typed("Heel diagonal")
    leg_circumference = typed("Round the leg")
    stitches = typed("Stitches")
    rounds = typed("Rounds")
    construction = typed("Construction")

    def chosen(self, design: Design) -> int:
        """Which of the design's constructions is chosen, by its number from 0; the one proposed unless another is."""
        data = self.construction.data or ""
        numbers = [str(number) for number in range(len(design.constructions))]
        return numbers.index(data) if data in numbers else 0

    def request(self, design: Design) -> PlanRequest | None:
        """The plan request for this design; None with sentences at the fields when something is wrong."""
        data: dict[str, dict[str, Any]] = {"foot": {}, "gauge": {}}
        for name in FIELDS:
            if not self[name].data:
                if name in REQUIRED:
                    errors_of(self[name]).append(MISSING)
                continue
            part, entry = NUMBERS[name].where.split(".")
            value = self.number(name, NUMBERS[name].kind, field_at(NUMBERS[name].where))
            data[part] |= {} if value is None else {entry: value}
        if any(field.errors for field in self):
            return None
        try:
            return request_for(
                design,
                Foot(**data["foot"], **self.shoe_data()),
                Gauge(**data["gauge"]),
                design.constructions[self.chosen(design)],
            )
        except ValidationError as error:
            for fault in faults_of(error):
                self.take_fault(Fault("gauge", fault.given, fault.message))
            return None

    def take_fault(self, fault: Fault) -> list[str]:
        """Put a fault beside its field; returns it as a sentence when it belongs to none."""
        name = _FIELD_OF.get(fault.where)
        if name is None:
            return [str(fault)]
        errors_of(self[name]).append(fault.message)
        return []


def first_join(unit: Unit) -> dict[str, str]:
    """What stands in the form at first: nothing but the unit."""
    return {"unit": unit, "typed_unit": unit}
