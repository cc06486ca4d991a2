"""The second sock of a pair that exchanges its colours."""

from __future__ import annotations

import re
from dataclasses import replace

from ..plan.document import Op, Plan, Repeat, Round, Section, Step, Work
from ..request.entries import YarnKey
from ..request.part_yarns import PartYarns
from ..request.plan_request import PlanRequest
from .chart import EXCHANGE, swapped, swaps

_NAMED = re.compile(r"\b[Yy]arns? [A-D]\b(?:(?:, | and )[A-D]\b)*")


def main_yarn(request: PlanRequest, sock: int) -> YarnKey:
    """The yarn that a sock (1 or 2) is knitted in where no yarn is named."""
    main = request.yarns[0].key
    if sock == 1 or not swaps(request):
        return main
    exchanged: dict[YarnKey, YarnKey] = {"A": "B", "B": "A"}
    return exchanged.get(main, main)


def as_second_sock(plan: Plan) -> Plan:
    """The plan as the second sock is knitted: yarns A and B exchanged where the chart says so, in every part.

    Operations that name no yarn stay as they are; they are in the main colour of this sock.
    """
    if not swaps(plan.request):
        return plan
    known: dict[Round, Round] = {}
    sections = tuple(_section(section, known) for section in plan.sections)
    first, *others = sections[0].steps
    main = main_yarn(plan.request, 2)
    note = f"{first.rounds[0].note or ''} This sock exchanges yarns A and B: its main colour is {main}.".strip()
    begun = replace(first, rounds=(replace(first.rounds[0], note=note), *first.rounds[1:]))
    return plan.model_copy(
        update={
            "request": _request(plan.request),
            "sections": (replace(sections[0], steps=(begun, *others)), *sections[1:]),
        }
    )


def _request(request: PlanRequest) -> PlanRequest:
    assert request.leg.chart is not None
    parts = {part: yarn.translate(EXCHANGE) for part, yarn in request.parts.given().items()}
    leg = request.leg.model_copy(update={"chart": swapped(request.leg.chart)})
    return request.model_copy(update={"leg": leg, "parts": PartYarns.model_validate(parts)})


def _section(section: Section, known: dict[Round, Round]) -> Section:
    return replace(section, steps=tuple(_step(step, known) for step in section.steps))


def _step(step: Step, known: dict[Round, Round]) -> Step:
    """Equal rounds become the same object, as they often are in the plan."""
    for item in step.rounds:
        if item not in known:
            known[item] = replace(item, work=tuple(_work(work) for work in item.work), note=_note(item.note))
    return replace(step, rounds=tuple(known[item] for item in step.rounds))


def _note(note: str | None) -> str | None:
    """A note with the yarns that it names exchanged."""
    return note and _NAMED.sub(lambda found: found[0].translate(EXCHANGE), note)


def _work(work: Work) -> Work:
    return replace(work, ops=tuple(_op(item) for item in work.ops))


def _op(item: Op | Repeat) -> Op | Repeat:
    if isinstance(item, Repeat):
        return replace(item, ops=tuple(_op(each) for each in item.ops))
    return replace(item, yarn=item.yarn.translate(EXCHANGE)) if item.yarn else item
