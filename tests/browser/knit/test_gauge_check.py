"""A gauge check in the leg, on the phone: what it says, leaving it, accepting it, taking it back."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.planning.asking import planned

from ...conftest import made
from ..checking import count, count_again, take_way
from ..conftest import NewPhone
from ..knitting import Knitting, rounds_of, script_of, section_of
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")

PLACE = 40
"""Rounds done when the check is made: the sample pair is in the leg there."""


@pytest.fixture
def in_the_leg(knitting: Knitting) -> Knitting:
    knitting.go_to_round(PLACE + 1)
    knitting.everything_is_sent()
    expect(knitting.page.locator("#section")).to_have_text("Leg")
    return knitting


@pytest.fixture
def counted(page: Page, server: Server, link: str) -> Knitting:
    """The same place, counted on another phone: for tests that begin elsewhere than on the knit page."""
    server.write(link, made(1, kind="go", round=PLACE))
    return Knitting(page, link)


def check(knitting: Knitting) -> None:
    """27 stitches and 38 rounds over 10 cm at four places, where the sample was planned with 32 and 44."""
    page = knitting.page
    page.get_by_role("link", name="Gauge check").tap()
    count(page, "27", "38")
    count_again(page, 27, 38)


def is_checked(knitting: Knitting, server: Server) -> None:
    """The same check, which the server has got from elsewhere; the page is at what it means."""
    asked = ((1, 27, 10, 38, 10), (3, 24.3, 9, 15.2, 4))
    for number, (places, stitches, wide, rounds, high) in enumerate(asked, start=2):
        spots = {
            "stitches": [{"count": stitches, "over_cm": wide}] * places,
            "rounds": [{"count": rounds, "over_cm": high}] * places,
        }
        server.write(knitting.link, made(number, kind="check", round=PLACE, data={**spots, "needle_mm": 2.25}))
    knitting.page.goto(f"/pair/{knitting.link}/check/result?sock=1&round={PLACE}")


def accept(knitting: Knitting, title: str) -> None:
    take_way(knitting.page, title)
    knitting.is_ready()


def lasting(data: dict[str, Any]) -> dict[str, Any]:
    """The pair but for what a check adds to the logbook and to what is known of the yarn, and where the next pays."""
    return {key: value for key, value in data.items() if key not in {"cursor", "clock", "learned", "check_at"}}


def instructions_of(data: dict[str, Any], sock: int) -> list[Any]:
    """The lines of each round, with the stitch counts."""
    return [(one["before"], one["lines"], one["after"]) for one in rounds_of(data, sock)]


def test_the_result_shows_each_number_and_leaving_it_changes_nothing(in_the_leg: Knitting) -> None:
    before = in_the_leg.data()
    _a_miscount_keeps_what_was_typed(in_the_leg)
    check(in_the_leg)
    _shows_each_number_before_and_after(in_the_leg.page)
    _has_buttons_with_names_of_their_own(in_the_leg.page)
    in_the_leg.page.get_by_role("link", name="Knit on as it is").tap()
    in_the_leg.is_ready()
    in_the_leg.is_at(PLACE)
    assert lasting(in_the_leg.data()) == lasting(before)
    _is_answered_once(in_the_leg)


def _a_miscount_keeps_what_was_typed(in_the_leg: Knitting) -> None:
    page = in_the_leg.page
    page.get_by_role("link", name="Gauge check").tap()
    stitches = page.locator("[name=stitches_1]")
    stitches.fill("12")
    page.get_by_role("button", name="What does that mean?").tap()
    expect(stitches).to_have_value("12")
    expect(stitches).to_have_accessible_description(re.compile("count again"))
    page.get_by_role("link", name="Back to the knitting").tap()
    in_the_leg.is_at(PLACE)


def _shows_each_number_before_and_after(page: Page) -> None:
    page.get_by_text("Your gauge so far").tap()
    expect(page.get_by_role("img", name="Stitches over 10 cm")).to_be_visible()
    expect(page.get_by_role("img", name="Rounds over 10 cm")).to_be_visible()
    number = page.locator("summary", has_text="rounds over 10 cm")
    number.tap()
    expect(page.get_by_text("38 rounds over 10 cm, 15.2 over 4 cm")).to_be_visible()
    expect(page.locator("article", has_text="recommended")).to_have_count(1)
    page.get_by_text("What changes, number by number").tap()
    changes = page.locator(".fold > .changes details")
    told = [" ".join(words.split()) for words in changes.locator("summary").all_text_contents()]
    found = [re.fullmatch(r"(.+), before (.+), after (.+)", words) for words in told]
    assert found
    assert all(one and one[2] != one[3] for one in found)
    stitches = changes.filter(has_text="stitches").first
    expect(stitches.get_by_text("Asked for").first).to_be_hidden()
    stitches.locator("summary").tap()
    expect(stitches.get_by_text("Asked for").first).to_be_visible()


def _has_buttons_with_names_of_their_own(page: Page) -> None:
    """WCAG 2.2, success criterion 2.4.6."""
    page.locator("details.fold").evaluate_all("(all) => all.forEach((one) => (one.open = true))")
    names = (
        page.get_by_role("main")
        .get_by_role("button")
        .evaluate_all("(all) => all.map((one) => one.getAttribute('aria-label') ?? one.innerText)")
    )
    assert len(names) >= 3
    assert len(names) == len(set(names))


def _is_answered_once(knitting: Knitting) -> None:
    page = knitting.page
    line = page.locator("#what-was-done")
    expect(line).to_have_text("Nothing was changed: the sock goes on as planned. What you wrote down is kept.")
    assert "did" not in page.url
    knitting.count(1)
    page.goto(page.url.replace("/knit", "/logbook"))
    expect(page.get_by_text("Decided to knit on as it is")).to_have_count(1)
    page.go_back()
    expect(line).to_have_count(0)


def test_an_accepted_change_reaches_the_gusset_and_sock_two_and_nothing_that_is_knitted(
    counted: Knitting, server: Server
) -> None:
    before = counted.data()
    is_checked(counted, server)
    accept(counted, "Keep the leg stitches")
    counted.is_at(PLACE)
    after = counted.data()
    assert instructions_of(after, 1)[:PLACE] == instructions_of(before, 1)[:PLACE]
    assert instructions_of(after, 1)[PLACE:] != instructions_of(before, 1)[PLACE:]

    expect(counted.page.locator("#plan-changed")).to_be_visible()
    counted.go_to_round(PLACE + 12)  # ten rounds later nothing is said of it any more
    expect(counted.page.locator("#plan-changed")).to_have_count(0)
    _has_a_smaller_gusset(counted, before, after)
    assert instructions_of(after, 2) == instructions_of(after, 1)
    assert script_of(after, 2)["revision"] == 2
    counted.take_up(2)
    counted.is_at(0)
    assert counted.total() == script_of(after, 1)["total"]


def _has_a_smaller_gusset(knitting: Knitting, before: dict[str, Any], after: dict[str, Any]) -> None:
    """Looser stitches fill the same foot with fewer of them: the gusset ends on fewer than it did."""
    old, new = section_of(before, 1, "gusset"), section_of(after, 1, "gusset")
    assert rounds_of(after, 1)[_last(new)]["after"] < rounds_of(before, 1)[_last(old)]["after"]
    assert new["count"] != old["count"]
    knitting.go_to_section("Gusset")
    knitting.is_at(new["first"])
    expect(knitting.page.locator("#number")).to_have_text(f"Round 1 of {new['count']}")


def _last(section: dict[str, Any]) -> int:
    return int(section["first"] + section["count"] - 1)


def test_another_phone_hears_of_a_change_which_can_be_taken_back(
    counted: Knitting, new_phone: NewPhone, server: Server
) -> None:
    before = counted.data()
    other = Knitting(new_phone(server), counted.link).open()
    old = other.total()
    is_checked(counted, server)
    accept(counted, "Keep the leg stitches")
    new = counted.total()
    assert new != old
    assert instructions_of(counted.data(), 1) != instructions_of(before, 1)
    other.done.tap()
    expect(other.progress).to_have_text(f"{PLACE + 1} of {new}")
    expect(other.page.locator("#kept")).to_contain_text("The rest of the plan has changed.")
    other.everything_is_sent()
    counted.take_change_back()
    counted.is_at(PLACE + 1)
    after = counted.data()
    assert [script_of(after, sock) for sock in (1, 2)] == [script_of(before, sock) for sock in (1, 2)]
    assert {**lasting(after), "socks": before["socks"]} == lasting(before), "but for the round of the other phone"


def test_for_ten_rounds_the_knit_page_says_what_changed_and_takes_it_back(counted: Knitting, server: Server) -> None:
    before = counted.data()
    is_checked(counted, server)
    accept(counted, "Change the leg here")
    line = counted.page.locator("#plan-changed")
    expect(line).to_contain_text(re.compile(r"Change the leg here: Leg stitches \d+ → \d+, Foot stitches \d+ → \d+\."))
    expect(line.get_by_role("button", name="Take it back", exact=True)).to_be_visible()
    counted.count(2)
    with counted.page.expect_event("load"):
        line.get_by_role("button", name="Take it back, ripping 2 rounds").tap()
    counted.is_ready()
    counted.is_at(PLACE)
    expect(line).to_have_count(0)
    assert instructions_of(counted.data(), 1) == instructions_of(before, 1)


def test_a_leg_in_pattern_goes_on_with_columns_beside_its_repeats(page: Page, server: Server) -> None:
    """20.7 cm at 29.5 stitches over 10 cm are 61.07: ten repeats of six, and one column more at the centre back."""
    plan = planned(leg={"stitch_pattern": {"name": "basketweave"}}, foot_pattern="instep follows the leg")
    knitting = Knitting(page, server.add_plan(plan)).open()
    knitting.go_to_round(plan.span("leg").start + 31)
    knitting.everything_is_sent()
    page.get_by_role("link", name="Gauge check").tap()
    count(page, "29.5", "44")
    count_again(page, 29.5, 44)
    columns = "Change the leg here, to 10 repeats and 1 plain stitch"
    expect(page.get_by_role("article", name="Change the leg here, to 10 repeats recommended")).to_be_visible()
    way = page.get_by_role("article", name=columns)
    expect(way).to_be_hidden()
    take_way(page, columns)
    knitting.is_ready()
    assert rounds_of(knitting.data(), 1)[plan.span("leg").stop - 1]["after"] == 61
    line = page.locator("#plan-changed")
    expect(line).to_contain_text(f"{columns}: Leg stitches 66 → 61")
    with page.expect_event("load"):
        line.get_by_role("button", name="Take it back", exact=True).tap()
    knitting.is_ready()
    assert rounds_of(knitting.data(), 1)[plan.span("leg").stop - 1]["after"] == 66
