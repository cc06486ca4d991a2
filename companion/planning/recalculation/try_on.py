"""What a try-on changes of the rounds still ahead: how it felt at one part of the sock, and the ways to go on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypeAlias

from pydantic import ValidationError

from ..construction.constructions import depth_of, parts_of
from ..construction.planner import Given, plan_from
from ..construction.sections.foot import FOOT
from ..construction.sections.leg import LEG
from ..fit.stitch_counts import FEWEST_STITCHES, leg_repeat
from ..fit.targets import fit_of
from ..frozen_model import FrozenModel
from ..gauge.estimate import Gauges
from ..gauge.parts import Fabrics
from ..plan.document import Plan, Work
from ..request.plan_request import PlanRequest
from ..units import both_units
from .candidate_text import how_it_changes
from .options import Option, Pricing
from .ways.sock_in_progress import knitted_part
from .ways.way import Way, WayKey

Where: TypeAlias = Literal["cuff", "leg", "instep", "heel", "foot", "toe"]
Feels: TypeAlias = Literal["tight", "right", "loose"]

STEPS: dict[WayKey, int] = {"rest": 2, "here": 4}
"""Stitches by which a foot is made wider or narrower: one pair of shaping, or two. About 3 and 6 % of 64 (ours)."""

HEEL_STEP_CM = 1.0
"""By how much a heel is made deeper or shallower: about two pairs of rows of its flap (ours)."""

TOE_STEP_CM = 0.5
"""By how much a foot is made longer or shorter: half the usual ease of its length (ours)."""

WIDEST_LEG_STEP = 0.12
"""A chart's repeat that is a larger part of the leg than this is too much for one step (ours)."""


class Felt(FrozenModel):
    """How the sock felt on the foot, at one part of it."""

    where: Where
    feels: Feels


class TriedOn(FrozenModel):
    """What a try-on means: what there is to say, and the ways to go on where something ahead can still change."""

    felt: Felt
    said: str
    options: tuple[Option, ...]


def after_try_on(plan: Plan, done: int, felt: Felt, gauges: Gauges, seconds_per_stitch: float | None = None) -> TriedOn:
    """The ways to go on from `done` knitted rounds; none where it is right, or too late. Nothing knitted changes."""
    if felt.feels == "right":
        return TriedOn(felt=felt, said=f"Right at the {felt.where}: nothing has to change.", options=())
    ways: list[Way] = []
    for way in _ways(plan, done, felt):
        if all(_worked(way.plan) != _worked(other) for other in (plan, *(each.plan for each in ways))):
            ways.append(way)
    if not ways:
        return TriedOn(felt=felt, said=_no_way(plan, done, felt), options=())
    pricing = Pricing(plan, done, Fabrics(ahead=gauges, leg=gauges, foot=gauges), plan.sizes, seconds_per_stitch)
    options = [pricing.option(way, recommended=not number) for number, way in enumerate(ways)]
    leave = Way("leave", "Leave it as it is", "Every count stays as planned.", plan, done)
    said = "What is knitted stays as it is; this changes only what is still ahead."
    return TriedOn(felt=felt, said=said, options=(*options, pricing.option(leave, recommended=False)))


def _worked(plan: Plan) -> list[tuple[Work, ...]]:
    """What is knitted, without the notes: these describe the foot's measurements."""
    return [item.work for item in plan.rounds()]


def _ways(plan: Plan, done: int, felt: Felt) -> Iterator[Way]:
    more = felt.feels == "tight"
    match felt.where:
        case "foot":
            yield from _foot(plan, done, more=more)
        case "leg":
            yield from _leg(plan, done, more=more)
        case "heel" | "instep":
            yield from _heel(plan, done, more=more)
            deep = depth_of(plan.request.construction)
            if felt.where == "instep" and deep and done > plan.span(deep.key).stop:
                yield from _foot(plan, done, more=more)
        case "toe":
            yield from _toe(plan, done, more=more)


def _foot(plan: Plan, done: int, *, more: bool) -> Iterator[Way]:
    was = plan.sizes.foot_stitches
    for key, step in STEPS.items():
        count = was + step if more else was - step
        if count < FEWEST_STITCHES:
            continue
        changed = _carried_on(plan, done, foot=count)
        around, gets = both_units(changed.sizes.foot_circumference_cm), changed.sizes.foot_stitches
        yield Way(
            key,
            f"{abs(gets - was)} stitches {'more' if more else 'fewer'} in the foot",
            f"{_where_the_foot_changes(changed, done, was, count)} The foot gets {gets} stitches instead of {was} and "
            f"becomes {around} round.",
            changed,
            done,
        )


def _where_the_foot_changes(plan: Plan, done: int, was: int, wanted: int) -> str:
    """How the count is reached: by the gusset's end where that narrows the foot and is still ahead."""
    narrowing = (plan.span(part.key) for part in parts_of(plan.request.construction) if part.narrows)
    if any(gusset and done < gusset.stop for gusset in narrowing):
        return f"The gusset ends {'earlier' if wanted > was else 'later'}."
    if done > plan.span(FOOT.key).start:
        return how_it_changes(plan, done, "foot", was, wanted)
    return "The foot begins with the new count."


def _leg(plan: Plan, done: int, *, more: bool) -> Iterator[Way]:
    if done >= plan.span(LEG.key).stop:
        return
    was, repeat = plan.sizes.leg_stitches, leg_repeat(plan.request)
    step = repeat if repeat <= WIDEST_LEG_STEP * was else STEPS["rest"]
    count = was + step if more else was - step
    if count < FEWEST_STITCHES:
        return
    changed = _carried_on(plan, done, leg=count)
    yield Way(
        "rest",
        f"{abs(changed.sizes.leg_stitches - was)} stitches {'more' if more else 'fewer'} in the leg",
        f"{how_it_changes(changed, done, 'leg', was, count)} It becomes {both_units(changed.sizes.leg_cm)} round.",
        changed,
        done,
    )


def _heel(plan: Plan, done: int, *, more: bool) -> Iterator[Way]:
    title = f"A {'deeper' if more else 'shallower'} heel"
    diagonal = fit_of(plan.request).body.heel_diagonal + (HEEL_STEP_CM if more else -HEEL_STEP_CM)
    other = _with(plan.request.foot, heel_diagonal_cm=round(diagonal, 1))
    if other:
        changed = _carried_on(plan, done, plan.request.model_copy(update={"foot": other}))
        becomes, was = both_units(changed.sizes.heel_pass_cm), both_units(plan.sizes.heel_pass_cm)
        yield Way("rest", title, f"The way round the heel becomes {becomes} instead of {was}.", changed, done)


def _toe(plan: Plan, done: int, *, more: bool) -> Iterator[Way]:
    title = f"A {'longer' if more else 'shorter'} foot"
    ease = plan.request.ease.length_cm + (-TOE_STEP_CM if more else TOE_STEP_CM)
    other = _with(plan.request.ease, length_cm=round(ease, 2))
    if other:
        changed = _carried_on(plan, done, plan.request.model_copy(update={"ease": other}))
        becomes, was = both_units(changed.sizes.foot_length_cm), both_units(plan.sizes.foot_length_cm)
        yield Way("rest", title, f"The foot becomes {becomes} long instead of {was}.", changed, done)


def _with(asked: FrozenModel, **entries: float) -> FrozenModel | None:
    """A part of the request with other entries; None where a request may not have them."""
    try:
        return type(asked).model_validate({**asked.model_dump(), **entries})
    except ValidationError:
        return None


def _carried_on(
    plan: Plan, done: int, request: PlanRequest | None = None, *, leg: int | None = None, foot: int | None = None
) -> Plan:
    """The plan from here on, with every count but the given ones as it has."""
    sizes = plan.sizes
    given = Given(leg or sizes.leg_stitches, foot or sizes.foot_stitches)
    return plan_from(request or plan.request, knitted_part(plan, done), given)


CUFF_ADVICE: dict[tuple[str, Feels], str] = {
    ("toe-up", "tight"): "Bind off loosely, over a needle two sizes larger or with a stretchy bind-off, and try the "
    "sock on over the heel before the end is woven in.",
    ("toe-up", "loose"): "Knit the ribbing with a needle one size smaller, and bind off with the usual one.",
    ("cuff-down", "tight"): "The cast-on holds it. It can be taken off when the sock is done, and the ribbing bound "
    "off loosely; cast the other sock on over two needles.",
    ("cuff-down", "loose"): "Cast the other sock on with a needle one size smaller, and knit its ribbing with it.",
}
"""What helps a cuff, which has no count of its own to change: common practice."""


def _no_way(plan: Plan, done: int, felt: Felt) -> str:
    """Why nothing ahead changes, and what to do instead."""
    made = plan.request.construction
    if felt.where == "cuff":
        return f"The counts stay as they are. {CUFF_ADVICE[made.direction, felt.feels]}"
    if felt.where in ("heel", "instep") and not depth_of(made):
        return (
            "This heel has no depth of its own to change: it follows from the stitches. For the next pair a heel flap, "
            "or a gusset, can be as deep as the foot asks for."
        )
    if done == plan.count:
        return "This sock is finished, and stays as it is. It is kept for the next one."
    tube = {"leg": LEG, "foot": FOOT}.get(felt.where)
    if tube and done < plan.span(tube.key).stop and plan.request.leg.pattern:
        return (
            f"Too few rounds of the {felt.where} are left to finish the rows of the {plan.request.leg.called} before "
            "its stitches change, so they stay. It is kept for the next sock."
        )
    return (
        f"It is too late for the {felt.where}: what decides it is knitted, and stays as it is. Ripping back is the "
        "only other way; it is kept for the next sock."
    )
