"""The planner: a plan is what is left to knit when nothing is knitted yet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from .cautions import colours_to_mind, length_missed, measures_to_doubt, yarn_to_mind
from .choices import Counts, choices_of, refuse_too_wide_a_repeat, starting_counts
from .colours import Painter
from .construction import beyond_of, parts_of
from .counts import heel_stitches
from .document import Plan, Round, Section, Sizes
from .faults import CannotKnitError, Fault
from .fit import Fit, fit_of, nearest
from .request import PlanRequest
from .sections.base import Aim, Knitted, Part, Progress
from .sizes import sizes_of
from .verdicts import verdicts_of
from .work import LONGEST_PERIOD, fabric_rounds, fold, of_each
from .yarn import half_reaches, rounds_for_half, shortfalls, yarn_needs


def make_plan(request: PlanRequest) -> Plan:
    """Every round of the sock that is asked for.

    Raises CannotKnitError when the numbers are each allowed but do not make a sock together.
    """
    return carry_on(request, {})


def carry_on(
    request: PlanRequest,
    knitted: Mapping[str, tuple[Round, ...]],
    leg: int | None = None,
    foot: int | None = None,
) -> Plan:
    """The plan whose sections begin with the rounds already knitted, worked out for the gauge of the request.

    `knitted` has the rounds done of each section that was begun, by its key; all but the last are finished.
    `leg` and `foot` give these parts that many stitches instead of the counts that the gauge asks for.
    """
    fit = fit_of(request)
    wanted = starting_counts(request, fit)
    if not knitted:
        refuse_too_wide_a_repeat(request, fit, wanted.top)
    straight = wanted.top == wanted.leg
    leg = leg or wanted.leg
    counts = replace(wanted, top=leg if straight else wanted.top, leg=leg, foot=foot or wanted.foot)
    parts = parts_of(request.construction)
    aim = _aim(request, fit, counts)
    if request.leg.until == "half the yarn":
        aim = _until_half_the_yarn(parts, aim, knitted)
    pieces, progress = _build(parts, aim, knitted)
    longest = max(LONGEST_PERIOD, len(request.leg.chart.rows) if request.leg.chart else 0)
    sections = tuple(
        Section(
            key=piece.part.key,
            title=piece.part.title,
            flat=piece.part.flat,
            length_cm=round(fit.fabric.height(piece.height), 2),
            steps=fold(piece.rounds, longest),
        )
        for piece in pieces
        if piece.rounds
    )
    sizes = sizes_of(progress, fit.fabric)
    every_round = [item for piece in pieces for item in piece.rounds]
    needs = yarn_needs(request, every_round, fit.fabric)
    return Plan(
        title=request.title,
        request=request,
        choices=choices_of(request, fit, counts, begun=bool(knitted)),
        sizes=sizes,
        sections=sections,
        yarn=needs,
        fit=verdicts_of(sizes, fit.body, request.construction.heel),
        estimated=_estimated(fit),
        warnings=(
            *measures_to_doubt(request, fit),
            *yarn_to_mind(request),
            *colours_to_mind(request, fit.fabric),
            *shortfalls(request, needs),
            *progress.warnings,
            *length_missed(aim, progress),
        ),
    )


def sizes_at(plan: Plan, request: PlanRequest) -> Sizes:
    """The sizes that the rounds of a plan have at the gauge of another request for the same sock."""
    fit = fit_of(request)
    sizes = plan.sizes
    aim = _aim(request, fit, Counts(sizes.leg_stitches, sizes.leg_stitches, sizes.leg_stitches, sizes.foot_stitches))
    knitted = {section.key: section.rounds() for section in plan.sections}
    return sizes_of(_build(parts_of(request.construction), aim, knitted)[1], fit.fabric)


def _aim(request: PlanRequest, fit: Fit, counts: Counts) -> Aim:
    leg_rounds = max(1, nearest(request.leg.length_cm * fit.fabric.rounds))
    return Aim(fit, counts, request, beyond_of(request.construction), leg_rounds)


LONGEST_LEG_CM = 60
"""The longest leg that a request may ask for."""


def _until_half_the_yarn(parts: Sequence[Part], aim: Aim, knitted: Mapping[str, tuple[Round, ...]]) -> Aim:
    """The aim with a leg as long as half of the yarn reaches.

    Raises CannotKnitError where half of it does not reach for a sock without a leg.
    """
    pieces, _ = _build(parts, replace(aim, leg_rounds=nearest(LONGEST_LEG_CM * aim.fabric.rounds)), knitted)
    leg = next(piece.rounds for piece in pieces if piece.part.key == "leg")
    others = [item for piece in pieces if piece.part.key != "leg" for item in piece.rounds]
    reaches = rounds_for_half(aim.request, leg, others, aim.fabric)
    if aim.counts.top != aim.counts.leg:
        reaches = _as_far_as_it_reaches(parts, aim, knitted, reaches)
    if not reaches and not knitted:
        given = ", ".join(f"{yarn.grams:g} g of yarn {yarn.key}" for yarn in aim.request.yarns)
        remedy = "take more yarn, or give the leg a length and see what is missing"
        raise CannotKnitError(Fault("leg.until", "", f"half of {given} does not reach for foot and cuff; {remedy}"))
    return replace(aim, leg_rounds=max(1, reaches))


def _as_far_as_it_reaches(parts: Sequence[Part], aim: Aim, knitted: Mapping[str, tuple[Round, ...]], about: int) -> int:
    """The rounds of a shaped leg, whose shaping moves with its length and with it what each round takes."""

    def reaches(leg_rounds: int) -> bool:
        pieces, _ = _build(parts, replace(aim, leg_rounds=leg_rounds), knitted)
        return half_reaches(aim.request, [item for piece in pieces for item in piece.rounds], aim.fabric)

    begun = len(knitted.get("leg", ()))
    while about > begun and not reaches(about):
        about -= 1
    while about >= begun and reaches(about + 1) and about < LONGEST_LEG_CM * aim.fabric.rounds:
        about += 1
    return about


@dataclass(frozen=True)
class Piece:
    """A part as it is built: its rounds, and how many rounds high it is."""

    part: Part
    rounds: tuple[Round, ...]
    height: int


def _build(parts: Sequence[Part], aim: Aim, knitted: Mapping[str, tuple[Round, ...]]) -> tuple[list[Piece], Progress]:
    pieces: list[Piece] = []
    progress = Progress()
    resting = chart_row = 0
    last: Round | None = None
    painter = Painter(aim.request, aim.counts.leg - heel_stitches(aim.counts.leg))
    begun = max((number for number, part in enumerate(parts) if knitted.get(part.key)), default=0)
    for number, part in enumerate(parts):
        before = progress
        done = knitted.get(part.key, ())
        rounds, progress = part.build(aim, before, Knitted(done, closed=number < begun))
        rounds, chart_row = painter.paint(part.key, rounds, len(done), chart_row)
        if last and last.chart_row and not done:
            rounds = painter.others_left(part.key, rounds)
        last = rounds[-1] if rounds else last
        if resting and not part.holder:
            rounds = _beside(resting, rounds)
        resting = rounds[-1].resting if rounds else resting
        # An hourglass of short rows has twice as many rows as it is high.
        hourglass = any(item.kind == "short-row" and item.uses("ds") for item in rounds)
        height = progress.foot_rounds - before.foot_rounds if hourglass else fabric_rounds(rounds)
        pieces.append(Piece(part, rounds, height))
    return pieces, progress


def _beside(resting: int, rounds: tuple[Round, ...]) -> tuple[Round, ...]:
    """The rounds with so many stitches waiting on a holder, unless they say themselves how many."""
    return tuple(of_each(rounds, lambda item: item if item.resting else replace(item, resting=resting)))


def _estimated(fit: Fit) -> tuple[str, ...]:
    return (*fit.body.estimated, *(("gauge.rounds_per_10cm",) if fit.rounds_estimated else ()))
