"""What a leader leaves to each follower is hers, before she joins, afterwards, and when the design is changed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from companion.planning.request.plan_request import PlanRequest
from companion.web.links import follower_link

from ...conftest import Browser, entry
from ...storing import rows
from ..designing import BODY, DESIGN, change, join, lead, version_of
from .test_follower import plans, take_over
from .test_overview import seen, share

CHOSEN = {
    "arrangement": "long circular",
    "needle_mm": "2.25",
    "leg_length": "10",
    "ease_percent": "8",
    "length_ease": "0.5",
    "yarn_name": "bramble",
    "metres_per_100g": "400",
    "grams": "150",
}
EVERYTHING = ("needles", "leg length", "ease", "yarn")


def lead_leaving(browser: Browser, *parts: str, **changes: str) -> str:
    """A design that leaves some parts to its followers; returns the leader's link."""
    form = {**DESIGN, **changes, "own": list(parts), "csrf_token": browser.token()}
    answer = browser.client.post("/design", data=form)
    assert answer.status_code == 303, answer.text
    return str(answer.headers["Location"]).removeprefix("/design/")


def request_of(browser: Browser, pair: str) -> PlanRequest:
    return plans(browser, pair)[0].request


def chosen_in(wanted: PlanRequest) -> dict[str, object]:
    """What a request has of all that may be left to followers."""
    yarn = wanted.yarns[0]
    return {
        "needles": (wanted.needles.arrangement, wanted.needles.size_mm),
        "leg length": wanted.leg.length_cm,
        "ease": (wanted.ease.circumference_percent, wanted.ease.length_cm),
        "yarn": (yarn.name, yarn.metres_per_100g, yarn.grams),
    }


HERS = {
    "needles": ("long circular", 2.25),
    "leg length": 10.0,
    "ease": (8.0, 0.5),
    "yarn": ("bramble", 400.0, 150.0),
}
LAID_DOWN = {
    "needles": ("double-pointed", 2.5),
    "leg length": 14.0,
    "ease": (10.0, 1.0),
    "yarn": ("sock yarn", 420.0, 100.0),
}


@pytest.mark.parametrize("left", [(), *((part,) for part in EVERYTHING), EVERYTHING], ids=str)
def test_only_what_is_left_to_her_is_the_followers_choice(browser: Browser, left: tuple[str, ...]) -> None:
    leader = lead_leaving(browser, *left)
    found = chosen_in(request_of(browser, join(browser, leader, **CHOSEN)))
    assert found == {part: (HERS if part in left else LAID_DOWN)[part] for part in EVERYTHING}
    assert chosen_in(request_of(browser, join(browser, leader))) == LAID_DOWN, "who says nothing knits as designed"
    page = browser.get(f"/join/{follower_link(leader)}").text
    for part, field in zip(EVERYTHING, ("needle_mm", "leg_length", "ease_percent", "grams"), strict=True):
        assert (f'name="{field}"' in page) == (part in left)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"leg_length": "long"}, "A number is needed here"),
        ({"needle_mm": "40"}, "Allowed: 1 to 8"),
        ({"arrangement": "knitting nancy"}, "Needles"),
        ({"grams": "9999999"}, "Yarn at hand"),
    ],
)
def test_a_choice_that_cannot_be_is_said_at_its_field(browser: Browser, wrong: dict[str, str], said: str) -> None:
    leader = lead_leaving(browser, *EVERYTHING)
    answer = browser.post(f"/join/{follower_link(leader)}", {**BODY, **wrong})
    assert answer.status_code == 422
    assert said in answer.text


@pytest.mark.parametrize(("length", "leg"), [("25", 14), ("22", 14), ("16.5", 10.5), ("11", 7)])
def test_a_childs_foot_gets_a_childs_leg_where_the_leg_is_left_to_followers(
    browser: Browser, length: str, leg: float
) -> None:
    """In proportion to a foot of 22 cm: 14 cm x 16.5 / 22 = 10.5 cm."""
    ball = {"25": "23", "22": "21", "16.5": "17", "11": "13"}[length]
    body = {"ball_circumference": ball, "foot_length": length}
    left, kept = lead_leaving(browser, "leg length"), lead(browser)
    assert request_of(browser, join(browser, left, **body)).leg.length_cm == leg
    assert request_of(browser, join(browser, left, **body, leg_length="12")).leg.length_cm == 12
    assert request_of(browser, join(browser, kept, **body)).leg.length_cm == 14


def test_what_she_chose_stays_hers_when_the_design_is_changed(browser: Browser) -> None:
    leader = lead_leaving(browser, *EVERYTHING)
    own, other = join(browser, leader, **CHOSEN), join(browser, leader)
    left = {"version": version_of(browser, leader), "own": list(EVERYTHING)}
    changed = {**DESIGN, **left, "rib": "k1 p1", "leg_length": "16"}
    answer = browser.client.post(f"/design/{leader}/edit", data={**changed, "csrf_token": browser.token()})
    assert answer.status_code == 303
    for pair, leg in ((own, 10), (other, 16)):
        assert take_over(browser, pair, 2) == 303
        wanted = request_of(browser, pair)
        assert (wanted.cuff.rib, wanted.leg.length_cm) == ("k1 p1", leg)
    assert chosen_in(request_of(browser, own)) == HERS
    change(browser, leader, rib="k3 p1")
    assert take_over(browser, own, 3) == 303
    assert chosen_in(request_of(browser, own)) == LAID_DOWN, "nothing is left to followers any more"


def test_a_mistyped_foot_is_put_right_before_the_cast_on_and_counts_once(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader, ball_circumference="32")
    share(browser, pair, "Ortrun")
    page = browser.get(f"/pair/{pair}/change").text
    newest = re.search(r'name="newest" value="(\d+)"', page)
    assert newest
    right = {**BODY, "title": "Larch and moss", "newest": newest[1], "rib": "k2 p2", "leg_length": "14"}
    assert browser.post(f"/pair/{pair}/change", right).status_code == 303
    assert request_of(browser, pair).foot.ball_circumference_cm == 23
    assert "1 pair made" in browser.get(f"/design/{leader}").text
    assert "1 of 1 pair shared" in seen(browser, leader)
    change(browser, leader, rib="k1 p1")
    assert take_over(browser, pair, 2) == 303
    wanted = request_of(browser, pair)
    assert (wanted.foot.ball_circumference_cm, wanted.cuff.rib) == (23, "k1 p1")


def test_who_leaves_the_group_keeps_her_pair_and_is_forgotten_by_the_leader(browser: Browser, store_path: Path) -> None:
    leader = lead(browser)
    pair, stays = join(browser, leader), join(browser, leader)
    for one, name in ((pair, "Ortrun-Annegret"), (stays, "Wiebke")):
        share(browser, one, name, size="y")
    seen(browser, leader)
    browser.post_json(f"/pair/{pair}/log", {"entries": [entry(1, kind="go", round=30)]})
    before = plans(browser, pair)
    assert browser.post(f"/pair/{pair}/leave", {}).status_code == 303
    assert plans(browser, pair) == before
    page = browser.get(f"/pair/{pair}").text
    assert "Sock 1: 30 of" in page
    assert "With the group" not in page
    assert "notes" not in browser.get(f"/pair/{pair}/pair.json").get_json()
    assert "1 pair made" in browser.get(f"/design/{leader}").text
    assert "1 of 1 pair shared" in seen(browser, leader)
    assert browser.post(f"/pair/{pair}/leave", {}).status_code == 404
    for table in ("followers", "shares", "standings"):
        assert len(rows(store_path, f"SELECT pair FROM {table}")) == 1
    for path in store_path.parent.iterdir():
        assert b"Ortrun-Annegret" not in path.read_bytes()


def test_the_leaders_name_and_word_greet_those_who_join(browser: Browser) -> None:
    leader = lead(browser, leader="Femke <of> the hall", welcome="Bring a tape.\r\nWe begin on Monday.")
    page = browser.get(f"/join/{follower_link(leader)}").text
    assert "From Femke &lt;of&gt; the hall. </b>Bring a tape.\nWe begin on Monday." in page
    assert "From " not in browser.get(f"/join/{follower_link(lead(browser))}").text
