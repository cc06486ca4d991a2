"""The ways to go on with a sock whose gauge has turned out differently."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, TypeAlias

from .choices import leg_repeat, starting_counts
from .construction import parts_of
from .document import Plan, Round, Sizes
from .faults import CannotKnitError
from .fit import fit_of, nearest, nearest_multiple
from .planner import carry_on
from .request import PlanRequest
from .sections.base import Part
from .units import both_units
from .way_words import (
    FOOT_TOLERANCE,
    HEEL_PASS_TOLERANCE_CM,
    LEG_TOLERANCE,
    LENGTH_TOLERANCE_CM,
    Tube,
    how_it_changes,
    what_stays,
)

RIP_WORTH = 0.04
"""How far off the first centimetres of a foot may be before they are knitted again (ours)."""

EARLY = 0.3
"""The part of a sock up to which ripping it all is sooner done than wearing a step in the foot (ours)."""

FIRST_CM = 4.0
"""The first centimetres of a foot: the fabric that a check there wants below it (common practice)."""

LENGTH_RIP_WORTH_CM = 1.0
"""How far off it must be for that to be the way we would take: all of the usual ease (ours)."""

LENGTH_LOST_CM = 2.0
"""How far off no foot wears it, so that ripping is the way we would take from however far (ours)."""

WayKey: TypeAlias = Literal["leave", "rest", "here", "rip", "foot", "needle"]


@dataclass(frozen=True)
class Way:
    """A plan to go on with, from `done` rounds on.

    `sizes` are given where they are not those of the plan's document, `unsure` what those still
    ahead may be off by beyond the error of the gauge, as a part of them.
    """

    key: WayKey
    title: str
    why: str
    plan: Plan
    done: int
    recommended: bool = False
    sizes: Sizes | None = None
    unsure: float = 0.0


@dataclass(frozen=True)
class Place:
    """A sock in progress: its plan, the rounds done, and the request with the measured gauge."""

    plan: Plan
    done: int
    request: PlanRequest

    def carry_on(self, *, leg: int | None = None, foot: int | None = None, done: int | None = None) -> Plan:
        """The plan that begins with the rounds done, at the measured gauge.

        Leg and foot get the stitches given, keep those that they were begun with, or get what the gauge asks for.
        """
        knitted = knitted_part(self.plan, self.done if done is None else done)
        if leg is None and "leg" in knitted:
            leg = self.plan.sizes.leg_stitches
        return carry_on(self.request, knitted, leg, foot)

    def stitches_in(self, tube: Tube) -> int:
        """Stitches that the plan has for the leg or the foot."""
        return self.plan.sizes.leg_stitches if tube == "leg" else self.plan.sizes.foot_stitches

    def other_tube_begun(self, tube: Tube) -> bool:
        """Whether the other of leg and foot is knitted already."""
        return ("foot" if tube == "leg" else "leg") in knitted_part(self.plan, self.done)

    @property
    def stitch_gauge_differs(self) -> bool:
        """Whether the measured stitches are not those of the plan."""
        return self.request.gauge.stitches_per_10cm != self.plan.request.gauge.stitches_per_10cm


def section_at(plan: Plan, done: int) -> str:
    """The key of the section in which the next round lies; the last one when the sock is finished."""
    return next((section.key for section, span in plan.spans() if done in span), plan.sections[-1].key)


def knitted_part(plan: Plan, done: int) -> dict[str, tuple[Round, ...]]:
    """The rounds done of each section that has been begun, by its key."""
    rounds = plan.rounds()[:done]
    return {section.key: rounds[span.start : span.stop] for section, span in plan.spans() if span.start < done}


def foot_is_knitted(plan: Plan, done: int) -> bool:
    """Whether the foot lies behind the needles, as it does in the leg of a sock from the toe up."""
    return plan.span("foot").stop <= done


def ways_on(plan: Plan, request: PlanRequest, done: int) -> Iterator[Way]:
    """The ways on with the measured gauge that `request` has, the one we would take marked."""
    place = Place(plan, done, request)
    if not done:
        yield Way("rest", "Plan the sock anew", "Nothing is cast on yet.", place.carry_on(), 0, recommended=True)
        return
    part = open_part(plan, done)
    yield from _in_a_tube(place, part.tube) if part.tube else _in_a_shaped_section(place, part)


def open_part(plan: Plan, done: int) -> Part:
    """The part that a change falls into: one just finished, if it can still go on, or that of the next round."""
    parts = {part.key: part for part in parts_of(plan.request.construction)}
    begun = parts[next(reversed(knitted_part(plan, done)))]
    return begun if begun.reopens else parts[section_at(plan, done)]


def _in_a_tube(place: Place, tube: Tube) -> Iterator[Way]:
    """In leg or foot: go on with the same stitches, change them here, or rip back."""
    fit = fit_of(place.request)
    kept = place.stitches_in(tube)
    target = fit.leg_target if tube == "leg" else fit.foot_target
    wanted = _wanted(place.request, tube, target)
    width = fit.fabric.width(kept)
    # A foot is worn in a shoe and gets its own count; a leg may be a little off.
    near = abs(width / target - 1) <= (FOOT_TOLERANCE if tube == "foot" else LEG_TOLERANCE)
    first = not place.other_tube_begun(tube)
    whole = _anew(place) if first else None
    begun = tube in knitted_part(place.plan, place.done)
    begun_wrong = begun and whole and tube == "foot" and abs(width / target - 1) > RIP_WORTH
    anew = bool(begun_wrong) and place.done <= EARLY * place.plan.count
    other = "foot" if tube == "leg" else "leg"
    rest = place.carry_on(**{tube: kept})
    goes_on = rest.span(tube).stop > place.done
    changes = wanted != kept and place.stitch_gauge_differs and goes_on
    around = rest.sizes.leg_cm if tube == "leg" else rest.sizes.foot_circumference_cm
    back = _back_to_the_foot(place, rest)
    gusset = _back_to_the_narrowing(place) if not first and wanted != kept and tube == "foot" else None
    ripped = anew or any(way and way.recommended for way in (back, gusset))
    yield Way(
        "rest",
        f"Keep the {tube} stitches",
        f"The {tube} stays on {kept} stitches and becomes {both_units(around)} round; its length is worked out again"
        f"{f', and the {other} gets its own count beyond the heel' if first else ''}.{what_stays(rest, place.done)}",
        rest,
        place.done,
        recommended=(near or not changes) and not ripped,
    )
    if changes:
        changed = place.carry_on(**{tube: wanted})
        yield Way(
            "here",
            f"Change the {tube} here",
            f"{how_it_changes(changed, place.done, tube, kept, wanted)}{what_stays(changed, place.done)}",
            changed,
            place.done,
            recommended=not near and not ripped,
        )
    if whole:
        why = "The whole sock gets the counts that the measured gauge asks for."
        yield Way("rip", "Rip back and cast on anew", why, whole, 0, recommended=anew)
    if gusset:
        yield gusset
    if back:
        yield back


def _anew(place: Place) -> Plan | None:
    """The whole sock at the measured gauge; None where its chart does not go into the leg there."""
    try:
        return place.carry_on(done=0)
    except CannotKnitError:
        return None


def _wanted(request: PlanRequest, tube: Tube, target: float) -> int:
    """Stitches for a target in cm; in the leg as many as suit the chart, unless those are too far off."""
    stitches = target * fit_of(request).fabric.stitches
    suits = nearest_multiple(stitches, leg_repeat(request) if tube == "leg" else 2)
    return suits if abs(suits / stitches - 1) <= LEG_TOLERANCE else nearest_multiple(stitches, 2)


def _in_a_shaped_section(place: Place, part: Part) -> Iterator[Way]:
    rest = place.carry_on()
    back = _back_to_the_foot(place, rest)
    why = f"Every count from here on becomes what the measured gauge asks for.{what_stays(rest, place.done)}"
    take_back = bool(back and back.recommended)
    yield Way("rest", "Work out the rest again", why, rest, place.done, recommended=not take_back)
    if back:
        yield back
    if part.narrowed_in and (gusset := _back_to_the_narrowing(place)):
        yield gusset
    # From the toe up the foot lies before the heel: ripping back to it gives a new heel as well, and ripping back to
    # the heel leaves it the stitches that it has.
    if part.back_to and not back:
        begin = place.plan.span(part.back_to).start
        kept = place.stitches_in("foot") if "foot" in knitted_part(place.plan, begin) else None
        again = place.carry_on(done=begin, foot=kept)
        foot = f" {_stays_on(again, kept)}." if kept else ""
        was, becomes = rest.sizes.heel_pass_cm, again.sizes.heel_pass_cm
        if abs(becomes - was) >= HEEL_PASS_TOLERANCE_CM:
            yield Way(
                "rip",
                "Rip back to the heel",
                f"The way round the heel becomes {both_units(becomes)} instead of {both_units(was)}, "
                f"for {both_units(fit_of(place.request).body.heel_diagonal)} of foot.{foot}{what_stays(again, begin)}",
                again,
                begin,
            )


def _back_to_the_foot(place: Place, rest: Plan) -> Way | None:
    """Ripping back to where the foot's length was still open, when the rest cannot give it the length asked for.

    A foot too long is ripped into; one too short is taken up again where its tube ended.
    """
    target = fit_of(place.request).length_target
    off = abs(rest.sizes.foot_length_cm - target)
    foot = knitted_part(place.plan, place.done).get("foot")
    if off <= LENGTH_TOLERANCE_CM or not foot:
        return None
    start = place.plan.span("foot").start
    end = start + len(foot)
    kept = foot[-1].after
    in_the_foot = end == place.done and kept == rest.sizes.foot_stitches
    again = rest if in_the_foot else place.carry_on(foot=kept, done=end)
    over = nearest((again.sizes.foot_length_cm - target) * fit_of(place.request).fabric.rounds)
    if over > 0:
        end = max(start + 1, end - over)
        again = place.carry_on(foot=kept, done=end)
    if end >= place.done or abs(again.sizes.foot_length_cm - target) >= off:
        return None
    length, asked = both_units(again.sizes.foot_length_cm), both_units(target)
    return Way(
        "foot",
        "Rip back to the foot",
        f"The foot then becomes {length} long instead of {both_units(rest.sizes.foot_length_cm)}, "
        f"for {asked} asked for. {_stays_on(again, kept)}.{what_stays(again, end)} Try the sock on before you rip.",
        again,
        end,
        # Where the foot itself is on the needles nothing is ripped but what it is too long by.
        recommended=in_the_foot
        or off > LENGTH_LOST_CM
        or (off > LENGTH_RIP_WORTH_CM and place.done - end <= EARLY * place.plan.count),
    )


def _stays_on(again: Plan, stitches: int) -> str:
    return f"The foot stays on {stitches} stitches, {both_units(again.sizes.foot_circumference_cm)} round"


def _back_to_the_narrowing(place: Place) -> Way | None:
    """Ripping back to where the gusset last had as many stitches as the foot should get.

    The way we would take while only the first centimetres of a foot are knitted, and these far too wide or narrow.
    """
    gusset, fit = place.plan.span("gusset"), fit_of(place.request)
    wanted = starting_counts(place.request, fit).foot
    if wanted == place.plan.sizes.foot_stitches:
        return None
    rounds = place.plan.rounds()
    enough = [number + 1 for number in gusset if rounds[number].after >= wanted]
    if not enough or enough[-1] >= place.done:
        return None
    again = place.carry_on(done=enough[-1])
    width, first = fit.fabric.width(place.plan.sizes.foot_stitches), FIRST_CM * fit.fabric.rounds
    return Way(
        "rip",
        "Rip back into the gusset",
        f"The gusset then ends on {again.sizes.foot_stitches} stitches, with no step in the foot."
        f"{what_stays(again, enough[-1])}",
        again,
        enough[-1],
        recommended=abs(width / fit.foot_target - 1) > RIP_WORTH and place.done - enough[-1] <= first,
    )
