"""The first page, and the pair's own pages: the plan and the knitting."""

from __future__ import annotations

from flask import Blueprint, render_template, url_for
from flask.typing import ResponseReturnValue
from jinja2.utils import htmlsafe_json_dumps

from ..logbook import SOCKS
from ..planning.chart import swaps
from ..planning.needles import needle_notes
from ..planning.shoe_sizes import guessed
from ..planning.sizes import round_the_top, stitches_at_the_top
from ..planning.words import abbreviations, section_lines
from .asked import unit_asked
from .colour_shown import colour_shown, yarns_shown
from .constructions import construction_words, flap_words
from .drawing import second_sock_svg, sock_svg
from .knitting import knit_data
from .leading import leading, photo_addresses
from .links import address_of
from .open_pair import open_pair
from .qr import qr_svg
from .samples import samples

pages = Blueprint("pages", __name__)


@pages.get("/")
def index() -> ResponseReturnValue:
    """The first page. Which pairs this browser knows, only the browser knows."""
    return render_template("index.html", samples=list(samples().values()))


@pages.get("/pair/<link>")
def plan(link: str) -> ResponseReturnValue:
    """The plan of a pair, to look at and to print; that of sock 1 where the socks differ."""
    pair = open_pair(link)
    plans = {sock: pair.plan(sock) for sock in SOCKS}
    shown, led = plans[1], leading(pair)
    unit = unit_asked(pair.pair.unit)
    link_url = address_of("pages.knit", link)
    on_needles = needle_notes(shown)
    totals = {sock: len(plans[sock].rounds()) for sock in SOCKS}
    return render_template(
        "plan.html",
        plan=shown,
        unit=unit,
        link_url=link_url,
        qr_svg=qr_svg(link_url),
        drawing_svg=sock_svg(shown, unit),
        top={"stitches": stitches_at_the_top(shown), "cm": round_the_top(shown)},
        chosen=next((choice.stitches for choice in shown.choices if choice.chosen), shown.sizes.leg_stitches),
        second_svg=second_sock_svg(plans[2]) if swaps(plans[2].request) else "",
        construction=construction_words(shown.request.construction),
        flap=flap_words(shown.request.construction),
        link=link,
        knit_url=url_for("pages.knit", link=link),
        logbook_url=url_for("pair_files.logbook", link=link),
        pattern=[
            {
                "title": section.title,
                "key": section.key,
                "length_cm": section.length_cm,
                "needles": on_needles[section.key],
                "lines": section_lines(section),
            }
            for section in shown.sections
        ],
        abbreviations=abbreviations(shown),
        guesses=guessed(shown.request.foot),
        yarns=yarns_shown(shown),
        colour=colour_shown(shown),
        socks=[{"sock": sock, "round": min(pair.done[sock], totals[sock]), "total": totals[sock]} for sock in SOCKS],
        led=led,
        photos=photo_addresses(led.photos, shown, f"/pair/{link}") if led else {},
        cursor=pair.cursor,
        changed=[revision.summary.splitlines() for revision in pair.revisions if revision.summary],
    )


@pages.get("/pair/<link>/knit")
def knit(link: str) -> ResponseReturnValue:
    """The knit page with the pair in it."""
    data = htmlsafe_json_dumps(knit_data(open_pair(link)))
    return render_template("knit.html", pair_json=data, plan_url=url_for("pages.plan", link=link))


@pages.get("/knit")
def knit_shell() -> ResponseReturnValue:
    """The knit page without a pair: kept by the worker for times without network."""
    return render_template("knit.html", pair_json=None)
