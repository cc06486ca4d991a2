"""The planning core: pure functions from a request to every round of a sock and the words for it.

Knows no Flask, no files, no clock. Data flows one way, and a room knows only those before it:
stitches -> request -> plan -> fit -> gauge -> fabric -> yarn -> construction -> recalculation | pattern.

The names below are what is promised to stay.
"""

from .construction.plan_reader import read_plan
from .construction.planner import make_plan
from .faults import CannotKnitError, Fault
from .gauge.check import Check, read_check
from .pattern.pattern import pattern_of
from .pattern.rounds_text import written_pattern
from .plan.document import Plan
from .recalculation.recalculate import recalculate
from .request.plan_request import PlanRequest, read_request

__all__ = [
    "CannotKnitError",
    "Check",
    "Fault",
    "Plan",
    "PlanRequest",
    "make_plan",
    "pattern_of",
    "read_check",
    "read_plan",
    "read_request",
    "recalculate",
    "written_pattern",
]
