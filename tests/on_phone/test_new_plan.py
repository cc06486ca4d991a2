"""The plan form is answered on a phone as the server answers it: with the same pair, and in the same words."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest

from companion.forms.pattern_fields import OWN
from companion.on_phone.form_answer import counts_answer, form_answer

from ..conftest import FORM, NOON, Browser

LINK = "bG9uZy1lbm91Z2gtbGluaw"
"""Made on the phone, as the server makes them."""

TWO_FEET = {"other_ball": "24.5", "other_length": "26"}
FORMS: dict[str, dict[str, str]] = {
    "the least": {},
    "in inches": {"unit": "in", "typed_unit": "in", "ball_circumference": "9", "foot_length": "9 3/4"},
    "two feet, toe-up": {**TWO_FEET, "direction": "toe-up", "heel": "short-row"},
    "another count": {"choice": "60"},
    "stripes": {"yarn_count": "2", "colour_pattern": "stripes", "stripes": "A 4, B 2"},
    "rows of a pattern": {"colour_pattern": "stitches", "stitch_pattern": OWN, "pattern_rows": "k2tog, yo, k2\nk4"},
    "a child": {"ball_circumference": "15", "foot_length": "16", "leg_height": "ankle", "title": ""},
}
WRONG: dict[str, dict[str, str]] = {
    "no number": {"ball_circumference": "wide"},
    "nothing": {"ball_circumference": "", "foot_length": "", "stitches": ""},
    "no such count": {"choice": "61"},
    "a foot that no plan fits": {"ball_circumference": "40", "foot_length": "16"},
    "the other foot": {"other_ball": "400"},
}


def new_plan(changes: dict[str, str]) -> dict[str, Any]:
    fields = [*{**FORM, **changes, "csrf_token": "token"}.items()]
    return {"fields": fields, "link": LINK, "moment": NOON.isoformat(), "version": "v1"}


def main_of(html: str) -> str:
    """What stands in a page, without its line on what was done."""
    found = re.search(r'<main id="main"[^>]*>(.*)</main>', html, re.DOTALL)
    return words(found[1] if found else html)


def words(html: str) -> str:
    """A page's content but for what belongs to one visit or one place: tokens, spaces, the link's code."""
    for left_out in (
        r'name="csrf_token" type="hidden" value="[^"]*"',
        r'<p class="note" id="only-here">.*?</p>',
        r'<details class="fold" id="carry">.*?</details>\s*</section>',
        r"</section>",
    ):
        html = re.sub(left_out, "", html, flags=re.DOTALL)
    return re.sub(r"\s+", " ", html).strip()


@pytest.mark.parametrize("changes", FORMS.values(), ids=FORMS)
def test_the_pair_is_the_one_that_the_server_makes(browser: Browser, changes: dict[str, str]) -> None:
    here = json.loads(json.dumps(form_answer(**new_plan(changes))))
    link = browser.make_pair(**changes)
    there = browser.get(f"/pair/{link}/pair.json").get_json()
    its_own = {name: there[name] for name in ("mark", "epoch")}
    assert {**here["data"], **its_own} == there
    exported = json.loads(browser.get(f"/pair/{link}/export").text)
    assert [one["plan"] for one in here["file"]["revisions"]] == [one["plan"] for one in exported["revisions"]]
    page = browser.get(f"/pair/{link}").text.replace(link, LINK)
    assert main_of(here["plan"]) == main_of(page)


@pytest.mark.parametrize("changes", WRONG.values(), ids=WRONG)
def test_what_is_wrong_is_said_as_the_server_says_it(browser: Browser, changes: dict[str, str]) -> None:
    here = form_answer(**new_plan(changes))
    answer = browser.post("/plan", {**FORM, **changes})
    assert answer.status_code == 422
    assert main_of(here["form"]) == main_of(answer.text)
    assert "Something needs another look" in here["form"]
    assert 'value="token"' in here["form"]


@pytest.mark.parametrize("changes", [*FORMS.values(), *WRONG.values()], ids=[*FORMS, *WRONG])
def test_the_stitch_counts_are_those_of_the_server(browser: Browser, changes: dict[str, str]) -> None:
    answer = browser.post("/plan/choices", {**FORM, **changes})
    assert words(counts_answer(new_plan(changes)["fields"])) == words(answer.text)
