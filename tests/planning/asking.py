"""Requests and plans with only what a check is about; the rest is a usual foot at a usual gauge."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from typing import Any, TypeVar

from hypothesis import assume, settings
from pydantic import TypeAdapter

from companion.planning import CannotKnitError, Plan, PlanRequest, make_plan, read_request, recalculate
from companion.planning.gauge.observations import Evidence
from companion.planning.plan.document import Round, Section
from companion.planning.recalculation.recalculate import Recalculation
from companion.planning.recalculation.ways.sock_in_progress import SockInProgress
from tests.conftest import at_first, fully
from tests.knitter import Knitted, knit

USUAL: dict[str, Any] = {
    "schema": 1,
    "foot": {"ball_circumference_cm": 23, "length_cm": 25},
    "gauge": {"stitches_per_10cm": 32, "rounds_per_10cm": 44},
}

TWO = [{"key": "A"}, {"key": "B"}]
LOZENGE = {"width": 6, "rows": ["AAABAA", "AABBBA", "AAABAA", "AAAAAA"]}
"""A chart for two yarns."""

FOLLOWS = {
    "foot_pattern": "instep follows the leg",
    "foot": {"ball_circumference_cm": 23, "leg_circumference_cm": 21.5},
}
"""What lets a chart of the leg go on down the instep."""

MAKES = {"rest": 0, "co": 1, "kds": 1, "m1l": 1, "m1r": 1, "k": 1, "ssk": 1, "k2tog": 1}

ROUND = TypeAdapter(Round)


WHOLE_PLANS = settings() if fully() else settings(max_examples=5 if at_first() else 15)
"""For what is asked of whole plans, which takes long for each: fewer are drawn unless everything is to be tried."""


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
    return made(asked(**sections))


@lru_cache(maxsize=128)
def made(request: PlanRequest) -> Plan:
    """The plan, made once: what follows from it is looked at place by place, and by one check after another."""
    return make_plan(request)


REASONS = ("gauge", "foot.", "leg.chart.width", "leg.stitch_pattern", "leg.until")
"""Entries for which a sound request may be refused: a foot, a repeat or a yarn with which no sock can be knitted."""

T = TypeVar("T")


def _or_leave(work_out: Callable[[], T]) -> T:
    """What is worked out for something drawn; what is refused for one of the reasons is left aside."""
    try:
        return work_out()
    except CannotKnitError as error:
        refused = error.fault.where
    assume(not refused.startswith(REASONS))
    raise AssertionError(refused)


def plan_or_leave(data: dict[str, Any]) -> Plan:
    """The plan for a sound request that was drawn, or it is left aside."""
    request, faults = read_request(data)
    assert request is not None, faults
    return _or_leave(lambda: make_plan(request))


def recalculated_or_leave(plan: Plan, done: int, evidence: Sequence[Evidence]) -> Recalculation:
    """The recalculation for what was drawn; a gauge with which the rest cannot be knitted at all is left aside."""
    return _or_leave(lambda: recalculate(plan, done, evidence))


def knit_plan(plan: Plan) -> Knitted:
    """The sock that comes of knitting the document of a plan."""
    return _knitted(plan.model_dump_json())


@lru_cache(maxsize=24)
def _knitted(document: str) -> Knitted:
    """The sock, knitted once: from one place to the next most ways to go on make the same one."""
    return knit(json.loads(document))


def document_of(item: Round) -> dict[str, Any]:
    """A round as a plan's document has it."""
    found: dict[str, Any] = ROUND.dump_python(item, mode="json")
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


def worked_out_again(plan: Plan, done: int) -> Plan:
    """The plan from so many knitted rounds on, with the gauge that it has."""
    return SockInProgress(plan, done, plan.request).plan_from()


def made_in(item: Round, zone: str) -> str:
    """The yarn of every stitch that a round makes in a zone, in the order of knitting; A where none is named."""

    def written(ops: Any) -> Iterator[str]:
        for each in ops:
            if "times" in each:
                for _ in range(each["times"]):
                    yield from written(each["ops"])
            else:
                yield from each.get("yarn", "A") * each.get("n", 1) * MAKES[each["op"]]

    work = document_of(item)["work"]
    return "".join(cell for part in work if part["zone"] == zone for cell in written(part["ops"]))
