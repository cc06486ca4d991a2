"""Requests and plans with only what a check is about; the rest is a usual foot at a usual gauge."""

from __future__ import annotations

import json
from typing import Any

from hypothesis import assume
from pydantic import TypeAdapter

from companion.planning.document import Plan, Round, Section
from companion.planning.faults import CannotKnitError
from companion.planning.planner import make_plan
from companion.planning.request import PlanRequest, read_request
from tests.knitter import Knitted, knit

USUAL: dict[str, Any] = {
    "schema": 1,
    "foot": {"ball_circumference_cm": 23, "length_cm": 25},
    "gauge": {"stitches_per_10cm": 32, "rounds_per_10cm": 44},
}

TWO = [{"key": "A"}, {"key": "B"}]
LOZENGE = {"width": 6, "rows": ["AAABAA", "AABBBA", "AAABAA", "AAAAAA"]}
"""A chart for two yarns."""


def request_data(**sections: Any) -> dict[str, Any]:
    """A request as parsed JSON; a section given as an object adds to the usual one, anything else replaces it."""
    data = USUAL | sections
    for key, usual in USUAL.items():
        if isinstance(usual, dict) and isinstance(data[key], dict):
            data[key] = usual | data[key]
    return data


def asked(**sections: Any) -> PlanRequest:
    """A sound request."""
    request, faults = read_request(request_data(**sections))
    assert request is not None, [str(fault) for fault in faults]
    return request


def planned(**sections: Any) -> Plan:
    """The plan for a sound request."""
    return make_plan(asked(**sections))


def plan_or_leave(data: dict[str, Any]) -> Plan:
    """The plan for a sound request that was drawn; one that no sock can be planned for is left aside."""
    request, faults = read_request(data)
    assert request is not None, faults
    try:
        return make_plan(request)
    except CannotKnitError:
        assume(False)
        raise


def knit_plan(plan: Plan) -> Knitted:
    """The sock that comes of knitting the document of a plan."""
    return knit(json.loads(plan.model_dump_json()))


def document_of(item: Round) -> dict[str, Any]:
    """A round as a plan's document has it."""
    found: dict[str, Any] = TypeAdapter(Round).dump_python(item, mode="json")
    return found


def section(plan: Plan, key: str) -> Section:
    """The section of a plan with this key."""
    return next(each for each in plan.sections if each.key == key)


def colourful(chart: dict[str, Any], **more: Any) -> Plan:
    """A plan with a chart of two yarns on its leg."""
    return planned(**{"leg": {"length_cm": 12, "chart": chart}, "yarns": TWO} | more)


def charted(plan: Plan, key: str) -> list[Round]:
    """The rounds of a section that show a row of the chart."""
    return [item for item in section(plan, key).rounds() if item.chart_row]
