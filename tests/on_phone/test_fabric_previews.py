"""Every page that offers ways to go on shows how the pattern looks by each of them, also where a phone makes it."""

from __future__ import annotations

import json
import re
from typing import Any

from companion.on_phone.pages import page_answer
from companion.pair.changing.choice_page import Choice
from companion.planning import Plan

from ..conftest import NOON, entry
from ..planning.asking import planned

LACE = {"length_cm": 16, "stitch_pattern": {"name": "lace rib"}}


def page(choice: Choice, plans: list[Plan], done: int, *log: dict[str, Any]) -> dict[str, str]:
    """The articles of a page by their titles, for a sock that was begun by the first of the plans."""
    at = {"sock": 1, "other_done": 0, "created": NOON.isoformat()}
    revisions = [
        {"number": number, "done": 0 if number == 1 else done, "plan": plan.model_dump(mode="json"), **at}
        for number, plan in enumerate(plans, start=1)
    ]
    pair = {"format": "tapeline pair", "version": 1, "title": "Larch", "unit": "cm", "revisions": revisions}
    text = json.dumps(pair | {"log": [entry(1, kind="go", round=done), *log]})
    address = {"path": "/pair/larch/check/result", "version": "v1", "done": done}
    html = page_answer(choice, text, address)
    articles = re.findall(r"<article.*?</article>", html, re.DOTALL)
    return {re.sub(r"<.*?>", "", re.findall(r"<h[23].*?</h[23]>", one)[0]).split(" <")[0]: one for one in articles}


def checked(plan: Plan, off: float) -> dict[str, str]:
    """The answer of a check of so many times the planned gauge in the leg."""
    gauge = plan.request.gauge
    assert gauge.rounds_per_10cm
    counts = {"stitches": gauge.stitches_per_10cm * off, "rounds": gauge.rounds_per_10cm * off}
    spots = {what: [{"count": round(count, 1), "over_cm": 10}] * 4 for what, count in counts.items()}
    done = plan.span("leg").start + 20
    return page("check", [plan], done, entry(2, kind="check", round=done, data=spots | {"in_pattern": False}))


def looks(article: str) -> int:
    return article.count('<svg class="fabric-preview"')


def test_each_way_after_a_check_shows_its_look_but_for_a_needle_that_changes_no_stitch() -> None:
    ways = checked(planned(leg=LACE, foot_pattern="instep follows the leg"), 0.88)
    needle = {title for title in ways if "needles" in title}
    assert needle
    assert len(ways) >= 4
    assert {title for title, article in ways.items() if looks(article) != 1} == needle


def test_a_plain_sock_has_no_look() -> None:
    ways = checked(planned(leg={"length_cm": 16}), 0.88)
    assert len(ways) >= 4
    assert not any(map(looks, ways.values()))


def test_a_try_on_shows_what_becomes_of_the_pattern() -> None:
    plan = planned(leg=LACE, foot_pattern="instep follows the leg")
    done = plan.span("leg").start + 20
    felt = entry(2, kind="try-on", round=done, data={"where": "leg", "feels": "tight"})
    ways = page("fit", [plan], done, felt)
    assert len(ways) >= 2
    assert all(looks(article) == 1 for article in ways.values())


def test_sock_two_shows_its_look_as_knitted_and_as_planned() -> None:
    plan = planned(leg=LACE, foot_pattern="instep follows the leg")
    other = planned(leg=LACE, foot_pattern="instep follows the leg", foot={"ball_circumference_cm": 25})
    ways = page("second", [plan, other], 60)
    assert len(ways) >= 2
    assert all(looks(article) == 1 for article in ways.values())
