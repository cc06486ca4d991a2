"""The first page, and the pair's own pages: the plan and the knitting."""

from __future__ import annotations

from http import HTTPStatus

from flask import Blueprint, render_template, url_for
from flask.typing import ResponseReturnValue
from jinja2.utils import htmlsafe_json_dumps

from ...drawings.qr import qr_svg
from ...pair.packed import packed
from ...pair.plan_code import plan_letters
from ...pair.plan_shown import pair_plan_shown
from ..group.followed_design import followed_design
from ..links import address_of, is_link
from ..open_pair import open_pair, store
from ..request_args import unit_asked
from ..samples import samples
from ..server.security import EXPORTED_PAIR, USUAL_BODY
from ..server.unchanged import unless_unchanged
from .kept_data import kept_data

bp = Blueprint("pages", __name__)


@bp.get("/")
def index() -> ResponseReturnValue:
    """The first page. Which pairs this browser knows, only the browser knows."""
    return render_template("index.html", samples=list(samples().values()), most_bytes=EXPORTED_PAIR - USUAL_BODY)


@bp.get("/pair/<link>")
@unless_unchanged(token=True)
def plan(link: str) -> ResponseReturnValue:
    """The plan of a pair, to look at and to print; that of sock 1 where the socks differ."""
    pair = open_pair(link)
    unit, led = unit_asked(pair.unit), followed_design(pair)
    shown = pair_plan_shown(pair, unit, pair.cursor, led.design.hidden_until if led else ())
    link_url = address_of("pages.knit", link)
    return render_template(
        "pair/plan.html",
        **shown,
        link=link,
        led=led,
        knit_url=url_for("pages.knit", link=link),
        logbook_url=url_for("pair_files.logbook", link=link),
        link_url=link_url,
        qr_svg=qr_svg(link_url),
        has_code=plan_letters(shown["plan"].request, unit) is not None,
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
        pair_json=htmlsafe_json_dumps(packed(kept_data(pair, link)), separators=(",", ":")),
        plan_url=url_for("pages.plan", link=link),
    )


@bp.get("/made-here")
def made_here_shell() -> ResponseReturnValue:
    """A page without a pair: kept by the worker for those that a phone makes by itself where there is no network."""
    return render_template("pair/made_here.html")


@bp.get("/knit")
def knit_shell() -> ResponseReturnValue:
    """The knit page without a pair: kept by the worker for times without network."""
    return render_template("pair/knit.html", pair_json=None)
