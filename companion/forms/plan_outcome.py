"""What the plan form leads to: the plan with the stitch counts to choose from, or what is wrong. Without Flask."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial

from ..drawings.either_hand import for_either_hand
from ..drawings.sock import sock_svg
from ..planning import CannotKnitError, Plan, PlanRequest, make_plan
from ..planning.construction.construction_words import WAYS
from ..planning.construction.narrower_leg import LEG_ALONE, with_narrower_leg
from .plan_form import PlanForm
from .shoe_size import guess_in_force

SENDS = "Make the plan"
"""The words on the button of the form."""


@dataclass(frozen=True)
class PlanOutcome:
    """What a form leads to. `offered` is the plan with the counts to choose from, `plan` the one chosen.

    `other` is the plan of the other sock, where the feet differ.
    """

    plan: Plan | None = None
    other: Plan | None = None
    offered: Plan | None = None
    faults: list[str] = field(default_factory=list)


def plan_outcome(form: PlanForm, before: PlanRequest | None = None) -> PlanOutcome:
    """The plan that a form asks for; what is wrong stands at the form's fields or in the faults.

    `before` is the request that the form was filled in from, where a plan is changed.
    """
    wanted, others = form.request_asked(before)
    if wanted is None:
        return PlanOutcome(faults=others)
    try:
        nearest = make_plan(wanted)
        plan = _with_choice(nearest, wanted, form.choice.data or "")
    except CannotKnitError as error:
        return PlanOutcome(faults=form.take_faults([error.fault]))
    if plan is None:
        refusal = f"“{form.choice.data}” stitches do not suit this sock. Choose again."
        return PlanOutcome(offered=nearest, faults=[refusal])
    try:
        other = make_plan(plan.request.for_the_other_foot()) if plan.request.two_feet else None
    except CannotKnitError as error:
        return PlanOutcome(offered=nearest, faults=[f"The other foot: {error.fault.message}"])
    return PlanOutcome(plan=plan, other=other, offered=plan.model_copy(update={"choices": nearest.choices}))


def _with_choice(nearest: Plan, wanted: PlanRequest, choice: str) -> Plan | None:
    """The plan with the chosen count, None when it is not offered.

    A count is a consequence of a size: another one than the nearest is asked for by its own ease.
    """
    if not choice:
        return nearest
    for offer in nearest.choices:
        if str(offer.stitches) == choice:
            if offer.chosen:
                return nearest
            if offer.why.startswith(LEG_ALONE):
                return make_plan(with_narrower_leg(wanted, offer.stitches))
            ease = wanted.ease.model_copy(update={"circumference_percent": offer.ease_percent})
            return make_plan(wanted.model_copy(update={"ease": ease}))
    return None


def form_shown(form: PlanForm, outcome: PlanOutcome) -> dict[str, object]:
    """What the form's page shows: what was typed, and what it leads to or what is wrong with it."""
    return {
        "form": form,
        "faults": outcome.faults,
        "choices": outcome.offered,
        **_shown(form, outcome),
        "ways": WAYS,
        "guess": guess_in_force(form),
        "messages": [],
    }


def choices_shown(form: PlanForm) -> dict[str, object]:
    """What the piece of that page shows that has the stitch counts: them, or what is still wrong."""
    outcome = plan_outcome(form)
    refused = [] if form.only_incomplete() else form.refused()
    wrong = [f"{item.label.text}: {form.problem(item)}" for item in refused]
    return {"form": form, **_shown(form, outcome), "messages": [*wrong, *outcome.faults]}


def _shown(form: PlanForm, outcome: PlanOutcome) -> dict[str, object]:
    """What a form leads to: the plan with the counts to choose from, its unit, and the sock drawn."""
    unit, drawn = form.shown_unit(), outcome.plan or outcome.offered
    return {
        "plan": outcome.offered,
        "unit": unit,
        "drawing_svg": for_either_hand(partial(sock_svg, unit=unit), drawn) if drawn else None,
    }
