"""The short form of a follower: her foot, her gauge, and the construction where the design leaves a choice."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError

from ..planning.design import Design, request_for
from ..planning.faults import Fault, faults_of
from ..planning.request import Foot, Gauge, PlanRequest
from .body_fields import BodyFields
from .forms import typed


class JoinForm(BodyFields):
    """Foot, gauge and construction."""

    construction = typed("Construction")

    def chosen(self, design: Design) -> int:
        """Which of the design's constructions is chosen, by its number from 0; the one proposed unless another is."""
        data = self.construction.data or ""
        numbers = [str(number) for number in range(len(design.constructions))]
        return numbers.index(data) if data in numbers else 0

    def request(self, design: Design) -> PlanRequest | None:
        """The plan request for this design; None with sentences at the fields when something is wrong."""
        data: dict[str, dict[str, Any]] = {"foot": {}, "gauge": {}}
        self.put_body(data)
        if any(field.errors for field in self):
            return None
        try:
            foot, gauge = Foot(**data["foot"]), Gauge(**data["gauge"])
            return request_for(design, foot, gauge, design.constructions[self.chosen(design)])
        except ValidationError as error:
            self.take_faults([Fault("gauge", fault.given, fault.message) for fault in faults_of(error)])
            return None
