"""How a group is doing: where those who share are, and the gauges they met against those they assumed."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import lru_cache

from flask import Blueprint, render_template
from flask.typing import ResponseReturnValue

from ..logbook import SOCKS, Sock
from ..planning.design import Design, rounds_until
from ..store import DamagedPairError
from ..store.designs import Share
from ..strict_json import UnsoundJSONError, read_json
from .forms import GAUGE_OVER_CM
from .gauge_plot import gauges_svg
from .open_design import led_design
from .open_pair import OpenPair, store
from .pages import unit_asked

pages = Blueprint("group", __name__)


@dataclass(frozen=True)
class Glimpse:
    """What the group's page needs of a plan: its stitch gauge, the leg's size, and where its sections end."""

    stitches_per_10cm: float
    measured: bool
    leg_stitches: int
    leg_cm: float
    ends: dict[str, int]
    titles: dict[str, str]


@dataclass(frozen=True)
class Person:
    """A follower who shares. `found` is the gauge measured, `size` the leg's stitches and cm if that is shared too."""

    name: str
    where: dict[Sock, str]
    stages: tuple[str, ...]
    assumed: float
    found: float | None
    size: tuple[int, float] | None


@lru_cache(maxsize=2048)
def _glimpse(text: str) -> Glimpse | None:
    """The plan in a revision, read no further than needed: a large group has thousands; None when it does not read."""
    try:
        plan = read_json(text.encode("utf-8", "surrogatepass"))
        gauge = plan["request"]["gauge"]
        done = 0
        ends, titles = {}, {}
        for section in plan["sections"]:
            done += sum(step["times"] * len(step["rounds"]) for step in section["steps"])
            ends[section["key"]], titles[section["key"]] = done, section["title"]
        return Glimpse(
            float(gauge["stitches_per_10cm"]),
            gauge["basis"] == "measured",
            int(plan["sizes"]["leg_stitches"]),
            float(plan["sizes"]["leg_cm"]),
            ends,
            titles,
        )
    except (UnsoundJSONError, LookupError, TypeError, ValueError):
        return None


def _where(plan: Glimpse, done: int) -> str:
    """The section that a sock is in, without the rounds, which would tell the length of a foot."""
    if not done:
        return "not begun"
    return next((plan.titles[key].lower() for key, end in plan.ends.items() if done < end), "finished")


def _person(pair: OpenPair, share: Share, design: Design) -> Person | None:
    plans = {sock: _glimpse(pair.followed[sock].plan) for sock in SOCKS}
    first, one, two = _glimpse(pair.revisions[0].plan), plans[1], plans[2]
    if first is None or one is None or two is None:
        return None
    both: dict[Sock, Glimpse] = {1: one, 2: two}
    newest = _glimpse(pair.revisions[-1].plan) or one
    return Person(
        name=share.first_name,
        where={sock: _where(both[sock], pair.done[sock]) for sock in SOCKS},
        stages=tuple(
            stage.name
            for stage in design.stages
            if pair.done[stage.sock] >= rounds_until(both[stage.sock].ends, stage.until)
        ),
        assumed=first.stitches_per_10cm,
        found=newest.stitches_per_10cm if newest.measured else None,
        size=(one.leg_stitches, one.leg_cm) if share.size else None,
    )


def people(design: Design, number: int) -> list[Person]:
    """Those followers of a design who share, in the order in which they joined."""
    found = []
    for pair, share in store().designs.sharing(number):
        try:
            opened = OpenPair(pair, store().revisions(pair), store().entries(pair))
        except DamagedPairError:
            continue
        if person := _person(opened, share, design):
            found.append(person)
    return found


@pages.get("/design/<link>/group")
def group(link: str) -> ResponseReturnValue:
    """Where those are who share, and how their gauges came out (`?unit=in` for stitches over 4 in)."""
    opened = led_design(link)
    unit = unit_asked("cm")
    shown = people(opened.design, opened.version.design)
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
