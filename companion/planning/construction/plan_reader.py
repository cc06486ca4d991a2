"""Reading a plan document that comes from outside."""

from __future__ import annotations

from collections.abc import Sequence

from pydantic import ValidationError

from ..faults import Fault, faults_of
from ..plan.document import Plan, Round
from .constructions import parts_of
from .sections.leg import LEG


def read_plan(data: object) -> tuple[Plan | None, list[Fault]]:
    """A plan from parsed JSON, or what is wrong with it."""
    try:
        plan = Plan.model_validate(data)
    except ValidationError as error:
        return None, faults_of(error)
    fault = _fault_of_the_parts(plan) or _fault_of_the_rounds(plan)
    return (None, [fault]) if fault else (plan, [])


MOST_STITCHES = 1_000_000
"""More than any sock has (ours): the widest and longest leg at the finest gauge has fewer than half as many."""

DAMAGED = "the document is damaged, or not of this program; plan the sock again"


def _fault_of_the_parts(plan: Plan) -> Fault | None:
    """A sock has the sections of its construction, in their order, and each has rounds."""
    parts = parts_of(plan.request.construction)
    keys = [section.key for section in plan.sections]
    missing = [part.title for part in parts if not part.optional and part.key not in keys]
    if missing:
        return Fault("sections", "", f"{', '.join(missing)} missing: {DAMAGED}")
    if keys != [part.key for part in parts if part.key in keys]:
        return Fault("sections", ", ".join(keys), f"allowed: {', '.join(part.key for part in parts)}; {DAMAGED}")
    if not all(section.rounds() for section in plan.sections):
        return Fault("sections", "", f"a section has no rounds: {DAMAGED}")
    return None


def _fault_of_the_stitches(rounds: Sequence[Round]) -> Fault | None:
    """Each operation but those at a turn takes or makes a stitch; and what is written out for a page has an end."""
    for item in {id(item): item for item in rounds}.values():
        if sum(item.tally.values()) - item.uses("turn") > item.before + item.after:
            return Fault("sections", "", f"a round works more stitches than it has: {DAMAGED}")
    stitches = sum(item.after for item in rounds)
    if stitches > MOST_STITCHES:
        return Fault("sections", str(stitches), f"at most {MOST_STITCHES} stitches are in a sock: {DAMAGED}")
    return None


def _fault_of_the_rounds(plan: Plan) -> Fault | None:
    """A sock takes the yarns of its request and rows of its chart, has leg and foot, and leaves nothing over."""
    rounds, pattern = plan.rounds(), plan.request.leg.pattern
    drawn = range(1, pattern.height + 1 if pattern else 1)
    if [need.key for need in plan.yarn] != [yarn.key for yarn in plan.request.yarns]:
        return Fault("yarn", "", f"the yarns are others than those of the request: {DAMAGED}")
    if not all(item.chart_row is None or item.chart_row in drawn for item in rounds):
        return Fault("sections", "", f"a round is by a row that the pattern does not have: {DAMAGED}")
    if fault := _fault_of_the_stitches(rounds):
        return fault
    span = plan.span(LEG.key)
    leg = {count for item in rounds[span.start : span.stop] for count in (item.before, item.after)}
    if plan.sizes.leg_stitches not in leg or plan.sizes.foot_stitches not in {item.after for item in rounds}:
        return Fault("sizes", "", f"no round has as many stitches as leg or foot: {DAMAGED}")
    left = rounds[-1].after
    return Fault("sections", "", f"{left} stitches are left after the last round: {DAMAGED}") if left else None
