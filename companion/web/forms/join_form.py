"""The short form of a follower: her foot, her gauge, and the construction where the design leaves a choice."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError

from ...planning import Fault, PlanRequest
from ...planning.faults import faults_of
from ...planning.plan.design import Design, request_for
from ...planning.request.plan_request import Foot, Gauge
from .body_fields import BodyFields
from .typed_fields import typed


class JoinForm(BodyFields):
    """Foot, gauge and construction."""

    construction = typed("Construction")

    def chosen(self, design: Design) -> int:
        """Which of the design's constructions is chosen, by its number from 0; the one proposed unless another is."""
        numbers = range(len(design.constructions))
        return next((number for number in numbers if str(number) == self.construction.data), 0)

    def request(self, design: Design) -> PlanRequest | None:
        """The plan request for this design; None with sentences at the fields when something is wrong."""
        if not self.validate():
            return None
        data: dict[str, dict[str, Any]] = {"foot": {}, "gauge": {}}
        self.put_body(data)
        try:
            foot, gauge = Foot(**data["foot"]), Gauge(**data["gauge"])
            return request_for(design, foot, gauge, design.constructions[self.chosen(design)])
        except ValidationError as error:
            self.take_faults([Fault("gauge", fault.given, fault.message) for fault in faults_of(error)])
            return None
