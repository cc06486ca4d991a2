"""Reading a plan document that comes from outside."""

from __future__ import annotations

from pydantic import ValidationError

from .construction import parts_of
from .document import Plan
from .faults import Fault, faults_of


def read_plan(data: object) -> tuple[Plan | None, list[Fault]]:
    """A plan from parsed JSON, or what is wrong with it."""
    try:
        plan = Plan.model_validate(data)
    except ValidationError as error:
        return None, faults_of(error)
    faults = _faults_of_the_whole(plan)
    return (None if faults else plan), faults


def _faults_of_the_whole(plan: Plan) -> list[Fault]:
    """A sock has the sections of its construction, in their order, each with its rounds, and nothing left over.

    It takes the yarns of its request, and rows that its chart has.
    """
    parts = parts_of(plan.request.construction)
    keys = [section.key for section in plan.sections]
    known = [part.key for part in parts if part.key in keys]
    missing = [part.title for part in parts if not part.optional and part.key not in keys]
    damaged = "the document is damaged, or not of this program; plan the sock again"
    if missing:
        return [Fault("sections", "", f"{', '.join(missing)} missing: {damaged}")]
    if keys != known:
        return [Fault("sections", ", ".join(keys), f"allowed: {', '.join(part.key for part in parts)}; {damaged}")]
    if not all(section.rounds() for section in plan.sections):
        return [Fault("sections", "", f"a section has no rounds: {damaged}")]
    if [need.key for need in plan.yarn] != [yarn.key for yarn in plan.request.yarns]:
        return [Fault("yarn", "", f"the yarns are others than those of the request: {damaged}")]
    chart = plan.request.leg.chart
    drawn = range(1, len(chart.rows) + 1 if chart else 1)
    if not all(item.chart_row is None or item.chart_row in drawn for item in plan.rounds()):
        return [Fault("sections", "", f"a round is by a row that the chart does not have: {damaged}")]
    left = plan.rounds()[-1].after
    return [Fault("sections", "", f"{left} stitches are left after the last round: {damaged}")] if left else []
