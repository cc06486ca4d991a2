"""Making a plan: the form, the stitch counts it offers while it is filled in, and the pair that comes of it."""

from __future__ import annotations

from flask import Blueprint, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import CSRFError  # type: ignore[import-untyped]

from ...drawings.stitch_palette import stitches_to_draw_with
from ...forms.pattern_fields import rows_to_draw
from ...forms.plan_form import PlanForm, first_values, form_values
from ...forms.plan_outcome import SENDS, PlanOutcome, choices_shown, form_shown, plan_outcome
from ...forms.shoe_size import fill_in, guess_of
from ...pair.learned_gauges import next_request
from ...words import sentence
from ..links import new_link
from ..open_pair import open_pair
from ..request_args import unit_asked
from ..revising import begin_pair
from ..samples import Sample
from ..server import quotas
from ..server.security import OPEN_TOO_LONG
from .sample_pages import sample_or_404

bp = Blueprint("plans", __name__)


def form_page(
    form: PlanForm,
    outcome: PlanOutcome,
    sample: Sample | None = None,
    lead: str = "",
    template: str = "forms/plan_form.html",
    **more: object,
) -> str:
    """The form as a page, with what it leads to or what is wrong with it."""
    return render_template(template, sample=sample, lead=lead, **{"sends": SENDS, **more}, **form_shown(form, outcome))


def _sample_asked() -> Sample | None:
    key = request.args.get("sample")
    return None if key is None else sample_or_404(key)


@bp.get("/plan")
def new() -> ResponseReturnValue:
    """The form, filled in from a sample where one is asked for (`?sample=`)."""
    sample = _sample_asked()
    unit = unit_asked("cm")
    form = PlanForm(data=form_values(sample.request, unit) if sample else first_values(unit))
    return form_page(form, plan_outcome(form) if sample else PlanOutcome(), sample)


@bp.post("/plan")
def make() -> ResponseReturnValue:
    """Make the pair and go to its plan; or the form again, with what is wrong or with the counts to choose from."""
    form = PlanForm(request.form)
    if form.take_unit():
        return form_page(form, PlanOutcome())
    if "fill" in request.form:
        fill_in(form)
        return form_page(form, PlanOutcome())
    outcome = plan_outcome(form)
    if outcome.plan is None:
        return form_page(form, outcome), 422
    if "show" in request.form:
        return form_page(form, outcome)
    if refused := quotas.refusal(quotas.PAIRS):
        return quotas.shown_again(form_page(form, PlanOutcome(faults=[refused.description or ""])), refused)
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
    return form_page(form, plan_outcome(form), lead=lead)


@bp.post("/plan/choices")
def choices() -> ResponseReturnValue:
    """The stitch counts for the form as it stands, or what is still wrong with it, as a piece of the page."""
    return render_template("forms/choices.html", **choices_shown(PlanForm(request.form)))


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
    return form_page(PlanForm(request.form), PlanOutcome(faults=[OPEN_TOO_LONG])), 400
