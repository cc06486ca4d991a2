"""How a group is doing: where those who share are, and the gauges they met against those they assumed."""

from __future__ import annotations

from typing import NamedTuple

from flask import Blueprint, render_template
from flask.typing import ResponseReturnValue

from ...drawings.gauge_plot import gauges_svg
from ...pair.logbook import SOCKS, Sock
from ...store.standings import Summary
from ..forms.typed_fields import GAUGE_OVER_CM
from ..open_pair import store
from ..request_args import unit_asked, whole_number
from .open_design import led_design
from .shared_progress import group_summary, people, place_words

bp = Blueprint("group", __name__)


MOST_ON_A_PAGE = 100
"""Followers listed one by one on one page (ours): a table that a phone can still scroll through."""


@bp.get("/design/<link>/group")
def group(link: str) -> ResponseReturnValue:
    """Where those are who share, and how their gauges came out (`?unit=in` for stitches over 4 in).

    All are counted; one by one they come in parts, each from the follower whose number is asked for (`?from=101`).
    """
    opened = led_design(link)
    unit = unit_asked("cm")
    number = opened.version.design
    counted = group_summary(number)
    first = max(1, min(whole_number("from") or 1, counted.sharing))
    factor = GAUGE_OVER_CM[unit] / GAUGE_OVER_CM["cm"]
    over = "10 cm" if unit == "cm" else "4 in"
    return render_template(
        "group/group.html",
        link=link,
        design=opened.design,
        people=people(opened.design, number, first - 1, MOST_ON_A_PAGE),
        sharing=counted.sharing,
        part=Part(first, min(first + MOST_ON_A_PAGE - 1, counted.sharing)),
        most=MOST_ON_A_PAGE,
        followers=store().designs.count_followers(number),
        places={sock: _most_common(counted, sock) for sock in SOCKS},
        gauges_svg=gauges_svg(counted.gauges, factor, over) if counted.gauges else None,
        unit=unit,
        factor=factor,
        over=over,
    )


def _most_common(counted: Summary, sock: Sock) -> list[tuple[str, int]]:
    """Where those are with a sock, the place with the most of them first."""
    by_place = [(place_words(place), place.followers) for place in counted.places if place.sock == sock]
    return sorted(by_place, key=lambda place: -place[1])


class Part(NamedTuple):
    """The followers on a page, by their numbers from 1 in the order in which they joined."""

    first: int
    last: int
