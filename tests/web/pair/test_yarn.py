"""The page about the yarn that is left, and the leg that it lets one have."""

from __future__ import annotations

import re
from decimal import Decimal
from html import unescape
from typing import Any

import pytest

from ...conftest import Browser, entry


def kept(browser: Browser, link: str, *entries: dict[str, Any]) -> None:
    answer = browser.post_json(f"/pair/{link}/log", {"entries": list(entries)})
    assert len(answer.get_json()["kept"]) == len(entries), answer.get_json()


def weighing(number: int, grams: float, place: int, **changes: Any) -> dict[str, Any]:
    data = {"grams": grams, "yarn": changes.pop("yarn", "A")}
    return entry(number, kind="weighing", round=place, data=data, **changes)


def words(browser: Browser, link: str) -> str:
    """The page's text as it is read, tags left out."""
    answer = browser.get(f"/pair/{link}/yarn")
    assert answer.status_code == 200
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", answer.text.partition("<main")[2])).split())


def form_of(browser: Browser, link: str) -> dict[str, str]:
    page = browser.get(f"/pair/{link}/yarn").text.partition('class="leg-form"')[2]
    return dict(re.findall(r'name="(revision|round_\d|rounds)"[^>]*? value="(\d+)"', page.replace("\n", " ")))


def leg(browser: Browser, link: str) -> dict[str, Any]:
    script = browser.get(f"/pair/{link}/pair.json").get_json()["scripts"][0]
    return next(section for section in script["sections"] if section["key"] == "leg")


def make_leg(browser: Browser, link: str, **changes: str) -> Any:
    return browser.post(f"/pair/{link}/yarn/leg", {**form_of(browser, link), **changes})


def test_nothing_weighed_is_calculated_and_said_so(browser: Browser, link: str) -> None:
    told = words(browser, link)
    assert "Not weighed yet" in told
    assert "Left now 100 g , between 94 g and 106 g" in told
    assert "100 g were there at first, and nothing has been knitted of it since." in told


def test_what_is_left_after_the_pair_is_the_difference_of_the_numbers_beside_it(browser: Browser, link: str) -> None:
    kept(browser, link, entry(1, kind="go", round=60))
    for number in range(8):
        kept(browser, link, weighing(number + 2, 84 + number / 4, 60))
        left = re.search(r"([\d.]+) g less ([\d.]+) g are ([\d.]+) g", words(browser, link))
        assert left
        now, takes, over = map(Decimal, left.groups())
        assert now - takes == over


def test_a_weighing_opens_to_its_sum(browser: Browser, link: str) -> None:
    kept(browser, link, entry(1, kind="go", round=60), weighing(2, 87, 60), entry(3, kind="go", round=70))
    told = words(browser, link)
    assert "Not weighed yet" not in told
    assert re.search(
        r"100 g at the start and 87 g after [\d,]+ stitches: \d\.\d{1,2} g per 1,000 stitches, give or", told
    )
    assert re.search(r"At the newest weighing about 87(\.\d)? g were left; [\d,]+ stitches were knitted since", told)
    assert "cm of yarn a stitch" in told


def test_ripping_is_described_as_ripping(browser: Browser, link: str) -> None:
    kept(browser, link, entry(1, kind="go", round=60), weighing(2, 87, 60), entry(3, kind="go", round=50))
    assert re.search(r"[\d,]+ stitches were ripped since", words(browser, link))


def test_a_slip_of_the_pen_is_left_out(browser: Browser, link: str) -> None:
    kept(browser, link, entry(1, kind="go", round=60), weighing(2, 870, 60), weighing(3, 87, 60))
    assert "87 g , sock 1, leg, after round 42 Leave out 870 g , sock 1, leg, after round 42 Leave out" in words(
        browser, link
    )
    slip = {"entry": weighing(2, 870, 60)["id"]}
    assert browser.post(f"/pair/{link}/yarn/leave-out", slip).status_code == 303
    told = words(browser, link)
    assert "870 g" not in told
    assert "100 g at the start and 87 g after" in told
    assert browser.post(f"/pair/{link}/yarn/leave-out", slip).status_code == 409
    assert browser.post(f"/pair/{link}/yarn/leave-out", {}).status_code == 409


def test_too_little_yarn_is_announced_in_time(browser: Browser) -> None:
    link = browser.make_pair(grams="50")
    kept(browser, link, weighing(1, 50, 0), entry(2, kind="go", round=60), weighing(3, 38, 60))
    told = words(browser, link)
    assert re.search(r"It runs out\. It ends at about sock 2, [a-z ]+, round \d+, between sock [12], ", told)
    assert "Get more of the same dye lot" in told
    assert re.search(r"Short for the pair \d+ g , between \d+ g and \d+ g", told)


def test_the_knit_page_warns_of_weighed_yarn_alone(browser: Browser) -> None:
    link = browser.make_pair(grams="50")

    def warnings() -> list[str]:
        found: list[str] = browser.get(f"/pair/{link}/pair.json").get_json()["yarn_warnings"]
        return found

    assert warnings() == []
    kept(browser, link, weighing(1, 50, 0), entry(2, kind="go", round=60), weighing(3, 38, 60))
    [told] = warnings()
    assert re.fullmatch(r"Yarn: it runs out, at about sock 2, [a-z ]+, round \d+\.", told)
    kept(browser, link, weighing(4, 138, 60))
    [asked] = warnings()
    assert asked.startswith("Yarn: 138 g were weighed and about 38 g expected: was another ball with it")
    assert "Weigh once more" in browser.get(f"/pair/{link}/yarn").text
    kept(browser, link, weighing(5, 138, 60))
    assert warnings() == []
    assert "Weigh once more" not in browser.get(f"/pair/{link}/yarn").text


def test_a_pair_took_what_the_scale_says_it_took(browser: Browser, link: str) -> None:
    """The ball before the first stitch less what is left of it after the last one."""

    def used() -> dict[str, list[float]]:
        found: dict[str, list[float]] = browser.get(f"/pair/{link}/pair.json").get_json()["yarn_used"]
        return found

    total = browser.get(f"/pair/{link}/pair.json").get_json()["scripts"][0]["total"]
    kept(browser, link, weighing(1, 100, 0))
    assert used() == {}, "a ball that was weighed once tells of no stitch"
    moves = [entry(number, kind="go", round=total, sock=number - 1) for number in (2, 3)]
    kept(browser, link, *moves, weighing(4, 38, total, sock=2))
    one, two = used()["A"]
    assert one + two == pytest.approx(100 - 38, abs=1)
    assert one == pytest.approx(two, abs=1)


def test_a_finished_pair_needs_nothing_more(browser: Browser, link: str) -> None:
    total = browser.get(f"/pair/{link}/pair.json").get_json()["scripts"][0]["total"]
    kept(browser, link, *[entry(sock, kind="go", round=total, sock=sock) for sock in (1, 2)])
    told = words(browser, link)
    assert "Done. Nothing more is knitted with it." in told
    assert "The rest of" not in told
    assert "How long the leg may become" not in told


@pytest.mark.parametrize("at_hand", [None, "20", "45", "70"])
@pytest.mark.parametrize("weighed", [None, 0])
@pytest.mark.parametrize("turns", ["", "y"])
def test_a_finished_pair_opens_however_little_yarn_is_left(
    browser: Browser, at_hand: str | None, weighed: int | None, turns: str
) -> None:
    link = browser.make_pair(**{"grams": at_hand} if at_hand else {}, two_at_a_time=turns)
    total = browser.get(f"/pair/{link}/pair.json").get_json()["scripts"][0]["total"]
    kept(browser, link, *[entry(sock, kind="go", round=total, sock=sock) for sock in (1, 2)])
    if weighed is not None:
        kept(browser, link, weighing(3, weighed, total, sock=2))
    assert "Done. Nothing more is knitted with it." in words(browser, link)
    assert browser.get(f"/pair/{link}/knit").status_code == 200
    assert browser.get(f"/pair/{link}/pair.json").get_json()["yarn_warnings"] == []


def test_each_yarn_of_a_chart_is_shown_by_itself(browser: Browser) -> None:
    chart = {"colour_pattern": "chart", "chart": "AB\nBA", "yarn_count": "2"}
    link = browser.make_pair(yarn_name="fog", yarn_name_b="rust <b>", metres_per_100g="400", grams_b="50", **chart)
    kept(browser, link, weighing(1, 48, 0, yarn="B"))
    page = browser.get(f"/pair/{link}/yarn").text
    assert "B: rust &lt;b&gt;" in page
    told = words(browser, link)
    assert "A: fog" in told
    assert "Left now 48 g , between 47 g and 49 g" in told
    assert re.search("yarn [AB] decides", told)


def test_the_leg_gets_the_length_that_is_sure(browser: Browser, link: str) -> None:
    before = leg(browser, link)
    kept(browser, link, weighing(1, 100, 0), entry(2, kind="go", round=30), weighing(3, 94, 30))
    told = re.search(r"Sure to reach (\d+) rounds , [\d.]+ cm .*? Should reach (\d+) rounds", words(browser, link))
    assert told
    assert before["count"] < int(told[1]) < int(told[2])
    assert form_of(browser, link)["rounds"] == str(before["count"])
    assert make_leg(browser, link, rounds=told[1]).status_code == 303
    after = browser.get(f"/pair/{link}/pair.json").get_json()
    assert leg(browser, link)["count"] == int(told[1])
    assert [sock["script"] for sock in after["socks"]] == [0, 0]
    assert f"Leg of {told[1]} rounds, for the yarn" in browser.get(f"/pair/{link}").text
    assert browser.post(f"/pair/{link}/check/undo", {"sock": "1"}).status_code == 303
    assert leg(browser, link) == before


def test_toe_up_the_cuff_has_a_round_to_start_at(browser: Browser) -> None:
    link = browser.make_pair(direction="toe-up", leg_until="half the yarn")
    begin = leg(browser, link)["first"]
    kept(browser, link, weighing(1, 100, 0), entry(2, kind="go", round=begin + 4), weighing(3, 82, begin + 4))
    rounds = form_of(browser, link)["rounds"]
    assert f"Start the cuff after round {rounds} of the leg" in words(browser, link)
    assert make_leg(browser, link).status_code == 303
    assert leg(browser, link)["count"] == int(rounds)


def test_too_little_for_any_leg_is_said(browser: Browser) -> None:
    assert "Too little yarn." in words(browser, browser.make_pair(grams="20"))


@pytest.mark.parametrize("rounds", ["", "-3", "many", "0", "29", "900", "9999999"])
def test_a_leg_that_cannot_be_is_refused_with_what_is_allowed(browser: Browser, link: str, rounds: str) -> None:
    kept(browser, link, entry(1, kind="go", round=48))
    answer = make_leg(browser, link, rounds=rounds)
    assert answer.status_code == 422
    assert re.search(r"Allowed: 30 to \d+\.", unescape(answer.text))
    assert leg(browser, link)["count"] != rounds


def test_a_page_that_is_behind_changes_nothing(browser: Browser, link: str) -> None:
    form = form_of(browser, link)
    kept(browser, link, entry(1, kind="go", round=25))
    assert browser.post(f"/pair/{link}/yarn/leg", form).status_code == 409
    assert browser.post(f"/pair/{link}/yarn/leg", {}).status_code == 409


def test_a_leg_that_is_knitted_stays(browser: Browser, link: str) -> None:
    kept(browser, link, entry(1, kind="go", round=120))
    assert "How long the leg may become" not in words(browser, link)
    form = {"revision": "1", "round_1": "120", "round_2": "0", "rounds": "60"}
    answer = browser.post(f"/pair/{link}/yarn/leg", form)
    assert answer.status_code == 409
    assert "The leg is behind you already" in answer.text


def test_the_length_that_is_planned_changes_nothing(browser: Browser, link: str) -> None:
    assert make_leg(browser, link, rounds=str(leg(browser, link)["count"])).status_code == 303
    assert browser.get(f"/pair/{link}/pair.json").get_json()["scripts"][0]["revision"] == 1


def test_an_unknown_link_has_no_yarn(browser: Browser) -> None:
    assert browser.get(f"/pair/{'A' * 22}/yarn").status_code == 404


def test_the_yarn_of_heel_and_toe_is_weighed_by_the_stitches_of_these_parts(browser: Browser) -> None:
    """None of it is gone before the first heel, and a heel takes some of it."""
    link = browser.make_pair(
        yarn_count="2", yarn_name="moss", yarn_name_b="chalk", grams_b="16", heel_yarn="B", toe_yarn="B"
    )
    sections = browser.get(f"/pair/{link}/pair.json").get_json()["scripts"][0]["sections"]
    first = {section["key"]: section["first"] for section in sections}
    kept(browser, link, entry(1, kind="go", round=first["heel-flap"]))
    told = words(browser, link).partition("Number by number: B: chalk")[2]
    assert "16 g were there at first, and nothing has been knitted of it since." in told
    kept(browser, link, entry(2, kind="go", round=first["gusset"]), weighing(3, 13, first["gusset"], yarn="B"))
    told = words(browser, link).partition("Number by number: B: chalk")[2]
    assert re.search(r"16 g at the start and 13 g after [\d,]+ stitches", told)
