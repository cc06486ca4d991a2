"""The words for parts in a yarn of their own, which is named once where a part begins and not in every round."""

from __future__ import annotations

from dataclasses import replace

from ..fabric.own_yarn import OwnYarn
from ..plan.document import Op, Repeat, Round, Section, Step
from ..plan.rounds import Ops
from ..request.plan_request import PlanRequest
from ..stitches.operations import OPERATIONS


def said_first(section: Section, own: OwnYarn | None) -> str:
    """The sentence at the head of a section with a yarn of its own; none for any other."""
    if own is None:
        return ""
    drawn = {yarn for item in section.rounds() for yarn, loops in item.drawn.items() if loops}
    return f"With yarn {own.key}." if drawn == {own.key} else f"With yarn {own.key} where no other is named."


def seen_from(section: Section, own: OwnYarn | None, request: PlanRequest) -> Section:
    """A section for the words of a pattern: its own yarn is the one that need not be named, the main one is named.

    A round of a colour chart names its yarns by its row.
    """
    if own is None:
        return section
    main = request.yarns[0].key
    known: dict[int, Round] = {}
    steps = []
    for step in section.steps:
        for item in step.rounds:
            if item.chart_row and request.leg.charted:
                known[id(item)] = item
            known[id(item)] = known.get(id(item)) or renamed(item, own.key, main)
        steps.append(Step(step.times, tuple(known[id(item)] for item in step.rounds)))
    return replace(section, steps=tuple(steps))


def renamed(item: Round, unnamed: str, main: str) -> Round:
    """A round that names the main yarn, and not this one."""
    return replace(item, work=tuple(replace(work, ops=_renamed(work.ops, unnamed, main)) for work in item.work))


def _renamed(ops: Ops, unnamed: str, main: str) -> Ops:
    return tuple(
        replace(item, ops=_renamed(item.ops, unnamed, main))
        if isinstance(item, Repeat)
        else replace(item, yarn=_name(item, unnamed, main))
        for item in ops
    )


def _name(item: Op, unnamed: str, main: str) -> str | None:
    yarn = item.yarn or (main if OPERATIONS[item.op].loops else unnamed)
    return None if yarn == unnamed else yarn


def yarn_of(item: Round, request: PlanRequest) -> str | None:
    """The yarn that a whole round is worked in, where it is named and not by the row of a colour chart."""
    yarns = {yarn for yarn, loops in item.drawn.items() if loops}
    return yarns.pop() if len(yarns) == 1 and not (item.chart_row and request.leg.charted) else None
