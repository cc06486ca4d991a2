"""A follower opens the link, fills in foot and gauge, and has a pair of her own."""

from __future__ import annotations

import io
import re
from html import unescape

import icalendar
import pytest
from PIL import Image
from werkzeug.test import TestResponse

from companion.planning import Plan, PlanRequest, make_plan
from companion.web.links import follower_link

from ...conftest import Browser
from ..designing import BODY, DESIGN, change, join, lead
from ..pair.changing.test_change import plans


def plan_of(browser: Browser, pair: str) -> Plan:
    store = browser.client.application.extensions["store"]
    return Plan.model_validate_json(store.revisions(store.find_pair(pair))[0].plan)


def test_the_plan_is_the_one_of_the_plan_form_with_the_same_numbers(browser: Browser) -> None:
    pair = join(browser, lead(browser))
    plan = plan_of(browser, pair)
    assert plan == make_plan(
        PlanRequest.model_validate(
            {
                "title": "Larch and moss",
                "foot": {"ball_circumference_cm": 23, "length_cm": 25},
                "gauge": {"stitches_per_10cm": 30, "rounds_per_10cm": 42},
            }
        )
    )
    assert "Larch and moss" in browser.get(f"/pair/{pair}").text


def test_inches_are_the_same_foot(browser: Browser) -> None:
    body = {"unit": "in", "ball_circumference": "9", "foot_length": "9 3/4", "stitches": "30", "rounds": ""}
    request = plan_of(browser, join(browser, lead(browser), **body)).request
    assert request.foot.ball_circumference_cm == pytest.approx(22.86)
    assert request.foot.length_cm == pytest.approx(24.765)
    assert request.gauge.stitches_per_10cm == pytest.approx(30 / 1.016)


def test_a_follower_with_two_feet_gets_a_plan_for_each(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader, other_ball="25", other_length="26")
    one, two = plans(browser, pair)
    assert (two.request.foot.ball_circumference_cm, two.request.foot.length_cm) == (25, 26)
    assert two == make_plan(one.request.for_the_other_foot())
    assert one.request.other_foot.given() == {"ball_circumference_cm": 25, "length_cm": 26}
    assert "Sock two is for the other foot" in browser.get(f"/pair/{pair}").text
    link = follower_link(leader)
    page = unescape(browser.post(f"/join/{link}", {**BODY, "other_ball": "3"}).text)
    assert "Ball of the other foot</a>: You typed “3”. Allowed: 9 to 35" in page
    assert 'value="3"' in page
    wide = lead(browser, yarn_count="2", colour_pattern="chart", chart="AB" * 30)
    answer = browser.post(f"/join/{follower_link(wide)}", {**BODY, "other_ball": "9"})
    assert answer.status_code == 422
    assert "The other foot: " in answer.text


def test_a_follower_chooses_among_the_constructions_allowed(browser: Browser) -> None:
    leader = lead(browser, also_heel="short-row")
    page = browser.get(f"/join/{follower_link(leader)}").text
    assert page.count('name="construction"') == 2
    assert plan_of(browser, join(browser, leader, construction="1")).request.construction.heel == "short-row"
    for other in ("0", "", "2", "-1", "flap"):
        assert plan_of(browser, join(browser, leader, construction=other)).request.construction.heel == "flap"


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"ball_circumference": ""}, "Needed, but missing"),
        ({"stitches": "many"}, "A number is needed here"),
        ({"foot_length": "250"}, "Allowed: 8 to 36 cm"),
        ({"rounds": "90"}, "count both again"),
        ({"ball_circumference": "9", "foot_length": "8", "stitches": "14", "rounds": ""}, "a sock needs"),
    ],
)
def test_what_is_refused_is_reported_and_shown_again(browser: Browser, wrong: dict[str, str], said: str) -> None:
    answer = browser.post(f"/join/{follower_link(lead(browser))}", {**BODY, **wrong})
    assert answer.status_code == 422
    assert said in answer.text.replace("\u00a0", " ")
    assert f'value="{wrong.get("stitches", BODY["stitches"])}"' in answer.text


def test_without_scripts_another_unit_gives_the_form_back_in_it(browser: Browser) -> None:
    address = f"/join/{follower_link(lead(browser))}"
    answer = browser.post(address, {**BODY, "typed_unit": "cm", "unit": "in"})
    assert answer.status_code == 200
    assert 'value="9 7/8"' in answer.text  # 25 cm


def test_a_form_without_its_token_comes_back_as_it_was(browser: Browser) -> None:
    answer = browser.client.post(f"/join/{follower_link(lead(browser))}", data=BODY)
    assert answer.status_code == 400
    assert 'value="42"' in answer.text


def test_a_preview_has_title_words_and_a_picture(browser: Browser) -> None:
    """The Open Graph protocol (ogp.me) wants title, type, image and url, each a whole address where it is one."""
    follower = follower_link(lead(browser))
    page = browser.get(f"/join/{follower}").text
    told = dict(re.findall(r'<meta property="(og:[\w:]+)" content="([^"]*)">', page))
    assert told["og:title"] == DESIGN["title"]
    assert told["og:type"] == "website"
    assert told["og:url"] == f"http://localhost/join/{follower}"
    assert told["og:image"] == f"http://localhost/join/{follower}/sock.png"
    assert "cuff-down, heel flap, wedge toe" in told["og:description"]
    answer = browser.get(f"/join/{follower}/sock.png")
    assert answer.mimetype == "image/png"
    with Image.open(io.BytesIO(answer.data)) as picture:
        picture.verify()
        assert picture.size == (int(told["og:image:width"]), int(told["og:image:height"]))


def test_a_design_that_suits_no_usual_foot_still_has_a_picture(browser: Browser) -> None:
    leader = lead(browser, leg_length="60", cuff_length="40")
    assert browser.get(f"/join/{follower_link(leader)}/sock.png").status_code == 200
    assert browser.get(f"/design/{leader}").status_code == 200


def test_cautions_stand_where_a_design_is_begun_and_handed_on(browser: Browser) -> None:
    """Wool and nylon, slippery soles, strain, diabetic feet: what the trade usually says (common practice)."""
    leader = lead(browser)
    pair = join(browser, leader)
    for address in (f"/join/{follower_link(leader)}", f"/design/{leader}", f"/pair/{pair}"):
        text = browser.get(address).text
        for word in ("irritate", "by hand", "slippery", "Rest hands", "diabetic", "compression", "professional"):
            assert word in text, (address, word)


def test_the_grid_alone_may_be_shown_in_a_frame_and_sets_no_cookie(browser: Browser) -> None:
    """W3C, CSP Level 3, frame-ancestors; RFC 7034, X-Frame-Options."""
    leader = lead(browser)
    follower = follower_link(leader)
    fresh = browser.client.application.test_client()
    answer = fresh.get(f"/join/{follower}/grid")
    assert "frame-ancestors *" in answer.headers["Content-Security-Policy"]
    assert "X-Frame-Options" not in answer.headers
    assert "Set-Cookie" not in answer.headers
    assert "<form" not in answer.text
    assert "<script" not in answer.text
    assert leader not in answer.text
    for path in (f"/join/{follower}", f"/join/{follower}/sock.png", f"/design/{leader}", f"/join/{'A' * 22}/grid"):
        headers = fresh.get(path).headers
        assert "frame-ancestors 'none'" in headers["Content-Security-Policy"], path
        assert headers["X-Frame-Options"] == "DENY", path


def test_the_grid_has_the_counts_that_followers_get(browser: Browser) -> None:
    """A foot of 23 cm is 1.08 times as long; the gauges are 28, 30 and more."""
    leader = lead(browser)
    pair = join(browser, leader, ball_circumference="23", foot_length="24.8", rounds="")
    sizes = plan_of(browser, pair).sizes
    text = browser.get(f"/join/{follower_link(leader)}/grid").text
    legs = text[text.index("round the leg<") :]
    row = re.search(r'<tr><th scope="row">23</th>(.*?)</tr>', legs)
    assert row
    _length, _at_28, at_30, *_ = re.findall(r"<td>(.*?)</td>", row[1])
    assert at_30 == str(sizes.leg_stitches)
    assert "9 1/2" in browser.get(f"/join/{follower_link(leader)}/grid?unit=in").text


def test_the_stages_go_into_a_calendar_under_a_name_that_stays(browser: Browser) -> None:
    """RFC 5545: a date without a time is the same day in every time zone; an event is known by its UID."""
    leader = lead(browser)
    address = f"/join/{follower_link(leader)}/stages.ics"
    answer = browser.get(address)
    assert answer.mimetype == "text/calendar"
    assert "DTSTART;VALUE=DATE:20251109" in answer.text
    assert "SUMMARY:Larch and moss: Leg done" in answer.text
    change(browser, leader, stage_by_1="2025-11-16")
    moved = browser.get(address).text
    assert "DTSTART;VALUE=DATE:20251116" in moved
    assert re.findall("UID:.*", moved) == re.findall("UID:.*", answer.text)
    assert follower_link(leader) not in re.findall("UID:.*", moved)[0]


def uids(browser: Browser, leader: str) -> dict[str, str]:
    """Under which name each stage is known to calendars."""
    text = browser.get(f"/join/{follower_link(leader)}/stages.ics").text
    calendar = icalendar.Calendar.from_ical(text)
    return {str(event["SUMMARY"]).partition(": ")[2]: str(event["UID"]) for event in calendar.walk("VEVENT")}


def test_a_stage_keeps_its_name_for_calendars_wherever_it_stands(browser: Browser) -> None:
    """RFC 5545, 3.8.4.7: the UID says which event it is."""
    heel = {"stage_name_2": "Heel done", "stage_sock_2": "1", "stage_until_2": "heel", "stage_by_2": "2025-11-16"}
    other = {"stage_name_3": "Turned", "stage_sock_3": "1", "stage_until_3": "heel", "stage_by_3": "2025-11-14"}
    leader = lead(browser, **heel, **other)
    before = uids(browser, leader)
    assert len(set(before.values())) == 3
    turned = {name.replace("_3", "_1"): value for name, value in other.items()}
    leg = {f"stage_{name}_3": DESIGN[f"stage_{name}_1"] for name in ("name", "sock", "until", "by")}
    change(browser, leader, **turned, **heel, **leg)
    assert uids(browser, leader) == before
    change(browser, leader, **turned, **heel, **{**leg, "stage_name_3": "The leg"})
    assert uids(browser, leader)["The leg"] == before["Leg done"]
    assert not set(uids(browser, lead(browser, **heel)).values()) & set(before.values())


def test_a_calendar_can_follow_the_stages_under_an_address_that_stays(browser: Browser) -> None:
    leader = lead(browser)
    address = f"localhost/join/{follower_link(leader)}/stages.ics"
    for page in (f"/join/{follower_link(leader)}", f"/design/{leader}"):
        assert f'href="webcal://{address}"' in browser.get(page).text
    assert "REFRESH-INTERVAL;VALUE=DURATION:PT6H" in browser.get(address.removeprefix("localhost")).text, "RFC 7986"


def test_a_follower_who_cannot_measure_starts_from_a_shoe_size(browser: Browser) -> None:
    leader = lead(browser)
    shoe = {"shoe_system": "UK", "shoe_size": "5"}
    page = browser.post(f"/join/{follower_link(leader)}", {**BODY, **shoe, "fill": "shoe"}).text
    fields = dict(re.findall(r'name="(ball_circumference|foot_length)" type="text" value="([^"]+)"', page))
    # UK sizes are 3 x the length in inches - 23: 28 / 3 in are 23.7 cm.
    assert fields["foot_length"] == "23.7"
    assert "This is a guess" in page
    pair = join(browser, leader, **shoe, **fields)
    foot = plan_of(browser, pair).request.foot
    assert foot.shoe_size is not None
    assert foot.shoe_size.guessed == ("ball_circumference_cm", "length_cm")
    assert "a guess from UK 5" in browser.get(f"/pair/{pair}").text


def numbers(browser: Browser, leader: str, **changes: str) -> TestResponse:
    return browser.post(f"/join/{follower_link(leader)}", {**BODY, **changes, "numbers": "y"})


def figures(page: str) -> list[dict[str, str]]:
    """The figures of each construction, by their names."""
    card = page[page.index('id="numbers-title"') : page.index('class="join-form"')]
    lists = re.findall(r"<dl.*?</dl>", card, re.DOTALL)
    return [dict(re.findall(r"<dt>(.*?)</dt><dd>(.*?)</dd>", one)) for one in lists]


def test_a_leader_may_show_the_numbers_only_in_a_plan(browser: Browser) -> None:
    """A page that was opened before says why; a plan is made as ever, and the leader can show them again."""
    leader = lead(browser, numbers_hidden="y")
    assert "Only show the numbers" not in browser.get(f"/join/{follower_link(leader)}").text
    refused = numbers(browser, leader)
    assert refused.status_code == 422
    assert "Your leader shows the numbers only in a plan." in refused.text
    assert "Stitches round the leg" not in refused.text
    grid = browser.get(f"/join/{follower_link(leader)}/grid")
    assert grid.status_code == 403
    assert "Your leader shows the numbers only in a plan." in grid.text
    assert "/grid" not in browser.get(f"/design/{leader}").text
    assert browser.get(f"/design/{leader}/sizes").status_code == 200
    assert plan_of(browser, join(browser, leader))
    form = browser.get(f"/design/{leader}/edit").text
    assert re.search(r'name="numbers_hidden" value="y" checked', form)
    kept = browser.get(f"/design/{leader}/design.json").get_json()
    assert kept["numbers_hidden"] is True
    assert "numbers_hidden" not in browser.get(f"/design/{lead(browser)}/design.json").get_json()
    version = re.search(r'name="version"[^>]* value="(\d+)"', form)
    assert version
    shown = browser.post(f"/design/{leader}/edit", {**DESIGN, "version": version[1]})
    assert shown.status_code == 303
    assert figures(numbers(browser, leader).text)


def test_the_numbers_are_those_of_the_plan_and_no_pair_is_made(browser: Browser) -> None:
    leader = lead(browser, also_heel="short-row")
    answer = numbers(browser, leader)
    assert answer.status_code == 200
    assert "0 pairs" not in browser.get(f"/design/{leader}").text
    assert "Nobody has made a pair" in browser.get(f"/design/{leader}").text
    flap, short_row = figures(answer.text)
    plan = plan_of(browser, join(browser, leader))
    sizes = plan.sizes
    assert flap["Stitches round the leg"] == str(sizes.leg_stitches)
    assert flap["Finished sock round the leg, cm"] == f"{sizes.leg_cm:.1f}".removesuffix(".0")
    assert flap["Yarn for the pair, g with a tenth in hand"] == str(round(plan.yarn[0].grams_a_pair))
    assert flap["Over the heel"] == plan.fit[0].verdict
    assert "Rows of the heel flap" in flap
    assert "Rows of the heel flap" not in short_row
    copied = next(unescape(text) for text in re.findall(r'data-link="([^"]*)"', answer.text) if "cm round" in text)
    assert copied.startswith(
        "Larch and moss, for a foot 23 cm round the ball and 25 cm long, at 30 × 42 over 10 cm.\n\n"
        "Cuff-down, heel flap, wedge toe.\nStitches to cast on: "
    )
    assert f"Stitches round the leg: {sizes.leg_stitches}\n" in copied
    assert 'value="42"' in answer.text, "the form stays as it was filled in"


def test_the_numbers_for_two_feet_are_those_of_either_sock(browser: Browser) -> None:
    leader = lead(browser)
    page = unescape(numbers(browser, leader, other_ball="26", other_length="27").text)
    assert "for a foot 23 cm round the ball and 25 cm long and a foot 26 cm round the ball and 27 cm long" in page
    first, second = figures(page)
    one, two = plans(browser, join(browser, leader, other_ball="26", other_length="27"))
    for shown, plan in ((first, one), (second, two)):
        assert str(plan.sizes.leg_stitches) in " ".join(shown.values())
    assert one.sizes.leg_stitches != two.sizes.leg_stitches


def test_the_numbers_are_in_the_unit_of_the_form(browser: Browser) -> None:
    body = {"unit": "in", "ball_circumference": "9", "foot_length": "9 3/4", "stitches": "30", "rounds": ""}
    [found] = figures(numbers(browser, lead(browser), **body).text)
    assert re.fullmatch(r"\d+( \d/\d)?", found["Finished sock round the leg, in"])
    assert not any("cm" in name for name in found)


def test_numbers_that_are_no_foot_are_refused_and_a_sock_that_cannot_be_says_why(browser: Browser) -> None:
    leader = lead(browser)
    assert numbers(browser, leader, foot_length="250").status_code == 422
    small = {"ball_circumference": "9", "foot_length": "8", "stitches": "14", "rounds": ""}
    answer = numbers(browser, leader, **small)
    assert answer.status_code == 200
    assert "a sock needs" in answer.text.lower()


def test_the_page_shows_the_sock_before_anybody_joins(browser: Browser) -> None:
    plain = browser.get(f"/join/{follower_link(lead(browser, rib='k3 p1', yarn_name='fingering, moss'))}").text
    for words in ('class="sock-shape"', "k3 p1", "fingering, moss", "14 cm", "5 1/2 in", "In plain knitting, over"):
        assert words in plain.replace("\u00a0", " "), words
    colours = {"colour_pattern": "chart", "chart": "AABB\nABBA", "yarn_count": "2"}
    stranded = browser.get(f"/join/{follower_link(lead(browser, **colours))}").text
    assert 'class="sock-shape in-colour"' in stranded
    assert "In the colour pattern, in the round, over" in stranded
