"""A sample project: its plan at once, and a pair made of it."""

from __future__ import annotations

from flask import Blueprint, abort, redirect, render_template, url_for
from flask.typing import ResponseReturnValue

from ...pair.plan_shown import plan_shown
from ...planning import make_plan
from ..links import new_link
from ..open_pair import store
from ..request_args import unit_asked
from ..samples import Sample, samples
from ..server import quotas

bp = Blueprint("sample_pages", __name__)

UNKNOWN = "There is no sample of this name. Start from the first page."


def sample_or_404(key: str) -> Sample:
    """The sample of this name; answers 404 where there is none."""
    return samples().get(key) or abort(404, UNKNOWN)


@bp.get("/sample/<key>")
def show(key: str) -> ResponseReturnValue:
    """The plan of a sample."""
    sample = sample_or_404(key)
    return render_template("pair/sample.html", sample=sample, **plan_shown(make_plan(sample.request), unit_asked("cm")))


@bp.post("/sample/<key>")
def knit(key: str) -> ResponseReturnValue:
    """Make a pair of a sample and go to its plan."""
    plan = make_plan(sample_or_404(key).request)
    quotas.take(quotas.PAIRS)
    link = new_link()
    store().add_pair(link, plan.title, "cm", plan.model_dump_json())
    return redirect(url_for("pages.plan", link=link), 303)
