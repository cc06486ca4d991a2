"""Making a plan: the form, the stitch counts it offers while it is filled in, and the pair that comes of it."""

from __future__ import annotations

from dataclasses import dataclass, field

from flask import Blueprint, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import CSRFError  # type: ignore[import-untyped]

from ...drawings.sock import sock_svg
from ...drawings.stitch_palette import stitches_to_draw_with
from ...pair.learned import next_request
from ...planning import CannotKnitError, Plan, PlanRequest, make_plan
from ...planning.construction.narrower_leg import LEG_ALONE, with_narrower_leg
from ...words import sentence
from .. import quotas
from ..forms.constructions import WAYS
from ..forms.pattern_fields import rows_to_draw
from ..forms.plan_form import PlanForm, first_values, form_values
from ..forms.shoe_size import fill_in, guess_in_force, guess_of
from ..links import new_link
from ..open_pair import open_pair
from ..request_args import unit_asked
from ..revising import begin_pair
from ..samples import Sample
from ..security import OPEN_TOO_LONG
from .sample_pages import sample_or_404

bp = Blueprint("plans", __name__)


@dataclass(frozen=True)
class Outcome:
    """What a form leads to. `offered` is the plan with the counts to choose from, `plan` the one chosen.

    `other` is the plan of the other sock, where the feet differ.
    """

    plan: Plan | None = None
    other: Plan | None = None
    offered: Plan | None = None
    faults: list[str] = field(default_factory=list)


def planned(form: PlanForm, before: PlanRequest | None = None) -> Outcome:
    """The plan that a form asks for; what is wrong stands at the form's fields or in the faults.

    `before` is the request that the form was filled in from, where a plan is changed.
    """
    wanted, others = form.request_asked(before)
    if wanted is None:
        return Outcome(faults=others)
    try:
        nearest = make_plan(wanted)
        plan = _with_choice(nearest, wanted, form.choice.data or "")
    except CannotKnitError as error:
        return Outcome(faults=form.take_faults([error.fault]))
    if plan is None:
        return Outcome(offered=nearest, faults=[f"“{form.choice.data}” stitches do not suit this sock. Choose again."])
    try:
        other = make_plan(plan.request.for_the_other_foot()) if plan.request.two_feet else None
    except CannotKnitError as error:
        return Outcome(offered=nearest, faults=[f"The other foot: {error.fault.message}"])
    return Outcome(plan=plan, other=other, offered=plan.model_copy(update={"choices": nearest.choices}))


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


def form_page(
    form: PlanForm,
    outcome: Outcome,
    sample: Sample | None = None,
    lead: str = "",
    template: str = "forms/plan_form.html",
    **more: object,
) -> str:
    """The form as a page, with what it leads to or what is wrong with it."""
    return render_template(
        template,
        form=form,
        sample=sample,
        lead=lead,
        **{"sends": "Make the plan", **more},
        faults=outcome.faults,
        choices=outcome.offered,
        **_shown(form, outcome),
        ways=WAYS,
        guess=guess_in_force(form),
        messages=[],
    )


def _shown(form: PlanForm, outcome: Outcome) -> dict[str, object]:
    """What a form leads to: the plan with the counts to choose from, its unit, and the sock drawn."""
    unit, drawn = form.shown_unit(), outcome.plan or outcome.offered
    return {"plan": outcome.offered, "unit": unit, "drawing_svg": sock_svg(drawn, unit) if drawn else None}


def _sample_asked() -> Sample | None:
    key = request.args.get("sample")
    return None if key is None else sample_or_404(key)


@bp.get("/plan")
def new() -> ResponseReturnValue:
    """The form, filled in from a sample where one is asked for (`?sample=`)."""
    sample = _sample_asked()
    unit = unit_asked("cm")
    form = PlanForm(data=form_values(sample.request, unit) if sample else first_values(unit))
    return form_page(form, planned(form) if sample else Outcome(), sample)


@bp.post("/plan")
def make() -> ResponseReturnValue:
    """Make the pair and go to its plan; or the form again, with what is wrong or with the counts to choose from."""
    form = PlanForm(request.form)
    if form.take_unit():
        return form_page(form, Outcome())
    if "fill" in request.form:
        fill_in(form)
        return form_page(form, Outcome())
    outcome = planned(form)
    if outcome.plan is None:
        return form_page(form, outcome), 422
    if "show" in request.form:
        return form_page(form, outcome)
    if refused := quotas.refusal(quotas.PAIRS):
        return quotas.shown_again(form_page(form, Outcome(faults=[refused.description or ""])), refused)
    link = new_link()
    begin_pair(link, outcome.plan, form.shown_unit(), outcome.other)
    return redirect(url_for("pages.plan", link=link), 303)


@bp.get("/pair/<link>/next")
def next_pair(link: str) -> ResponseReturnValue:
    """The form for another pair, filled in from this one, with the gauge that its checks have found."""
    pair = open_pair(link)
    wanted, checks = next_request(pair)
    form = PlanForm(data=form_values(wanted, unit_asked(pair.unit)))
    found = f"the gauge that {'its check' if checks == 1 else f'its {checks} checks'} found" if checks else "its gauge"
    lead = f"Filled in from “{pair.title}”: foot, yarn, needles, and {found}. Change whatever differs."
    return form_page(form, planned(form), lead=lead)


@bp.post("/plan/choices")
def choices() -> ResponseReturnValue:
    """The stitch counts for the form as it stands, or what is still wrong with it, as a piece of the page."""
    form = PlanForm(request.form)
    outcome = planned(form)
    refused = [] if form.only_incomplete() else form.refused()
    wrong = [f"{item.label.text}: {form.problem(item)}" for item in refused]
    return render_template(
        "forms/choices.html",
        form=form,
        **_shown(form, outcome),
        messages=[*wrong, *outcome.faults],
    )


@bp.get("/plan/stitches")
def stitches() -> ResponseReturnValue:
    """The stitches that the chart of a pattern is drawn with, each with its symbol and its words."""
    return jsonify(stitches_to_draw_with())


@bp.post("/plan/stitches")
def stitches_typed() -> ResponseReturnValue:
    """The rounds of rows as they are typed, to be drawn; or why they cannot be."""
    try:
        return jsonify(rows=rows_to_draw(request.form.get("pattern_rows", "")))
    except ValueError as error:
        return jsonify(rows=None, wrong=sentence(str(error)))


@bp.post("/plan/shoe-size")
def shoe_size() -> ResponseReturnValue:
    """What the shoe size in the form lets guess of the foot, for its fields; or why it does not."""
    form = PlanForm(request.form)
    guess = guess_of(form)
    if guess is None:
        return jsonify(says=form.problem(form.shoe_size)), 422
    return jsonify(fields=guess.fields, says=guess.words)


@bp.errorhandler(CSRFError)
def stale(_error: CSRFError) -> ResponseReturnValue:
    """The form as it was filled in, with a fresh token, to be sent once more."""
    return form_page(PlanForm(request.form), Outcome(faults=[OPEN_TOO_LONG])), 400
