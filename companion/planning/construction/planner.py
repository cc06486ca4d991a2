"""The planner: a plan is what is left to knit when nothing is knitted yet."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from functools import lru_cache
from itertools import groupby
from operator import itemgetter
from typing import NamedTuple

from ..fabric.painter import rounds_in_all
from ..faults import CannotKnitError, Fault
from ..fit.feet import long_leg_cm
from ..fit.leg_by_yarn import SHAPED_BY_CM, about_how_high, fit_for_the_calf
from ..fit.stitch_counts import (
    Counts,
    choices_of,
    foot_stitches,
    refuse_a_panel_without_room,
    refuse_too_wide_a_repeat,
    ribbing_for,
    starting_counts,
)
from ..fit.targets import Fabric, Fit, fit_of, nearest
from ..plan.document import Choice, Plan, Round, Section, Sizes, ThreadNeed, YarnNeed
from ..plan.rounds import LONGEST_PERIOD, fabric_rounds, fold
from ..request.plan_request import PlanRequest
from ..units import both_weights
from ..yarn.colour_repeat import colour_repeat_warnings
from ..yarn.requirement import half_reaches, rounds_for_half, shortfalls, thread_need, yarn_needs
from .building import Piece, build, progress_of
from .constructions import HEELS, parts_of, rounds_after_foot_of
from .narrower_leg import narrower_leg, offered
from .sections.base import Aim, Part, Progress
from .sections.cuff import CUFF
from .sections.leg import LEG, is_a_pair
from .sizes import sizes_of, stitches_at_the_top
from .thickness import thickness_warnings
from .verdicts import is_loose, verdicts_of
from .warnings import (
    calf_warnings,
    colour_warnings,
    foot_length_warnings,
    measurement_warnings,
    needle_length_warnings,
    pattern_end_warnings,
    sole_warnings,
    stitch_pattern_warnings,
    wear_warnings,
)


def make_plan(request: PlanRequest) -> Plan:
    """Every round of the sock that is asked for.

    Raises CannotKnitError when the numbers are each allowed but do not make a sock together.
    """
    return plan_from(request, {})


class Given(NamedTuple):
    """What is not calculated: the stitches of `leg`, `foot` and the leg's `top`; None where the gauge decides.

    `longer_cm` is by how much the foot is longer, at the gauge it was knitted at, than its rounds are at the gauge of
    the request; the sizes of the plan are all at that one.
    """

    leg: int | None = None
    foot: int | None = None
    top: int | None = None
    longer_cm: float = 0.0


CALCULATED = Given()
"""Nothing is given."""


def plan_from(request: PlanRequest, knitted: Mapping[str, tuple[Round, ...]], given: Given = CALCULATED) -> Plan:
    """The plan whose sections begin with the rounds already knitted, calculated for the gauge of the request.

    `knitted` has the rounds done of each section that was begun, by its key; all but the last are finished.
    """
    laid_out = _laid_out(request, knitted, given)
    aim, pieces, progress = laid_out.aim, laid_out.pieces, laid_out.progress
    fit, counts = aim.fit, aim.counts
    longest = max(LONGEST_PERIOD, rounds_in_all(request))
    sections = tuple(
        Section(
            key=piece.part.key,
            title=piece.part.title,
            flat=piece.part.flat,
            length_cm=piece.height / fit.rounds_of(piece.part.of),
            steps=fold(piece.rounds, longest),
        )
        for piece in pieces
        if piece.rounds
    )
    sizes = sizes_of(progress, fit)
    choices = choices_of(request, fit, counts, begun=bool(knitted))
    needs = yarns_of_pair(request, laid_out.rounds(), fit.fabric)
    return Plan(
        title=request.title,
        request=request,
        choices=choices if knitted else _with_narrower_leg(choices, parts_of(request.construction), aim, sizes),
        sizes=sizes,
        sections=sections,
        yarn=needs,
        reinforcing_thread=_thread_of_pair(request, laid_out),
        fit=verdicts_of(sizes, fit.body, HEELS[request.construction.heel].more_room, stranded=request.stranded),
        estimated=_estimated(fit),
        warnings=_warnings(laid_out, sizes, needs),
    )


class LaidOut(NamedTuple):
    """A sock before it is a document: what it was to become, its parts as they are built, and what came of them."""

    aim: Aim
    pieces: list[Piece]
    progress: Progress

    def rounds(self) -> list[Round]:
        """Every round in the order it is knitted."""
        return [item for piece in self.pieces for item in piece.rounds]


def _warnings(laid_out: LaidOut, sizes: Sizes, needs: tuple[YarnNeed, ...]) -> tuple[str, ...]:
    aim = laid_out.aim
    request, fit, counts = aim.request, aim.fit, aim.counts
    return (
        *measurement_warnings(request, fit),
        *calf_warnings(request, fit, counts, fit.leg.height(aim.leg_rounds)),
        *needle_length_warnings(request, min(sizes.leg_cm, sizes.foot_circumference_cm)),
        *thickness_warnings(request),
        *wear_warnings(request),
        *colour_warnings(request, fit.fabric),
        *stitch_pattern_warnings(request, fit),
        *sole_warnings(request),
        *pattern_end_warnings(request, fit, sizes),
        *shortfalls(request, needs),
        *colour_repeat_warnings(request, needs, _of_the_leg(laid_out.pieces), fit.fabric),
        *laid_out.progress.warnings,
        *foot_length_warnings(aim, laid_out.progress),
    )


def _laid_out(request: PlanRequest, knitted: Mapping[str, tuple[Round, ...]], given: Given = CALCULATED) -> LaidOut:
    """The sock whose parts begin with the rounds already knitted."""
    fit = _fit(request, knitted)
    wanted = starting_counts(request, fit)
    if not knitted:
        refuse_too_wide_a_repeat(request, fit, wanted.leg)
        refuse_a_panel_without_room(request, wanted)
    leg = given.leg or wanted.leg
    top = given.top or (leg if wanted.top == wanted.leg else wanted.top)
    # Beside a leg that is knitted the foot gets its own count: a gusset reaches it without a step.
    foot = given.foot or (foot_stitches(request, fit, leg) if given.leg else wanted.foot)
    cuff = wanted.cuff if top == wanted.top else ribbing_for(top, request, fit)
    counts = _as_the_cuff(Counts(cuff, top, leg, foot), request, knitted)
    parts = parts_of(request.construction)
    aim = replace(_aim(request, fit, counts), longer_cm=given.longer_cm)
    if request.leg.until == "half the yarn":
        aim = _until_half_the_yarn(parts, aim, knitted)
    return LaidOut(aim, *build(parts, aim, knitted))


def _with_narrower_leg(
    choices: tuple[Choice, ...], parts: Sequence[Part], aim: Aim, sizes: Sizes
) -> tuple[Choice, ...]:
    """The choices, with a leg for a narrow ankle in place of the whole sock of as many stitches."""
    count = narrower_leg(aim.request, aim.fit, aim.counts)
    if count is None or not is_loose(sizes, aim.fit.body):
        return choices
    counts = Counts(ribbing_for(count, aim.request, aim.fit), count, count, aim.counts.foot)
    then = sizes_of(build(parts, replace(aim, counts=counts), {})[1], aim.fit)
    others = [choice for choice in choices if choice.stitches != count]
    return tuple(sorted((*others, offered(aim.fit, counts, sizes, then)), key=lambda choice: choice.stitches))


def _as_the_cuff(counts: Counts, request: PlanRequest, knitted: Mapping[str, tuple[Round, ...]]) -> Counts:
    """The counts with a straight leg where the cuff above it was knitted for one, and not for what they are."""
    cuff = knitted.get(CUFF.key)
    if request.construction.direction == "toe-up" or not cuff or LEG.key in knitted or cuff[-1].after == counts.cuff:
        return counts
    narrow = abs(cuff[-1].after - counts.leg) < abs(cuff[-1].after - counts.top)
    return replace(counts, top=counts.leg) if narrow else counts


def sizes_at(plan: Plan, request: PlanRequest) -> Sizes:
    """The sizes that the rounds of a plan have at the gauge of another request for the same sock."""
    fit = fit_of(request)
    top = stitches_at_the_top(plan)
    aim = _aim(request, fit, Counts(top, top, plan.sizes.leg_stitches, plan.sizes.foot_stitches))
    knitted = {section.key: section.rounds() for section in plan.sections}
    return sizes_of(progress_of(parts_of(request.construction), aim, knitted), fit)


def _aim(request: PlanRequest, fit: Fit, counts: Counts) -> Aim:
    leg_rounds = max(1, nearest(request.leg.length_cm * fit.leg.rounds))
    return Aim(fit, counts, request, rounds_after_foot_of(request.construction), leg_rounds)


LONGEST_LEG_CM = 60
"""The longest leg that a request may ask for."""


def _fit(request: PlanRequest, knitted: Mapping[str, tuple[Round, ...]]) -> Fit:
    """The fit, for an estimated calf where the yarn may take the leg up one that was not measured.

    The calf goes by a sock that is not begun: it does not change with the rounds that are knitted. A leg that has come
    so far goes on as it is, straight or widening, whatever a new gauge says of its length.
    """
    fit = fit_of(request)
    leg = knitted.get(LEG.key, ())
    widened = any(item.kind == "increase" and is_a_pair(item) for item in leg)
    far = CUFF.key in knitted or fabric_rounds(leg) > SHAPED_BY_CM * fit.leg.rounds
    if request.leg.until == "length" or request.foot.leg_circumference_cm is not None or (far and not widened):
        return fit
    straight, widening = _by_the_yarn(request)
    long = widened or fit.leg.height(straight) > long_leg_cm(request.foot)
    return fit_for_the_calf(request, fit, widening) if long else fit


@lru_cache(maxsize=64)
def _by_the_yarn(request: PlanRequest) -> tuple[int, int]:
    """The rounds that half of the yarn reaches for, of a straight leg and of one that widens for the calf.

    The ways to go on with a sock all ask for it.
    """
    fit, parts = fit_of(request), parts_of(request.construction)
    aim = _aim(request, fit, starting_counts(request, fit))
    straight = _reaches(parts, aim, {})

    def falls_short(high: int) -> bool:
        wider = fit_for_the_calf(request, fit, high)
        shaped = replace(_aim(request, wider, starting_counts(request, wider)), leg_rounds=high)
        pieces, _ = build(parts, shaped, {})
        return not half_reaches(request, [item for piece in pieces for item in piece.rounds], fit.fabric)

    about = about_how_high(request, fit, aim.counts.leg, straight)
    # With several yarns the one that ends first decides, which may be that of the cuff alone.
    if not falls_short(about):
        return straight, about
    return straight, max(1, bisect_left(range(1, about), True, key=falls_short))


def _reaches(parts: Sequence[Part], aim: Aim, knitted: Mapping[str, tuple[Round, ...]]) -> int:
    """The rounds of a leg of one count that half of the yarn reaches for."""
    pieces, _ = build(parts, replace(aim, leg_rounds=nearest(LONGEST_LEG_CM * aim.fit.leg.rounds)), knitted)
    leg = next(piece.rounds for piece in pieces if piece.part is LEG)
    others = [item for piece in pieces if piece.part is not LEG for item in piece.rounds]
    return rounds_for_half(aim.request, leg, others, aim.fabric)


def _until_half_the_yarn(parts: Sequence[Part], aim: Aim, knitted: Mapping[str, tuple[Round, ...]]) -> Aim:
    """The aim with a leg as long as half of the yarn reaches.

    Raises CannotKnitError where half of it does not reach for a sock without a leg.
    """
    reaches = _reaches(parts, aim, knitted)
    if aim.counts.top != aim.counts.leg:
        reaches = _as_far_as_it_reaches(parts, aim, knitted, reaches)
    if not reaches and not knitted:
        given = ", ".join(f"{both_weights(yarn.grams)} of yarn {yarn.key}" for yarn in aim.request.yarns)
        remedy = "take more yarn, or give the leg a length and see what is missing"
        raise CannotKnitError(Fault("leg.until", "", f"half of {given} does not reach for foot and cuff; {remedy}"))
    return replace(aim, leg_rounds=max(1, reaches))


def _as_far_as_it_reaches(parts: Sequence[Part], aim: Aim, knitted: Mapping[str, tuple[Round, ...]], about: int) -> int:
    """The rounds of a shaped leg, whose shaping moves with its length and with it what each round takes."""

    def reaches(leg_rounds: int) -> bool:
        pieces, _ = build(parts, replace(aim, leg_rounds=leg_rounds), knitted)
        return half_reaches(aim.request, [item for piece in pieces for item in piece.rounds], aim.fabric)

    begun = len(knitted.get(LEG.key, ()))
    while about > begun and not reaches(about):
        about -= 1
    while about >= begun and reaches(about + 1) and about < nearest(LONGEST_LEG_CM * aim.fit.leg.rounds):
        about += 1
    return about


def _of_the_leg(pieces: Sequence[Piece]) -> Round | None:
    """The first usual round of the leg."""
    leg = (item for piece in pieces if piece.part is LEG for item in piece.rounds)
    return next((item for item in leg if item.kind == "plain"), None)


@lru_cache(maxsize=64)
def _other_sock(request: PlanRequest) -> LaidOut | None:
    """The sock for the other foot from its cast-on; None where the feet are alike, or it cannot be knitted any more."""
    if not request.two_feet:
        return None
    with suppress(CannotKnitError):
        return _laid_out(request.for_the_other_foot(), {})
    return None


def yarns_of_pair(request: PlanRequest, rounds: Sequence[Round], fabric: Fabric) -> tuple[YarnNeed, ...]:
    """What a sock of these rounds in this fabric takes of each yarn, and the pair with the sock of the other foot."""
    other = _other_sock(request)
    return yarn_needs(request, rounds, fabric, other.rounds() if other else None)


def _thread_of_pair(request: PlanRequest, sock: LaidOut) -> ThreadNeed | None:
    if not request.reinforcing_thread.parts:
        return None
    other = _other_sock(request)
    along, along_the_other = ([*_with_the_thread(request, each.pieces)] if each else None for each in (sock, other))
    return thread_need(request, along or [], sock.aim.fabric, along_the_other)


def _with_the_thread(request: PlanRequest, pieces: Sequence[Piece]) -> Iterator[list[Round]]:
    """The rounds with the reinforcing thread, those that follow each other together."""
    rounds = ((piece.part.holds_the_thread(request, item), item) for piece in pieces for item in piece.rounds)
    return ([item for _, item in run] for held, run in groupby(rounds, key=itemgetter(0)) if held)


def _estimated(fit: Fit) -> tuple[str, ...]:
    return (*fit.body.estimated, *(("gauge.rounds_per_10cm",) if fit.rounds_estimated else ()))
