"""How a group is doing: where those who share are, and the gauges they met against those they assumed."""

from __future__ import annotations

from typing import Any, NamedTuple
from urllib.parse import urlencode

from flask import Blueprint, render_template, request
from flask.typing import ResponseReturnValue

from ...drawings.gauge_plot import gauges_svg
from ...drawings.group_sock import group_sock_svg
from ...forms.typed_fields import GAUGE_OVER_CM
from ...pair.logbook import SOCKS, Sock
from ...planning.units import Unit
from ...store.seats import Asked
from ...store.standings import Summary
from ..open_pair import store
from ..request_args import unit_asked, whole_number
from .follower import LONGEST_NAME
from .open_design import LedDesign, led_design, usual_plan
from .roster import NAMED, NEEDS, ORDERS, QUIET_DAYS, marks
from .shared_progress import group_summary, people, place_words, roster_of

bp = Blueprint("group", __name__)


MOST_ON_A_PAGE = 100
"""Followers listed one by one on one page (ours): a table that a phone can still scroll through."""


@bp.get("/design/<link>/group")
def group(link: str) -> ResponseReturnValue:
    """Where those are who share, who needs the leader, and how their gauges came out.

    All are counted; one by one they come in an order (`?order=name`), by name (`?name=Femke`) or need (`?need=behind`),
    in parts, each from the follower whose number is asked for (`?from=101`).
    """
    opened = led_design(link)
    unit = unit_asked("cm")
    number = opened.version.design
    counted = group_summary(number)
    return render_template(
        "group/group.html",
        link=link,
        design=opened.design,
        sock_svg=group_sock_svg(
            usual_plan(opened.design),
            marks(
                store().seats.crowds(number, NAMED),
                lambda at: f"?{urlencode({'unit': unit, 'at': at})}#people-title",
            ),
        ),
        sharing=counted.sharing,
        followers=store().designs.count_followers(number),
        places={sock: _most_common(counted, sock) for sock in SOCKS},
        **_listed(opened),
        **_gauges(counted, unit),
    )


def _listed(opened: LedDesign) -> dict[str, Any]:
    """The followers one by one, as the address asks for them."""
    number, roster = opened.version.design, roster_of(opened.design)
    needs = store().seats.needs(number, roster.due)
    asked = Asked(**{name: request.args.get(name, "")[:LONGEST_NAME] for name in ("order", "name", "need", "at")})
    wanted = max(1, whole_number("from") or 1)
    listed, members = store().seats.listed(number, asked, roster.due, wanted, MOST_ON_A_PAGE)
    first = max(1, min(wanted, listed))
    return {
        "people": people(roster, members),
        "listed": listed,
        "asked": asked,
        "orders": ORDERS,
        "needs": {word: (words, needs[word]) for word, words in NEEDS.items()},
        "quiet_days": QUIET_DAYS,
        "part": Part(first, min(first + MOST_ON_A_PAGE - 1, listed)),
        "most": MOST_ON_A_PAGE,
    }


def _gauges(counted: Summary, unit: Unit) -> dict[str, Any]:
    """The gauges that were met, in a unit."""
    factor = GAUGE_OVER_CM[unit] / GAUGE_OVER_CM["cm"]
    over = "10 cm" if unit == "cm" else "4 in"
    svg = gauges_svg(counted.gauges, factor, over) if counted.gauges else None
    return {"gauges_svg": svg, "unit": unit, "factor": factor, "over": over}


def _most_common(counted: Summary, sock: Sock) -> list[tuple[str, int]]:
    """Where those are with a sock, the place with the most of them first."""
    by_place = [(place_words(place), place.followers) for place in counted.places if place.sock == sock]
    return sorted(by_place, key=lambda place: -place[1])


class Part(NamedTuple):
    """The followers on a page, by their numbers from 1 in the order in which they joined."""

    first: int
    last: int
