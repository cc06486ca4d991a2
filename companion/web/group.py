"""How a group is doing: where those who share are, and the gauges they met against those they assumed."""

from __future__ import annotations

from collections import Counter

from flask import Blueprint, render_template
from flask.typing import ResponseReturnValue

from ..logbook import SOCKS
from .asked import unit_asked
from .forms import GAUGE_OVER_CM
from .gauge_plot import gauges_svg
from .open_design import led_design
from .open_pair import store
from .people import people

pages = Blueprint("group", __name__)


@pages.get("/design/<link>/group")
def group(link: str) -> ResponseReturnValue:
    """Where those are who share, and how their gauges came out (`?unit=in` for stitches over 4 in)."""
    opened = led_design(link)
    unit = unit_asked("cm")
    shown = list(people(opened.design, opened.version.design))
    gauges = [(person.assumed, person.found) for person in shown if person.found is not None]
    factor = GAUGE_OVER_CM[unit] / GAUGE_OVER_CM["cm"]
    over = "10 cm" if unit == "cm" else "4 in"
    return render_template(
        "group.html",
        link=link,
        design=opened.design,
        people=shown,
        followers=store().designs.count_followers(opened.version.design),
        places={sock: Counter(person.where[sock] for person in shown).most_common() for sock in SOCKS},
        gauges_svg=gauges_svg(gauges, factor, over) if gauges else None,
        unit=unit,
        factor=factor,
        over=over,
    )
