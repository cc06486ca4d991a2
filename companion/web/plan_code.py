"""A plan in a QR code: what is in the code fills in the form of whoever scans it, without a server between."""

from __future__ import annotations

from flask import Blueprint, Response, abort, render_template, request, url_for
from flask.typing import ResponseReturnValue

from ..drawings.qr import qr_svg
from ..forms.plan_form import PlanForm, form_values
from ..forms.plan_outcome import plan_outcome
from ..pair.as_measured import plan_as_measured
from ..pair.plan_code import plan_letters
from ..planning import read_request
from ..strict_json import UnsoundJSONError, read_json
from .links import whole_address
from .open_pair import open_pair
from .pair.plans import form_page
from .request_args import unit_asked

NO_PLAN = "That code holds no plan that can be read. Scan it again, or ask for the link of the pair."
TOO_LONG = "There is more in this plan than a code takes. Hand on the link of the pair."

bp = Blueprint("plan_code", __name__)


@bp.get("/pair/<link>/code.svg")
def code(link: str) -> Response:
    """The code that carries the plan of a pair itself; answers 404 where there is more in it than a code takes."""
    pair = open_pair(link)
    letters = plan_letters(plan_as_measured(pair, 1).request, unit_asked(pair.unit)) or abort(404, TOO_LONG)
    return Response(qr_svg(whole_address(f"{url_for('plan_code.scanned')}#{letters}")), mimetype="image/svg+xml")


@bp.get("/handed-on")
def scanned() -> ResponseReturnValue:
    """What a scanned code leads to. The plan is behind the # of its address, which only the browser sees."""
    return render_template("pair/plan_code.html")


@bp.post("/handed-on")
def fill_in() -> ResponseReturnValue:
    """The form of a new pair, filled in with what was in the code."""
    try:
        wanted, _ = read_request(read_json(request.form.get("request", "").encode()))
    except UnsoundJSONError:
        wanted = None
    if wanted is None:
        abort(400, NO_PLAN)
    form = PlanForm(data=form_values(wanted, unit_asked("cm")))
    lead = f"Filled in from the code of “{wanted.title}”. Change whatever differs, the foot first of all."
    return form_page(form, plan_outcome(form), lead=lead)
