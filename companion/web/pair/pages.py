"""The first page, and the pair's own pages: the plan and the knitting."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any

from flask import Blueprint, render_template, url_for
from flask.typing import ResponseReturnValue
from jinja2.utils import htmlsafe_json_dumps

from ...drawings.colour_shown import colour_shown, yarns_shown
from ...drawings.qr import qr_svg
from ...drawings.sock import looks_different, second_sock_svg, sock_svg
from ...drawings.stitch_chart import stitches_shown
from ...pair.as_measured import plan_as_measured
from ...pair.handed_on import as_letters
from ...pair.logbook import SOCKS
from ...planning import Plan
from ...planning.construction.sizes import round_the_top, stitches_at_the_top
from ...planning.fit.shoe_sizes import guessed
from ...planning.recalculation.second_sock_options import differences
from ...planning.units import Unit
from ..forms.constructions import WAYS, construction_words, flap_words, short_row_words, toe_start_words
from ..group.followed_design import leading
from ..links import address_of, is_link
from ..open_pair import open_pair, store
from ..request_args import unit_asked
from ..samples import samples
from ..security import EXPORTED_PAIR, USUAL_BODY
from ..unchanged import unless_unchanged
from .kept_data import kept_data

bp = Blueprint("pages", __name__)


@bp.get("/")
def index() -> ResponseReturnValue:
    """The first page. Which pairs this browser knows, only the browser knows."""
    return render_template("index.html", samples=list(samples().values()), most_bytes=EXPORTED_PAIR - USUAL_BODY)


def plan_shown(plan: Plan, unit: Unit, second: Plan | None = None) -> dict[str, Any]:
    """What the pages show of a plan that have its sock, its counts and its fit; `second` is that of sock two."""
    second = second or plan
    return {
        "plan": plan,
        "unit": unit,
        "drawing_svg": sock_svg(plan, unit),
        "second_svg": second_sock_svg(second) if looks_different(second) else "",
        "top": {"stitches": stitches_at_the_top(plan), "cm": round_the_top(plan)},
    }


@bp.get("/pair/<link>")
@unless_unchanged(token=True)
def plan(link: str) -> ResponseReturnValue:
    """The plan of a pair, to look at and to print; that of sock 1 where the socks differ."""
    pair = open_pair(link)
    one, two = (pair.position(sock) for sock in SOCKS)
    shown, led = plan_as_measured(pair, 1), leading(pair)
    unit = unit_asked(pair.unit)
    link_url = address_of("pages.knit", link)
    return render_template(
        "pair/plan.html",
        **plan_shown(shown, unit, two.plan),
        link_url=link_url,
        qr_svg=qr_svg(link_url),
        handed_on=as_letters(shown.request, unit) is not None,
        chosen=next((choice for choice in shown.choices if choice.chosen), None),
        construction=construction_words(shown.request.construction),
        flap=flap_words(shown.request.construction),
        sole=WAYS["sole"][shown.request.construction.sole].name,
        short_rows=short_row_words(shown.request.construction),
        toe_start=toe_start_words(shown.request.construction),
        link=link,
        knit_url=url_for("pages.knit", link=link),
        logbook_url=url_for("pair_files.logbook", link=link),
        guesses=guessed(shown.request.foot),
        yarns=yarns_shown(shown),
        colour=colour_shown(shown),
        stitches=stitches_shown(shown.request.leg.stitch_pattern),
        socks=[{"sock": at.sock, "round": at.done, "total": at.plan.count} for at in (one, two)],
        led=led,
        cursor=pair.cursor,
        undoable=pair.undoable,
        other=two.plan,
        differs=differences(shown, shown.sizes, two.plan, two.plan.sizes) if shown.request.two_feet else (),
        changed=[revision.summary.splitlines() for revision in pair.revisions if revision.summary],
    )


@bp.get("/pair/<link>/knit")
def knit(link: str) -> ResponseReturnValue:
    """The knit page with the pair in it; for a link without a pair, without one: the browser may have kept it."""
    if is_link(link) and store().find_pair(link) is None:
        return render_template("pair/knit.html", pair_json=None, unknown=True), HTTPStatus.NOT_FOUND
    return _knit_page(link)


@unless_unchanged(token=True)
def _knit_page(link: str) -> ResponseReturnValue:
    pair = open_pair(link)
    return render_template(
        "pair/knit.html",
        title=pair.title,
        pair_json=htmlsafe_json_dumps(kept_data(pair, link)),
        plan_url=url_for("pages.plan", link=link),
    )


@bp.get("/knit")
def knit_shell() -> ResponseReturnValue:
    """The knit page without a pair: kept by the worker for times without network."""
    return render_template("pair/knit.html", pair_json=None)
