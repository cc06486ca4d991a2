"""The ways to go on with a sock whose gauge has turned out differently."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal, TypeAlias

from ..construction.constructions import TUBES, parts_of
from ..construction.planner import Given, plan_from
from ..construction.sections.base import Part, Tube
from ..construction.sections.foot import FOOT
from ..construction.sections.leg import LEG
from ..construction.sizes import round_the_foot, stitches_at_the_top
from ..faults import CannotKnitError
from ..fit.stitch_counts import foot_stitches_after_heel, in_whole_repeats
from ..fit.targets import fit_of, nearest, nearest_multiple
from ..gauge.parts import Fabrics
from ..plan.document import Plan, Round, Sizes
from ..request.plan_request import PlanRequest
from ..units import both_units
from .as_knitted import longer_as_knitted, sizes_as_knitted
from .candidate_text import (
    FOOT_TOLERANCE,
    HEEL_PASS_TOLERANCE_CM,
    LEG_TOLERANCE,
    LENGTH_TOLERANCE_CM,
    how_it_changes,
    what_stays,
)
from .foot_again import KnittedFoot

RIP_WORTH = 0.04
"""How far off the first centimetres of a foot may be before they are knitted again (ours)."""

FIRST_CM = 4.0
"""The first centimetres of a foot: the fabric that a check there wants below it (common practice)."""

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
class SockInProgress:
    """A sock in progress: its plan, the rounds done, and the request with the measured gauge."""

    plan: Plan
    done: int
    request: PlanRequest
    fabrics: Fabrics | None = None

    @cached_property
    def foot(self) -> KnittedFoot:
        """What is knitted of the foot, at its own gauge where that is known."""
        fit, own = fit_of(self.request), self.fabrics and self.fabrics.foot
        return KnittedFoot(
            fit,
            own.stitches.per_10cm / 10 if own else fit.fabric.stitches,
            own.stitches.error if own else 0.0,
            own.rounds.error if own else 0.0,
        )

    @cached_property
    def foot_is_lost(self) -> bool:
        """Whether what is knitted of the foot is too wide or too narrow to be left."""
        return self.foot.is_to_be_knitted_again(self.plan, self.done, ripped=False)

    def stays(self, plan: Plan, done: int | None = None) -> str:
        """The first sentence on a way: what is knitted and is not what was asked for; none where all is well."""
        at = self.done if done is None else done
        return what_stays(plan, at, self.sizes(plan, at), self.foot)

    def sizes(self, plan: Plan, done: int) -> Sizes:
        """The sizes of a plan that goes on from so many rounds, those of finished parts at their own gauge."""
        return sizes_as_knitted(plan.sizes, plan, done, self.fabrics) if self.fabrics else plan.sizes

    def plan_from(self, *, leg: int | None = None, foot: int | None = None, done: int | None = None) -> Plan:
        """The plan that begins with the rounds done, at the measured gauge.

        Leg and foot get the stitches given, keep those that they were begun with, or get what the gauge asks for.
        """
        at = self.done if done is None else done
        knitted = knitted_part(self.plan, at)
        if leg is None and LEG.key in knitted:
            leg = self.plan.sizes.leg_stitches
        if foot is None and leg is not None:
            foot = self.foot_below(leg)
        longer = longer_as_knitted(self.plan, at, self.fabrics) if self.fabrics else 0.0
        return plan_from(self.request, knitted, Given(leg, foot, longer_cm=longer))

    @property
    def foot_wanted(self) -> int:
        """Stitches for the foot beside the leg as it is."""
        return self.foot_below(self.stitches_in("leg"))

    def foot_below(self, leg: int) -> int:
        """Stitches for the foot below a leg of so many: those planned while they suit, or those the gauge asks for."""
        planned, fit = self.plan.sizes.foot_stitches, fit_of(self.request)
        suits = self.foot.fits(round_the_foot(self.plan, fit)) or not self.stitch_gauge_differs
        same_instep = leg == self.stitches_in("leg") or not self.follows_in_pattern
        stays = self.as_wide_as_planned and suits and same_instep
        return planned if stays else foot_stitches_after_heel(self.request, fit, leg)

    @property
    def follows_in_pattern(self) -> bool:
        """Whether the instep has the leg's stitches in a fabric that is not that of the sole."""
        instep = fit_of(self.request).instep
        return instep.fabric.stitches != instep.plain.stitches

    @property
    def as_wide_as_planned(self) -> bool:
        """Whether the measured gauge makes the planned stitches hardly wider or narrower than the plan took them for.

        The plan may itself be a little off what was asked for: leg and foot have one count, which suits the ribbing.
        """
        planned, measured = fit_of(self.plan.request), fit_of(self.request)
        if not self.follows_in_pattern:
            return abs(planned.fabric.stitches / measured.fabric.stitches - 1) <= FOOT_TOLERANCE
        return abs(round_the_foot(self.plan, measured) / round_the_foot(self.plan, planned) - 1) <= FOOT_TOLERANCE

    def stitches_in(self, tube: Tube) -> int:
        """Stitches that the plan has for the leg or the foot."""
        return self.plan.sizes.leg_stitches if tube == "leg" else self.plan.sizes.foot_stitches

    def other_tube_begun(self, tube: Tube) -> bool:
        """Whether the other of leg and foot is knitted already."""
        return any(self.begun(other) for other in TUBES if other != tube)

    def begun(self, tube: Tube) -> bool:
        """Whether some of the leg or the foot is knitted."""
        return TUBES[tube].key in knitted_part(self.plan, self.done)

    @property
    def stitch_gauge_differs(self) -> bool:
        """Whether the measured stitches are not those of the plan."""
        planned, measured = fit_of(self.plan.request), fit_of(self.request)
        return (planned.fabric.stitches, planned.leg.fabric.stitches) != (
            measured.fabric.stitches,
            measured.leg.fabric.stitches,
        )


def section_at(plan: Plan, done: int) -> str:
    """The key of the section in which the next round lies; the last one when the sock is finished."""
    return next((section.key for section, span in plan.spans() if done in span), plan.sections[-1].key)


def knitted_part(plan: Plan, done: int) -> dict[str, tuple[Round, ...]]:
    """The rounds done of each section that has been begun, by its key."""
    rounds = plan.rounds()[:done]
    return {section.key: rounds[span.start : span.stop] for section, span in plan.spans() if span.start < done}


def foot_is_knitted(plan: Plan, done: int) -> bool:
    """Whether the foot lies behind the needles, as it does in the leg of a sock from the toe up."""
    return plan.span(FOOT.key).stop <= done


def ways_on(plan: Plan, request: PlanRequest, done: int, fabrics: Fabrics | None = None) -> list[Way]:
    """The ways on with the measured gauge that `request` has, the one we would take marked.

    `fabrics` are those of what is knitted, where they are known to be others than that.
    """
    sock = SockInProgress(plan, done, request, fabrics)
    if not done:
        return [Way("rest", "Plan the sock again", "Nothing is cast on yet.", sock.plan_from(), 0, recommended=True)]
    part = open_part(plan, done)
    ways = list(_in_a_tube(sock, part.tube) if part.tube else _in_a_shaped_section(sock, part))
    again = _the_foot_again(sock, next(way for way in ways if way.recommended))
    if again is None:
        return ways
    others = (way for way in ways if way.key != again.key and way.done != again.done)
    return [again, *(replace(way, recommended=False) for way in others)]


def _the_foot_again(sock: SockInProgress, recommended: Way) -> Way | None:
    """Ripping back as little as makes all of the foot fit, where what is `recommended` leaves it too wide or narrow."""
    ripped = recommended.done < min(sock.done, sock.plan.span(FOOT.key).stop)
    if not sock.foot.is_to_be_knitted_again(recommended.plan, recommended.done, ripped=ripped):
        return None
    back_to = sock.foot.fits_up_to(sock.plan, sock.done)
    foot = foot_stitches_after_heel(sock.request, fit_of(sock.request), sock.stitches_in("leg"))
    again = sock.plan_from(foot=foot, done=back_to)
    if not sock.foot.fits(round_the_foot(again, fit_of(sock.request))):
        return None
    left = both_units(sock.foot.width_of_the_worst(recommended.plan, recommended.done))
    return Way(
        "foot",
        "Knit the foot again",
        f"{sock.stays(again, back_to)}All of the foot then becomes {both_units(again.sizes.foot_circumference_cm)} "
        f"round, on {again.sizes.foot_stitches} stitches; as it is knitted it is {left} round where "
        f"{both_units(sock.foot.target_cm)} were asked for. Try the sock on before you rip.",
        again,
        back_to,
        recommended=True,
    )


def open_part(plan: Plan, done: int) -> Part:
    """The part that a change falls into: one just finished, if it can still go on, or that of the next round."""
    parts = {part.key: part for part in parts_of(plan.request.construction)}
    begun = parts[next(reversed(knitted_part(plan, done)))]
    return begun if begun.reopens else parts[section_at(plan, done)]


def _in_a_tube(sock: SockInProgress, tube: Tube) -> Iterator[Way]:
    """In leg or foot: go on with the same stitches, change them here, or rip back."""
    fit = fit_of(sock.request)
    kept = sock.stitches_in(tube)
    target = fit.leg_target if tube == "leg" else fit.foot_target
    wanted = _wanted_in_the_leg(sock, target) if tube == "leg" else sock.foot_wanted
    width = fit.leg.width(kept) if tube == "leg" else round_the_foot(sock.plan, fit)
    # A foot is worn in a shoe and gets its own count; a leg may be a little off.
    near = abs(width / target - 1) <= (FOOT_TOLERANCE if tube == "foot" else LEG_TOLERANCE)
    first = not sock.other_tube_begun(tube)
    whole = _from_the_cast_on(sock) if first else None
    other = "foot" if tube == "leg" else "leg"
    rest = sock.plan_from(**{tube: kept})
    goes_on = rest.span(TUBES[tube].key).stop > sock.done
    changes = wanted != kept and sock.stitch_gauge_differs and goes_on
    around = rest.sizes.leg_cm if tube == "leg" else rest.sizes.foot_circumference_cm
    back = _back_to_the_foot(sock, rest)
    gusset = _back_to_the_narrowing(sock) if not first and wanted != kept and tube == "foot" else None
    ripped = any(way and way.recommended for way in (back, gusset))
    yield Way(
        "rest",
        f"Keep the {tube} stitches",
        f"{sock.stays(rest)}The {tube} stays on {kept} stitches and becomes {both_units(around)} round; its length is "
        "calculated again"
        f"{f', and the {other} gets its own count beyond the heel' if first else ''}.",
        rest,
        sock.done,
        recommended=(near or not changes) and not ripped,
    )
    if changes:
        changed = sock.plan_from(**{tube: wanted})
        yield Way(
            "here",
            f"Change the {tube} here",
            f"{sock.stays(changed)}{how_it_changes(changed, sock.done, tube, kept, wanted)}",
            changed,
            sock.done,
            recommended=not near and not ripped,
        )
    if whole:
        yield _cast_on_again(whole)
    if gusset:
        yield gusset
    if back:
        yield back


def _from_the_cast_on(sock: SockInProgress) -> Plan | None:
    """The whole sock at the measured gauge; None where its chart does not go into the leg there."""
    try:
        return sock.plan_from(done=0)
    except CannotKnitError:
        return None


def _cast_on_again(whole: Plan) -> Way:
    why = "The whole sock gets the counts that the measured gauge asks for."
    return Way("rip", "Rip back and cast on again", why, whole, 0)


def _another_toe(sock: SockInProgress, rest: Plan) -> Way | None:
    """Casting on again where nothing but a toe is knitted, and what it leaves of the foot misses its length."""
    missed = abs(rest.sizes.foot_length_cm - fit_of(sock.request).length_target)
    first = parts_of(sock.request.construction)[0].key
    only_a_toe = sock.request.construction.direction == "toe-up" and [first] == list(knitted_part(sock.plan, sock.done))
    whole = _from_the_cast_on(sock) if only_a_toe and missed > LENGTH_TOLERANCE_CM else None
    return _cast_on_again(whole) if whole else None


def _wanted_in_the_leg(sock: SockInProgress, target: float) -> int:
    """Stitches for a target in cm, as many as suit the chart, unless those are too far off."""
    stitches = fit_of(sock.request).leg.stitches_for(target)
    straight = stitches_at_the_top(sock.plan) == sock.plan.sizes.leg_stitches
    suits = in_whole_repeats(stitches, sock.request, straight=straight)
    return suits if abs(suits / stitches - 1) <= LEG_TOLERANCE else nearest_multiple(stitches, 2)


def _in_a_shaped_section(sock: SockInProgress, part: Part) -> Iterator[Way]:
    rest = sock.plan_from()
    back = _back_to_the_foot(sock, rest)
    why = f"{sock.stays(rest)}Every count from here on becomes what the measured gauge asks for."
    take_back = bool(back and back.recommended)
    yield Way("rest", "Calculate the rest again", why, rest, sock.done, recommended=not take_back)
    if back:
        yield back
    if another := _another_toe(sock, rest):
        yield another
    if gusset := _back_to_the_narrowing(sock):
        yield gusset
    # From the toe up the foot lies before the heel: ripping back to it gives a new heel as well, and ripping back to
    # the heel leaves it the stitches that it has.
    if part.back_to and not back:
        begin = sock.plan.span(part.back_to).start
        kept = sock.stitches_in("foot") if FOOT.key in knitted_part(sock.plan, begin) else None
        again = sock.plan_from(done=begin, foot=kept)
        foot = f" {_stays_on(again, kept)}." if kept else ""
        was, becomes = rest.sizes.heel_pass_cm, again.sizes.heel_pass_cm
        if abs(becomes - was) >= HEEL_PASS_TOLERANCE_CM:
            yield Way(
                "rip",
                "Rip back to the heel",
                f"{sock.stays(again, begin)}The way round the heel becomes {both_units(becomes)} instead of "
                f"{both_units(was)}, for {both_units(fit_of(sock.request).body.heel_diagonal)} of foot.{foot}",
                again,
                begin,
            )


def _back_to_the_foot(sock: SockInProgress, rest: Plan) -> Way | None:
    """Ripping back to where the foot's length was still open, when the rest cannot give it the length asked for.

    A foot too long is ripped into; one too short is taken up again where its tube ended. One that is too wide or too
    narrow to be left is knitted again from its beginning.
    """
    target = fit_of(sock.request).length_target
    is_cm = sock.sizes(rest, sock.done).foot_length_cm
    off = abs(is_cm - target)
    foot = knitted_part(sock.plan, sock.done).get(FOOT.key)
    if off <= LENGTH_TOLERANCE_CM or not foot or sock.foot_is_lost:
        return None
    start = sock.plan.span(FOOT.key).start
    end = start + len(foot)
    kept = foot[-1].after
    in_the_foot = end == sock.done and kept == rest.sizes.foot_stitches
    again = rest if in_the_foot else sock.plan_from(foot=kept, done=end)
    over = nearest((sock.sizes(again, end).foot_length_cm - target) * fit_of(sock.request).fabric.rounds)
    if over > 0:
        end = max(start + 1, end - over)
        again = sock.plan_from(foot=kept, done=end)
    becomes = sock.sizes(again, end).foot_length_cm
    if end >= sock.done or abs(becomes - target) >= off:
        return None
    return Way(
        "foot",
        "Rip back to the foot",
        f"{sock.stays(again, end)}The foot then becomes {both_units(becomes)} long instead of "
        f"{both_units(is_cm)}, for {both_units(target)} asked for. {_stays_on(again, kept)}. Try the sock on "
        "before you rip.",
        again,
        end,
        # Where the foot itself is on the needles nothing is ripped but what it is too long by.
        recommended=in_the_foot or sock.foot.is_surely_too_long_or_short(off, is_cm),
    )


def _stays_on(again: Plan, stitches: int) -> str:
    return f"The foot stays on {stitches} stitches, {both_units(again.sizes.foot_circumference_cm)} round"


def _back_to_the_narrowing(sock: SockInProgress) -> Way | None:
    """Ripping back to where a gusset last had as many stitches as the foot should get; None before its end.

    The way we would take while only the first centimetres of a foot are knitted, and these far too wide or narrow.
    """
    parts, fit = parts_of(sock.request.construction), fit_of(sock.request)
    gusset = next((sock.plan.span(part.key) for part in parts if part.narrows), range(0))
    wanted = sock.foot_wanted
    if sock.done <= gusset.stop or wanted == sock.plan.sizes.foot_stitches:
        return None
    rounds = sock.plan.rounds()
    enough = [number + 1 for number in gusset if rounds[number].after >= wanted]
    if not enough or enough[-1] >= sock.done:
        return None
    again = sock.plan_from(done=enough[-1])
    width, first = round_the_foot(sock.plan, fit), FIRST_CM * fit.fabric.rounds
    return Way(
        "rip",
        "Rip back into the gusset",
        f"{sock.stays(again, enough[-1])}The gusset then ends on {again.sizes.foot_stitches} stitches, with no step in "
        "the foot.",
        again,
        enough[-1],
        recommended=abs(width / fit.foot_target - 1) > RIP_WORTH and sock.done - enough[-1] <= first,
    )
