"""The ways to go on with a sock whose gauge has turned out differently."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, TypeAlias

from .choices import starting_counts
from .construction import parts_of
from .document import Plan, Round
from .fit import fit_of, nearest_multiple
from .planner import carry_on
from .request import PlanRequest
from .sections.base import Part
from .units import both_units

LEG_TOLERANCE = 0.05
"""How far off the leg may be before it is changed: half the usual ease of 10 %, which leaves 5 to 15 % (ours)."""

HEEL_PASS_TOLERANCE_CM = 1.5
"""How far off the heel pass may be before ripping back to the heel is offered: 5 % of an adult's (ours)."""

WayKey: TypeAlias = Literal["leave", "rest", "here", "rip"]


@dataclass(frozen=True)
class Way:
    """A plan to go on with, from `done` rounds on."""

    key: WayKey
    title: str
    why: str
    plan: Plan
    done: int
    recommended: bool = False


@dataclass(frozen=True)
class Place:
    """A sock in progress: its plan, the rounds done, and the request with the measured gauge."""

    plan: Plan
    done: int
    request: PlanRequest

    def carry_on(self, *, leg: int | None = None, foot: int | None = None, done: int | None = None) -> Plan:
        """The plan that begins with the rounds done, at the measured gauge; leg and foot as given or as it asks."""
        return carry_on(self.request, knitted_part(self.plan, self.done if done is None else done), leg, foot)


def section_at(plan: Plan, done: int) -> str:
    """The key of the section in which the next round lies; the last one when the sock is finished."""
    end = 0
    for section in plan.sections:
        end += len(section.rounds())
        if done < end:
            return section.key
    return plan.sections[-1].key


def knitted_part(plan: Plan, done: int) -> dict[str, tuple[Round, ...]]:
    """The rounds done of each section that has been begun, by its key."""
    parts = {}
    for section in plan.sections:
        if done <= 0:
            break
        parts[section.key] = section.rounds()[:done]
        done -= len(section.rounds())
    return parts


def ways_on(plan: Plan, request: PlanRequest, done: int) -> list[Way]:
    """The ways on with the measured gauge that `request` has, the one we would take marked."""
    place = Place(plan, done, request)
    if not done:
        return [Way("rest", "Plan the sock anew", "Nothing is cast on yet.", place.carry_on(), 0, recommended=True)]
    part = _open_part(plan, done)
    if part.tube == "leg":
        return list(_in_the_leg(place))
    if part.tube == "foot":
        return list(_in_the_foot(place))
    return list(_in_a_shaped_section(place, part))


def _open_part(plan: Plan, done: int) -> Part:
    """The part that a change falls into: one just finished, if it can still go on, or that of the next round."""
    parts = {part.key: part for part in parts_of(plan.request.construction)}
    begun = parts[next(reversed(knitted_part(plan, done)))]
    return begun if begun.reopens else parts[section_at(plan, done)]


def _in_the_leg(place: Place) -> Iterator[Way]:
    fit = fit_of(place.request)
    kept = place.plan.sizes.leg_stitches
    wanted = nearest_multiple(fit.leg_target * fit.fabric.stitches, 2)
    width = fit.fabric.width(kept)
    near = abs(width / fit.leg_target - 1) <= LEG_TOLERANCE
    yield Way(
        "rest",
        "Change at the gusset",
        f"The leg keeps its {kept} stitches and becomes {both_units(width)} round; "
        "the foot gets its own count at the gusset.",
        place.carry_on(leg=kept),
        place.done,
        recommended=near,
    )
    if wanted != kept and place.request.gauge.stitches_per_10cm != place.plan.request.gauge.stitches_per_10cm:
        yield Way(
            "here",
            "Change the leg here",
            f"One round with evenly spread changes takes the leg from {kept} to {wanted} stitches; "
            "what is knitted stays, and a slight step may be felt there.",
            place.carry_on(leg=wanted),
            place.done,
            recommended=not near,
        )
    yield Way(
        "rip",
        "Rip back and cast on anew",
        "The whole sock gets the counts that the measured gauge asks for.",
        place.carry_on(done=0),
        0,
    )


def _in_a_shaped_section(place: Place, part: Part) -> Iterator[Way]:
    rest = place.carry_on(leg=place.plan.sizes.leg_stitches)
    why = "Every count from here on becomes what the measured gauge asks for."
    yield Way("rest", "Work out the rest again", why, rest, place.done, recommended=True)
    if part.back_to == "gusset":
        yield from _back_to_the_gusset(place)
    elif part.back_to:
        begin = _rounds_before(place.plan, part.back_to)
        again = place.carry_on(leg=place.plan.sizes.leg_stitches, done=begin)
        was, becomes = rest.sizes.heel_pass_cm, again.sizes.heel_pass_cm
        if abs(becomes - was) >= HEEL_PASS_TOLERANCE_CM:
            yield Way(
                "rip",
                "Rip back to the heel",
                f"The way round the heel becomes {both_units(becomes)} instead of {both_units(was)}, "
                f"for {both_units(fit_of(place.request).body.heel_diagonal)} of foot.",
                again,
                begin,
            )


def _in_the_foot(place: Place) -> Iterator[Way]:
    fit = fit_of(place.request)
    leg, foot = place.plan.sizes.leg_stitches, place.plan.rounds()[place.done - 1].after
    wanted = starting_counts(place.request, fit).foot
    yield Way(
        "rest",
        "Keep the foot stitches, change the length",
        f"The foot stays on {foot} stitches, {both_units(fit.fabric.width(foot))} round; "
        "the toe begins where the measured gauge puts it.",
        place.carry_on(leg=leg, foot=foot),
        place.done,
        recommended=wanted == foot,
    )
    if wanted != foot:
        yield Way(
            "here",
            "Change the foot here",
            f"One round with evenly spread changes takes the foot from {foot} to {wanted} stitches.",
            place.carry_on(leg=leg),
            place.done,
            recommended=True,
        )
        yield from _back_to_the_gusset(place)


def _back_to_the_gusset(place: Place) -> Iterator[Way]:
    """Ripping back to where the gusset last had as many stitches as the foot should get."""
    wanted = starting_counts(place.request, fit_of(place.request)).foot
    if wanted == place.plan.sizes.foot_stitches:
        return
    begin = _rounds_before(place.plan, "gusset")
    gusset = next(section.rounds() for section in place.plan.sections if section.key == "gusset")
    enough = [number for number, item in enumerate(gusset, start=1) if item.after >= wanted]
    if enough:
        again = place.carry_on(leg=place.plan.sizes.leg_stitches, done=begin + enough[-1])
        why = f"The gusset then ends on {again.sizes.foot_stitches} stitches, with no step in the foot."
        yield Way("rip", "Rip back into the gusset", why, again, begin + enough[-1])


def _rounds_before(plan: Plan, key: str) -> int:
    """How many rounds there are before a section begins."""
    count = 0
    for section in plan.sections:
        if section.key == key:
            break
        count += len(section.rounds())
    return count
