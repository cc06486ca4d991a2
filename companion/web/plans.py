"""Making a plan: the form, the stitch counts it offers while it is filled in, and the pair that comes of it."""

from __future__ import annotations

from dataclasses import dataclass, field

from flask import Blueprint, abort, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import CSRFError  # type: ignore[import-untyped]

from ..planning.document import Plan
from ..planning.faults import CannotKnitError
from ..planning.planner import make_plan
from ..planning.request import PlanRequest, read_request
from .asked import unit_asked
from .constructions import WAYS
from .learned import next_request
from .links import new_link
from .open_pair import open_pair, store
from .plan_form import PlanForm, first_values, form_values
from .samples import Sample, samples
from .shoe_size import fill_in, guess_in_force, guess_of

pages = Blueprint("plans", __name__)


@dataclass(frozen=True)
class Outcome:
    """What a form leads to. `offered` is the plan with the counts to choose from, `plan` the one chosen."""

    plan: Plan | None = None
    offered: Plan | None = None
    faults: list[str] = field(default_factory=list)


def _planned(form: PlanForm) -> Outcome:
    """The plan that a form asks for; what is wrong stands at the form's fields or in the faults."""
    wanted, faults = read_request(form.request_data())
    others = form.take_faults(faults)
    if wanted is None or any(item.errors for item in form):
        return Outcome(faults=others)
    try:
        nearest = make_plan(wanted)
        plan = _with_choice(nearest, wanted, form.choice.data or "")
    except CannotKnitError as error:
        return Outcome(faults=form.take_faults([error.fault]))
    if plan is None:
        return Outcome(offered=nearest, faults=[f"{form.choice.data} stitches do not suit this sock: choose again."])
    return Outcome(plan=plan, offered=plan.model_copy(update={"choices": nearest.choices}))


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
            ease = wanted.ease.model_copy(update={"circumference_percent": offer.ease_percent})
            return make_plan(wanted.model_copy(update={"ease": ease}))
    return None


def _form_page(form: PlanForm, outcome: Outcome, sample: Sample | None = None, lead: str = "") -> str:
    return render_template(
        "plan_form.html",
        form=form,
        sample=sample,
        lead=lead,
        sends="Make the plan",
        faults=outcome.faults,
        choices=outcome.offered,
        plan=outcome.offered,
        unit=form.shown_unit(),
        ways=WAYS,
        guess=guess_in_force(form),
        messages=[],
    )


def _sample_asked() -> Sample | None:
    key = request.args.get("sample")
    if key is None:
        return None
    return samples().get(key) or abort(404, "There is no sample of this name. Start from the first page.")


@pages.get("/plan")
def new() -> ResponseReturnValue:
    """The form, filled in from a sample where one is asked for (`?sample=`)."""
    sample = _sample_asked()
    unit = unit_asked("cm")
    form = PlanForm(formdata=None, data=form_values(sample.request, unit) if sample else first_values(unit))
    return _form_page(form, _planned(form) if sample else Outcome(), sample)


@pages.post("/plan")
def make() -> ResponseReturnValue:
    """Make the pair and go to its plan; or the form again, with what is wrong or with the counts to choose from."""
    form = PlanForm()
    if form.take_unit():
        return _form_page(form, Outcome())
    if "fill" in request.form:
        fill_in(form)
        return _form_page(form, Outcome())
    outcome = _planned(form)
    if outcome.plan is None:
        return _form_page(form, outcome), 422
    if "show" in request.form:
        return _form_page(form, outcome)
    link = new_link()
    store().add_pair(link, outcome.plan.title, form.shown_unit(), outcome.plan.model_dump_json())
    return redirect(url_for("pages.plan", link=link), 303)


@pages.get("/pair/<link>/next")
def next_pair(link: str) -> ResponseReturnValue:
    """The form for another pair, filled in from this one, with the gauge that its checks have found."""
    pair = open_pair(link)
    wanted, checks = next_request(pair)
    form = PlanForm(formdata=None, data=form_values(wanted, unit_asked(pair.pair.unit)))
    found = f"the gauge that {'its check' if checks == 1 else f'its {checks} checks'} found" if checks else "its gauge"
    lead = f"Filled in from “{pair.pair.title}”: foot, yarn, needles, and {found}. Change whatever differs."
    return _form_page(form, _planned(form), lead=lead)


@pages.post("/plan/choices")
def choices() -> ResponseReturnValue:
    """The stitch counts for the form as it stands, or what is still wrong with it, as a piece of the page."""
    form = PlanForm()
    outcome = _planned(form)
    refused = [] if form.only_incomplete() else [item for item in form if item.errors]
    wrong = [f"{item.label.text}: {form.told(item)}" for item in refused]
    return render_template(
        "choices.html",
        form=form,
        plan=outcome.offered,
        unit=form.shown_unit(),
        messages=[*wrong, *outcome.faults],
    )


@pages.post("/plan/shoe-size")
def shoe_size() -> ResponseReturnValue:
    """What the shoe size in the form lets guess of the foot, for its fields; or why it does not."""
    form = PlanForm()
    guess = guess_of(form)
    if guess is None:
        return jsonify(says=form.told(form.shoe_size)), 422
    return jsonify(fields=guess.fields, says=guess.words)


@pages.errorhandler(CSRFError)
def stale(_error: CSRFError) -> ResponseReturnValue:
    """The form as it was filled in, with a fresh token, to be sent once more."""
    form = PlanForm()
    form.validate()
    return _form_page(form, Outcome()), 400
