"""The short form of a follower: her foot, her gauge, and the construction where the design leaves a choice."""

from __future__ import annotations

from typing import Any, get_args

from pydantic import ValidationError
from wtforms import Field, SelectField

from ..planning import Fault, PlanRequest, read_request
from ..planning.faults import faults_of
from ..planning.plan.design import Design, leg_for, request_for
from ..planning.request.foot import Foot, OtherFoot
from ..planning.request.plan_request import Arrangement, Gauge
from .body_fields import BodyFields, number_for
from .typed_fields import typed
from .yarn_fields import YarnFields

ARRANGEMENTS: list[Any] = [("", "as designed"), *((name, name) for name in get_args(Arrangement))]


class JoinForm(BodyFields, YarnFields):
    """Foot, gauge and construction, and whatever else the leader leaves to her; empty, that is as designed."""

    construction = typed("Construction")
    arrangement = SelectField("Needles", choices=lambda: ARRANGEMENTS, validate_choice=False)
    needle_mm = number_for("Needle size in mm", "needles.size_mm", "number")
    leg_length = number_for("Leg below the cuff", "leg.length_cm", "length")
    ease_percent = number_for("Smaller than the foot, in percent", "ease.circumference_percent", "number")
    length_ease = number_for("Shorter than the foot", "ease.length_cm", "length")

    def chosen(self, design: Design) -> int:
        """Which of the design's constructions is chosen, by its number from 0; the one proposed unless another is."""
        numbers = range(len(design.constructions))
        return next((number for number in numbers if str(number) == self.construction.data), 0)

    def request(self, design: Design) -> PlanRequest | None:
        """The plan request for this design; None with sentences at the fields when something is wrong."""
        if not self.validate():
            return None
        data: dict[str, dict[str, Any]] = {"foot": {}, "other_foot": {}, "gauge": {}}
        self.put_body(data)
        try:
            foot, gauge = Foot(**data["foot"]), Gauge(**data["gauge"])
            chosen, other_foot = design.constructions[self.chosen(design)], OtherFoot(**data["other_foot"])
            wanted = request_for(design, foot, gauge, chosen, other_foot)
        except ValidationError as error:
            self.take_faults([Fault("gauge", fault.given, fault.message) for fault in faults_of(error)])
            return None
        return self._with_own(wanted, design, data) if design.own else wanted

    def _with_own(self, wanted: PlanRequest, design: Design, data: dict[str, Any]) -> PlanRequest | None:
        """The request with what the follower chose of all that is left to her; `data` has the numbers of the form.

        Where a leg is left to her and she says nothing, a child gets a child's.
        """
        entries = wanted.model_dump(by_alias=True)
        if "leg length" in design.own:
            entries["leg"] |= {"length_cm": leg_for(wanted.foot, wanted.leg.length_cm), **data.get("leg", {})}
        if "ease" in design.own:
            entries["ease"] |= data.get("ease", {})
        if "needles" in design.own:
            entries["needles"] |= data.get("needles", {})
            if self.arrangement.data:
                entries["needles"]["arrangement"] = self.arrangement.data
        if "yarn" in design.own:
            for yarn, row in zip(entries["yarns"], self.yarns, strict=False):
                given = row.form.yarn_data()
                yarn.update((name, value) for name, value in given.items() if name not in ("key", "colour"))
        request, faults = read_request(entries)
        self.take_faults(faults)
        return request

    def places(self) -> dict[str, Field | None]:
        """The fields by the entries of the request that they fill."""
        return {**super().places(), **self.yarn_places(), "needles.arrangement": self.arrangement}
