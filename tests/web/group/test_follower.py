"""What a pair has from its design: notes, stages, and changes that are offered and never forced."""

from __future__ import annotations

from html import unescape
from itertools import product

import pytest

from companion.planning import Plan
from companion.web.group.followed_design import followed_design
from companion.web.open_pair import open_pair

from ...conftest import Browser, entry
from ..designing import change, join, lead
from ..pair.changing.test_change import count


def plans(browser: Browser, pair: str) -> list[Plan]:
    """The plan that each sock is knitted by."""
    with browser.client.application.test_request_context():
        opened = open_pair(pair)
        return [opened.plan(1), opened.plan(2)]


def ribs(browser: Browser, pair: str) -> list[str]:
    return [plan.request.cuff.rib for plan in plans(browser, pair)]


def take_over(browser: Browser, pair: str, version: int, **fields: str) -> int:
    return browser.post(f"/pair/{pair}/design", {"version": str(version), **fields}).status_code


def test_notes_and_stages_go_to_the_knit_page(browser: Browser) -> None:
    pair = join(browser, lead(browser))
    data = browser.get(f"/pair/{pair}/pair.json").get_json()
    assert data["notes"] == dict.fromkeys(("heel-flap", "heel-turn"), "Slip the first stitch of every row.")
    assert data["time_zone"] == "Europe/Berlin"
    [stage] = data["stages"]
    sections = {section["key"]: section for section in data["scripts"][0]["sections"]}
    assert stage == {
        "name": "Leg done",
        "sock": 1,
        "round": sections["leg"]["first"] + sections["leg"]["count"],
        "other": 0,
        "by": "2025-11-09",
    }


def test_a_pair_of_ones_own_has_nothing_of_a_leader(browser: Browser, link: str) -> None:
    data = browser.get(f"/pair/{link}/pair.json").get_json()
    assert not {"notes", "stages", "time_zone"} & set(data)
    assert "With the group" not in browser.get(f"/pair/{link}").text
    for address in ("design", "share", "share/withdraw"):
        assert browser.post(f"/pair/{link}/{address}", {}).status_code == 404
    assert browser.get(f"/pair/{link}/design").status_code == 404


def test_the_plan_page_has_the_pace(browser: Browser) -> None:
    """The tests' clock stands at Monday noon; until Sunday is over there are seven days, today among them."""
    pair = join(browser, lead(browser))
    text = browser.get(f"/pair/{pair}").text
    rounds = browser.get(f"/pair/{pair}/pair.json").get_json()["stages"][0]["round"]
    assert f"{rounds} rounds left, {-(-rounds // 7)} a day" in text
    assert "by Sun 9 Nov 2025" in text
    browser.post_json(f"/pair/{pair}/log", {"entries": [entry(1, kind="go", round=rounds)]})
    assert "sock 1 by Sun 9 Nov 2025: <b>done</b>" in browser.get(f"/pair/{pair}").text


def test_new_notes_and_days_reach_everybody_and_change_no_plan(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    before = plans(browser, pair)
    change(browser, leader, note_heel="Garter edge, please.", stage_by_1="2025-11-16")
    data = browser.get(f"/pair/{pair}/pair.json").get_json()
    assert data["notes"]["heel-flap"] == "Garter edge, please."
    assert data["stages"][0]["by"] == "2025-11-16"
    assert "The design has been changed" not in browser.get(f"/pair/{pair}").text
    assert plans(browser, pair) == before


def test_a_change_is_offered_and_nothing_changes_until_it_is_taken(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    change(browser, leader, rib="k1 p1", leg_length="10")
    assert "The design has been changed" in browser.get(f"/pair/{pair}").text
    page = browser.get(f"/pair/{pair}/design").text.replace("\u00a0", " ")
    for what in ("Ribbing", "k2 p2", "k1 p1", "14 cm", "10 cm"):
        assert what in page
    assert ribs(browser, pair) == ["k2 p2", "k2 p2"]
    assert take_over(browser, pair, 2) == 303
    assert ribs(browser, pair) == ["k1 p1", "k1 p1"]
    page = browser.get(f"/pair/{pair}").text
    assert "The design has been changed" not in page
    assert "Ribbing: k2 p2 → k1 p1" in page


def test_a_foot_and_a_gauge_stay_the_followers_own(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader, ball_circumference="21", stitches="34", rounds="")
    before = plans(browser, pair)[0].request
    change(browser, leader, rib="k1 p1")
    take_over(browser, pair, 2)
    after = plans(browser, pair)[0].request
    assert (after.foot, after.gauge, after.construction) == (before.foot, before.gauge, before.construction)


BEGUN = list(product((0, 1, 40), repeat=2))


@pytest.mark.parametrize("begun", BEGUN)
def test_a_sock_that_is_begun_stays_as_it_is(browser: Browser, begun: tuple[int, int]) -> None:
    """Every mixture of socks begun and not: only the plan of one without a count may become another."""
    leader = lead(browser)
    pair = join(browser, leader)
    entries = [entry(sock, sock=sock, kind="go", round=place) for sock, place in enumerate(begun, 1) if place]
    browser.post_json(f"/pair/{pair}/log", {"entries": entries})
    before = plans(browser, pair)
    change(browser, leader, rib="k1 p1")
    assert take_over(browser, pair, 2) == (409 if all(begun) else 303)
    for place, old, new in zip(begun, before, plans(browser, pair), strict=True):
        assert (old == new) == bool(place)
        assert new.request.cuff.rib == ("k2 p2" if place else "k1 p1")


@pytest.mark.parametrize("begun", BEGUN)
def test_rounds_that_only_the_phone_knows_of_count_as_begun(browser: Browser, begun: tuple[int, int]) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    change(browser, leader, rib="k1 p1")
    fields = {f"round_{sock}": str(place) for sock, place in enumerate(begun, 1)}
    take_over(browser, pair, 2, **fields)
    assert ribs(browser, pair) == ["k2 p2" if place else "k1 p1" for place in begun]


def knit_to(browser: Browser, pair: str, *places: int) -> None:
    entries = [entry(sock, sock=sock, kind="go", round=place) for sock, place in enumerate(places, 1) if place]
    browser.post_json(f"/pair/{pair}/log", {"entries": entries})


@pytest.mark.parametrize("begun", [(3, 0), (3, 2), (60, 0), (60, 60)], ids=str)
def test_a_shorter_leg_is_taken_over_while_the_leg_goes_on_and_what_is_knitted_stays(
    browser: Browser, begun: tuple[int, int]
) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    knit_to(browser, pair, *begun)
    before = plans(browser, pair)
    change(browser, leader, leg_length="12", rib="k1 p1")
    page = browser.get(f"/pair/{pair}/design").text
    assert f"For both socks, after round {max(begun)}. What is knitted stays." in page
    assert "Ribbing" not in page, "the cuff is begun"
    assert take_over(browser, pair, 2) == 303
    for place, old, new in zip(begun, before, plans(browser, pair), strict=True):
        assert new.rounds()[:place] == old.rounds()[:place]
        assert (new.request.leg.length_cm, new.request.cuff.rib) == (12, "k2 p2")
        assert new.count < old.count


def test_a_change_that_was_left_is_not_pointed_out_again_until_there_is_another(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    data = f"/pair/{pair}/pair.json"
    change(browser, leader, rib="k1 p1")
    assert browser.get(data).get_json()["design_changed"]
    assert browser.post(f"/pair/{pair}/design", {"version": "2", "leave": "y"}).status_code == 303
    assert not browser.get(data).get_json()["design_changed"]
    text = browser.get(f"/pair/{pair}").text
    assert "<b>The design has been changed.</b>" not in text
    assert "See what would be different" in text, "it can still be had"
    assert ribs(browser, pair) == ["k2 p2", "k2 p2"]
    change(browser, leader, rib="k1 p1", note_leg="Slowly.")
    assert not browser.get(data).get_json()["design_changed"], "notes are no other sock"
    change(browser, leader, rib="k3 p1")
    assert browser.get(data).get_json()["design_changed"]
    assert "<b>The design has been changed.</b>" in browser.get(f"/pair/{pair}").text


def test_a_finished_pair_hears_of_no_change(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    knit_to(browser, pair, 1000, 1000)
    change(browser, leader, rib="k1 p1")
    assert not browser.get(f"/pair/{pair}/pair.json").get_json()["design_changed"]
    assert take_over(browser, pair, 2) == 409


def test_junk_in_place_of_rounds_is_no_round(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    change(browser, leader, rib="k1 p1")
    assert take_over(browser, pair, 2, round_1="²", round_2="-3") == 303
    assert ribs(browser, pair) == ["k1 p1", "k1 p1"]


def test_a_change_taken_over_can_be_taken_back_and_is_offered_again(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    change(browser, leader, rib="k1 p1")
    take_over(browser, pair, 2)
    assert browser.post(f"/pair/{pair}/check/undo", {"sock": "1"}).status_code == 303
    assert ribs(browser, pair) == ["k2 p2", "k2 p2"]
    assert "The design has been changed" in browser.get(f"/pair/{pair}").text


def test_a_design_changed_again_meanwhile_has_to_be_looked_at_again(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    change(browser, leader, rib="k1 p1")
    change(browser, leader, rib="k3 p1")
    assert take_over(browser, pair, 2) == 409
    assert ribs(browser, pair) == ["k2 p2", "k2 p2"]


def test_taking_over_twice_makes_one_change(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    change(browser, leader, rib="k1 p1")
    assert [take_over(browser, pair, 2) for _ in range(2)] == [303, 303]
    with browser.client.application.test_request_context():
        assert open_pair(pair).newest == 2


def test_a_change_there_and_back_is_no_change(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    change(browser, leader, rib="k1 p1")
    change(browser, leader)
    with browser.client.application.test_request_context():
        led = followed_design(open_pair(pair))
        assert led
        assert not led.changed
    assert "planned by the design as it is now" in browser.get(f"/pair/{pair}/design").text


def test_a_construction_no_longer_allowed_gives_way_to_the_one_proposed(browser: Browser) -> None:
    leader = lead(browser, also_heel="short-row")
    pair = join(browser, leader, construction="1")
    change(browser, leader)
    page = browser.get(f"/pair/{pair}/design").text
    assert "cuff-down, short-row heel, wedge toe" in page
    take_over(browser, pair, 2)
    assert plans(browser, pair)[0].request.construction.heel == "flap"


def test_a_change_that_does_not_suit_the_foot_leaves_the_pair_alone(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader, ball_circumference="12", foot_length="12", stitches="16", rounds="")
    change(browser, leader, ease_percent="25")
    assert "stays as it is" in browser.get(f"/pair/{pair}/design").text
    assert take_over(browser, pair, 2) == 409


def test_a_changed_design_reaches_both_socks_of_two_feet_each_for_its_own(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader, other_ball="26", other_length="27")
    count(browser, pair, 20)
    change(browser, leader, leg_length="10", rib="k1 p1")
    page = unescape(browser.get(f"/pair/{pair}/design").text)
    assert "For both socks" in page
    assert "The other sock stays as it is" not in page
    assert take_over(browser, pair, 2) == 303
    one, two = plans(browser, pair)
    assert [plan.request.leg.length_cm for plan in (one, two)] == [10, 10]
    assert [plan.request.cuff.rib for plan in (one, two)] == ["k2 p2", "k1 p1"], "the first cuff is knitted"
    assert [plan.request.foot.ball_circumference_cm for plan in (one, two)] == [23, 26]
    assert "is planned by the design as it is now" in browser.get(f"/pair/{pair}/design").text
    assert browser.post(f"/pair/{pair}/check/undo", {"sock": "1", "round": "20"}).status_code == 303
    assert [plan.request.leg.length_cm for plan in plans(browser, pair)] == [14, 14]
    assert "For both socks" in browser.get(f"/pair/{pair}/design").text, "it is offered again"


def test_of_two_feet_a_finished_sock_stays_when_the_design_changes(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader, other_length="27")
    finished, _ = plans(browser, pair)
    count(browser, pair, finished.count)
    change(browser, leader, leg_length="10")
    assert "For sock 2" in browser.get(f"/pair/{pair}/design").text
    assert take_over(browser, pair, 2) == 303
    one, two = plans(browser, pair)
    assert one == finished
    assert two.request.leg.length_cm == 10
