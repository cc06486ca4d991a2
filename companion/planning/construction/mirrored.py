"""A sock as it was knitted, for the other foot of the pair: the mirror image of its toe."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ..plan.document import Op, Plan, Repeat, Round, Step
from ..plan.rounds import Ops
from ..request.construction import FOR_THE_OTHER_FOOT
from ..stitches.operations import OpName
from .constructions import built
from .sections.toes.toe_common import one_ended

LEANS_THE_OTHER_WAY: Mapping[OpName, OpName] = {"ssk": "k2tog", "k2tog": "ssk", "m1l": "m1r", "m1r": "m1l"}


def mirrored(plan: Plan) -> Plan:
    """The plan of the other sock, round for round the same except a toe that is shaped to one foot."""
    sections = tuple(
        replace(section, steps=tuple(_step(plan, step) for step in section.steps)) if part.of == "toe" else section
        for section, part in built(plan)
    )
    return plan.model_copy(update={"request": plan.request.for_the_other_foot(), "sections": sections})


def _step(plan: Plan, step: Step) -> Step:
    foot = plan.request.construction.toe
    return replace(step, rounds=tuple(_round(item, foot) for item in step.rounds))


def _round(item: Round, foot: str) -> Round:
    note = item.note and item.note.replace(foot, FOR_THE_OTHER_FOOT.get(foot, foot))
    if not one_ended(item):
        return replace(item, note=note)
    return replace(item, note=note, work=tuple(replace(work, ops=_ops(work.ops)) for work in item.work))


def _ops(ops: Ops) -> Ops:
    return tuple(_op(item) for item in reversed(ops))


def _op(item: Op | Repeat) -> Op | Repeat:
    if isinstance(item, Repeat):
        return replace(item, ops=_ops(item.ops))
    return replace(item, op=LEANS_THE_OTHER_WAY.get(item.op, item.op))
