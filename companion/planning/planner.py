"""The planner: a plan is what is left to knit when nothing is knitted yet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from .choices import Counts, choices_of, starting_counts
from .construction import beyond_of, parts_of
from .document import Plan, Round, Section, Sizes
from .feet import ANKLE, HEEL_DIAGONAL
from .fit import Fit, fit_of
from .request import PlanRequest
from .sections.base import Aim, Knitted, Part, Progress
from .sizes import sizes_of
from .units import both_units
from .verdicts import verdicts_of
from .work import all_ops, fabric_rounds, fold, uses
from .yarn import yarn_needs

USUAL_LENGTH_TO_BALL = (0.85, 1.35)
"""Foot length over ball circumference. The 6,068 feet of ANSUR II lie between 0.91 and 1.29."""

LEAST_NYLON = 15
"""Percent; 15 to 25 % is usual in sock yarn (common practice)."""


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
    counts = replace(wanted, leg=leg or wanted.leg, foot=foot or wanted.foot)
    parts = parts_of(request.construction)
    aim = _aim(request, fit, counts)
    pieces, progress = _build(parts, aim, knitted)
    sections = tuple(
        Section(
            key=piece.part.key,
            title=piece.part.title,
            flat=piece.part.flat,
            length_cm=round(fit.fabric.height(piece.height), 2),
            steps=fold(piece.rounds),
        )
        for piece in pieces
        if piece.rounds
    )
    sizes = sizes_of(progress, fit.fabric)
    every_round = [item for piece in pieces for item in piece.rounds]
    return Plan(
        title=request.title,
        request=request,
        choices=choices_of(request, fit, counts, begun=bool(knitted)),
        sizes=sizes,
        sections=sections,
        yarn=yarn_needs(request.yarns, every_round, fit.fabric),
        fit=verdicts_of(sizes, fit.body),
        estimated=_estimated(fit),
        warnings=_warnings(request, fit) + progress.warnings + _length_told(aim, progress),
    )


def sizes_at(plan: Plan, request: PlanRequest) -> Sizes:
    """The sizes that the rounds of a plan have at the gauge of another request for the same sock."""
    fit = fit_of(request)
    sizes = plan.sizes
    aim = _aim(request, fit, Counts(sizes.leg_stitches, sizes.leg_stitches, sizes.foot_stitches))
    knitted = {section.key: section.rounds() for section in plan.sections}
    return sizes_of(_build(parts_of(request.construction), aim, knitted)[1], fit.fabric)


def _aim(request: PlanRequest, fit: Fit, counts: Counts) -> Aim:
    return Aim(fit, counts, request, beyond_of(request.construction))


@dataclass(frozen=True)
class Piece:
    """A part as it is built: its rounds, and how many rounds high it is."""

    part: Part
    rounds: tuple[Round, ...]
    height: int


def _build(parts: Sequence[Part], aim: Aim, knitted: Mapping[str, tuple[Round, ...]]) -> tuple[list[Piece], Progress]:
    pieces: list[Piece] = []
    progress = Progress()
    resting = 0
    begun = max((number for number, part in enumerate(parts) if knitted.get(part.key)), default=0)
    for number, part in enumerate(parts):
        before = progress
        rounds, progress = part.build(aim, before, Knitted(knitted.get(part.key, ()), closed=number < begun))
        if resting and not part.holder:
            rounds = tuple(item if item.resting else item.model_copy(update={"resting": resting}) for item in rounds)
        resting = rounds[-1].resting if rounds else resting
        # An hourglass of short rows has twice as many rows as it is high.
        hourglass = any(uses(all_ops(item), "ds") for item in rounds)
        height = progress.foot_rounds - before.foot_rounds if hourglass else fabric_rounds(rounds)
        pieces.append(Piece(part, rounds, height))
    return pieces, progress


def _estimated(fit: Fit) -> tuple[str, ...]:
    return (*fit.body.estimated, *(("gauge.rounds_per_10cm",) if fit.rounds_estimated else ()))


def _length_told(aim: Aim, finished: Progress) -> tuple[str, ...]:
    """A warning when the foot will not have the length asked for, to a round."""
    long_by = aim.fabric.height(finished.foot_rounds) - aim.fit.length_target
    if abs(long_by) <= aim.fabric.height(1):
        return ()
    off = f"{both_units(abs(long_by))} {'longer' if long_by > 0 else 'shorter'}"
    return (
        f"The foot becomes {off} than asked: what is knitted, heel and toe leave no other length at this gauge. "
        "Try the sock on as soon as it can be.",
    )


def _warnings(request: PlanRequest, fit: Fit) -> tuple[str, ...]:
    found = []
    ratio = fit.body.length / fit.body.ball
    if not USUAL_LENGTH_TO_BALL[0] <= ratio <= USUAL_LENGTH_TO_BALL[1]:
        found.append(
            f"A foot {fit.body.length:g} cm long is seldom {fit.body.ball:g} cm round the ball: "
            "measure both again before casting on."
        )
    if fit.body.extrapolated:
        found.append(
            "What was not measured is estimated from adult feet, which a foot this small may not follow: "
            "measure the heel and the ankle if you can."
        )
    for yarn in request.yarns:
        if yarn.nylon_percent < LEAST_NYLON:
            found.append(
                f"{yarn.name or 'Yarn'} has {yarn.nylon_percent:g} % nylon; sock yarn usually has 15 to 25 %. "
                "Heel and toe will wear sooner: consider a reinforcing thread there."
            )
    return tuple(found)


ESTIMATE_ERRORS = {
    "foot.heel_diagonal_cm": HEEL_DIAGONAL.residual,
    "foot.ankle_circumference_cm": ANKLE.residual,
}
"""One deviation of each estimate, in cm."""
