"""The planner: a plan is what is left to knit when nothing is knitted yet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from .choices import Counts, choices_of, starting_counts
from .construction import parts_of
from .document import Plan, Round, Section, Sizes
from .feet import ANKLE, HEEL_DIAGONAL
from .fit import Fit, fit_of
from .request import PlanRequest
from .sections.base import Aim, Knitted, Part, Progress
from .sizes import sizes_of
from .verdicts import verdicts_of
from .work import fabric_rounds, fold
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
    rounds, progress = _build(parts, _aim(request, fit, counts), knitted)
    sections = tuple(
        Section(
            key=part.key,
            title=part.title,
            flat=part.flat,
            length_cm=round(fit.fabric.height(fabric_rounds(rounds[part.key])), 2),
            steps=fold(rounds[part.key]),
        )
        for part in parts
        if rounds[part.key]
    )
    sizes = sizes_of(progress, fit.fabric)
    every_round = [item for part in parts for item in rounds[part.key]]
    return Plan(
        title=request.title,
        request=request,
        choices=choices_of(request, fit, counts, begun=bool(knitted)),
        sizes=sizes,
        sections=sections,
        yarn=yarn_needs(request.yarns, every_round, fit.fabric),
        fit=verdicts_of(sizes, fit.body),
        estimated=_estimated(fit),
        warnings=_warnings(request, fit) + progress.warnings,
    )


def sizes_at(plan: Plan, request: PlanRequest) -> Sizes:
    """The sizes that the rounds of a plan have at the gauge of another request for the same sock."""
    fit = fit_of(request)
    sizes = plan.sizes
    aim = _aim(request, fit, Counts(sizes.leg_stitches, sizes.leg_stitches, sizes.foot_stitches))
    knitted = {section.key: section.rounds() for section in plan.sections}
    return sizes_of(_build(parts_of(request.construction), aim, knitted)[1], fit.fabric)


def _aim(request: PlanRequest, fit: Fit, counts: Counts) -> Aim:
    return Aim(fit, counts, request.cuff.rib, request.cuff.length_cm, request.leg.length_cm)


def _build(
    parts: Sequence[Part], aim: Aim, knitted: Mapping[str, tuple[Round, ...]]
) -> tuple[dict[str, tuple[Round, ...]], Progress]:
    rounds: dict[str, tuple[Round, ...]] = {}
    progress = Progress()
    begun = max((number for number, part in enumerate(parts) if knitted.get(part.key)), default=0)
    for number, part in enumerate(parts):
        done = Knitted(knitted.get(part.key, ()), closed=number < begun)
        rounds[part.key], progress = part.build(aim, progress, done)
    return rounds, progress


def _estimated(fit: Fit) -> tuple[str, ...]:
    return (*fit.body.estimated, *(("gauge.rounds_per_10cm",) if fit.rounds_estimated else ()))


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
