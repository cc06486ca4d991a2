"""How far it is: the drawing fills by stitches, the pace comes from the times of the counts, and the end is kept."""

from __future__ import annotations

import re
import statistics
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from ..given import change_data, chart
from ..knitting import RETRY, Knitting, rounds_of, script_of, section_of
from ..modules import Modules
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")

MORNING = datetime(2025, 11, 3, 9, 0, tzinfo=UTC)


def counts(gaps: Iterable[float], kind: str = "count") -> list[dict[str, Any]]:
    """Entries of sock 1, so many seconds apart, beginning with round 1."""
    moment = MORNING
    entries = [{"at": moment.isoformat(), "sock": 1, "kind": kind, "round": 1}]
    for number, gap in enumerate(gaps, start=2):
        moment += timedelta(seconds=gap)
        entries.append({"at": moment.isoformat(), "sock": 1, "kind": kind, "round": number})
    return entries


def past(modules: Modules, entries: list[dict[str, Any]], stitches: int = 60, days: float = 0) -> Any:
    now = (MORNING + timedelta(days=days, hours=1)).timestamp() * 1000
    rounds = [stitches] * 100
    return modules.call("pair/pace", "knittingSoFar", entries, {"1": rounds, "2": rounds}, now)


@pytest.mark.parametrize("gaps", [[90, 120, 100], [90, 120, 100, 95], [130]])
def test_the_pace_is_the_middle_one_of_the_rounds(modules: Modules, gaps: list[float]) -> None:
    """The median is Python's own (statistics.median)."""
    found = past(modules, counts(gaps))
    assert found["perStitch"] == pytest.approx(statistics.median(gaps) / 60)
    assert found["knitted"] == sum(gaps)


def test_breaks_and_rounds_that_were_only_caught_up_with_are_left_out(modules: Modules) -> None:
    found = past(modules, counts([100, 86_400, 110, 601, 1, 2, 90, 599]))
    assert found["perStitch"] == pytest.approx(statistics.median([100, 110, 90, 599]) / 60)
    assert found["knitted"] == 100 + 110 + 90 + 599
    assert found["last"]["round"] == 9


def test_nothing_is_known_before_the_second_count_and_jumps_tell_nothing(modules: Modules) -> None:
    for entries in ([], counts([]), counts([100, 100], kind="go")):
        assert past(modules, entries)["perStitch"] is None


def test_the_order_of_arrival_does_not_matter(modules: Modules) -> None:
    entries = counts([90, 120, 100])
    assert past(modules, entries[::-1]) == past(modules, entries)


def test_an_ordinary_day_has_days_off_in_it(modules: Modules) -> None:
    """Ten minutes knitted in all, looked at on the fourth day: two and a half a day."""
    found = past(modules, counts([120] * 5), days=3)
    assert found["perDay"] == pytest.approx(600 / 4)
    assert past(modules, counts([120] * 5))["perDay"] is None
    assert past(modules, counts([120] * 5), days=40)["perDay"] is None, "long ago"
    for stitches, days in ((1500, 20), (1501, 21)):
        left = modules.call("pair/pace", "leftOf", stitches, found, 0)
        assert left["seconds"] == pytest.approx(stitches * 120 / 60)
        assert left["day"] == days * 86_400_000


def test_what_is_left_of_a_day_are_the_whole_rounds_that_it_has_time_for(modules: Modules) -> None:
    found = past(modules, counts([120] * 5))
    assert found["today"] == 600
    assert past(modules, counts([120] * 5), days=0.9)["today"] == 0, "the day before, not a day ago"
    for today, seconds, rounds in ((60, 240, 2), (61, 239, 1), (300, 0, 0), (400, 0, 0)):
        day = {**found, "perStitch": 2, "perDay": 300, "today": today}
        left = modules.call("pair/pace", "leftToday", [60] * 3, day)
        assert left == {"seconds": seconds, "rounds": rounds}


def covered(page: Page, cover: str = ".bare") -> float:
    """How much of the drawn sock is yarn, in hundredths."""
    dashes = page.locator(cover).get_attribute("stroke-dasharray")
    assert dashes
    return float(dashes.split()[1])


def worked(data: dict[str, Any]) -> list[float]:
    """Stitches in each round: those after it, or what short rows add in height."""
    heights = script_of(data, 1)["heights"]
    told = rounds_of(data, 1)
    return [round((one["after"] or one["before"]) * (high or 1)) for one, high in zip(told, heights, strict=True)]


def test_the_drawing_fills_by_stitches(knitting: Knitting) -> None:
    stitches = worked(knitting.data())
    knitting.is_complete()
    for place in (0, 60, 150, 229 - 10):
        knitting.go_to_round(place + 1) if place else None
        expect(knitting.page.locator("#how-far")).to_contain_text(f"{place} of")
        expect(knitting.page.locator("#reading")).to_have_attribute("aria-valuenow", str(place + 1))
        assert covered(knitting.page) == pytest.approx(100 * sum(stitches[:place]) / sum(stitches))


def in_colours_with_the_heel_last(data: dict[str, Any]) -> None:
    """Say that the section worked last is of the heel, as an afterthought heel is, and that the leg has a chart."""
    chart(data)
    data["scripts"][0]["sections"][-1]["of"] = "heel"


def test_an_afterthought_heel_is_drawn_last_and_all_in_the_colours_of_the_yarns(page: Page, link: str) -> None:
    change_data(page, in_colours_with_the_heel_last)
    knitting = Knitting(page, link).open()
    knitting.is_complete()
    expect(page.locator(".bare")).to_have_count(1)
    strokes = "(all) => all.map((one) => one.getAttribute('stroke'))"
    assert set(page.locator("#progress-drawing .knitted").evaluate_all(strokes)) == {"#f0e6d0"}
    assert page.locator("#progress-drawing .second-yarn").count() > 0
    toe = section_of(knitting.data(), 1, "toe")["first"]
    expect(page.locator(".bare-heel")).to_have_attribute("stroke-dasharray", "0 0 200")
    knitting.go_to_round(toe + 3)
    expect(page.locator(".bare")).to_have_attribute("stroke-dasharray", re.compile(r"^0 100 "))
    assert 0 < covered(page, ".bare-heel") < 100


@pytest.mark.usefixtures("own_phone")
def test_the_clock_tells_when_hands_are_to_rest_and_how_far_it_is(page: Page, server: Server) -> None:
    after_half_an_hour_without_a_break_hands_are_to_rest(page, server.add_pair())
    how_far_tells_stitches_pace_and_what_is_left(page, server.add_pair())


def how_far_tells_stitches_pace_and_what_is_left(page: Page, link: str) -> None:
    page.clock.set_fixed_time(MORNING)
    knitting = Knitting(page, link).open()
    knitting.is_complete()
    for number in range(1, 5):
        page.clock.set_fixed_time(MORNING + timedelta(minutes=2 * number))
        knitting.count()
    stitches = worked(knitting.data())
    page.clock.set_fixed_time(MORNING + timedelta(days=1, hours=1))
    page.get_by_role("button", name=re.compile(r"^How far: \d+ of \d+, ")).tap()
    panel = page.get_by_role("region", name="How far")
    expect(panel).to_contain_text(f"{sum(stitches[:4]):,.0f} of {sum(stitches):,.0f} stitches")
    # Two minutes for a round of 68.
    expect(panel).to_contain_text("about 34 stitches a minute")
    left = (2 * sum(stitches) - sum(stitches[:4])) / 34 / 60  # hours, of which the page tells the nearest quarter
    expect(panel).to_contain_text(re.compile(rf"Left of the pair\s*about {round(4 * left) // 4} h"))
    expect(panel).to_contain_text("May be finished")
    expect(panel).to_contain_text("If they hurt or go numb, stop and ask a doctor or physiotherapist.")
    # Six minutes on the two days so far are three a day, and a round takes two.
    expect(panel).to_contain_text(re.compile(r"Left today\s*1 round, about 3 min"))
    knitting.count()
    expect(panel).to_have_count(0)


def after_half_an_hour_without_a_break_hands_are_to_rest(page: Page, link: str) -> None:
    """Breaks before hands tire, and a doctor or physiotherapist for pain or numbness (common practice)."""
    page.clock.set_fixed_time(MORNING)
    knitting = Knitting(page, link).open()
    knitting.is_complete()
    rest = page.locator("#hands")

    def count_after(minutes: int) -> None:
        page.clock.set_fixed_time(MORNING + timedelta(minutes=minutes))
        knitting.count()
        # The round is spoken when its time has been taken.
        expect(page.locator("#live")).to_contain_text(f"Round {knitting.place() + 1} of")

    # Eleven minutes are a break, and the half hour begins after it.
    for minutes in (0, 9, 18, 29, 38, 47, 56):
        count_after(minutes)
        expect(rest).to_have_count(0)
    count_after(59)
    expect(rest).to_contain_text("rest your hands. If they hurt or go numb, stop and ask a doctor or physiotherapist.")
    expect(page.locator("#live")).to_contain_text("Half an hour without a break: rest your hands.")
    # It is said once, not with every round from then on.
    count_after(61)
    expect(rest).to_have_count(0)


def test_a_finished_pair_is_celebrated_with_a_summary(knitting: Knitting) -> None:
    page = knitting.page
    finish = page.locator("#finish")
    stitches = worked(knitting.data())
    knitting.is_complete()
    knitting.finish(1)
    expect(finish).to_contain_text(f"Stitches{sum(stitches):,.0f}")
    knitting.take_up(2)
    expect(finish).to_be_empty()
    knitting.finish(2)
    expect(finish).to_contain_text(f"Stitches{2 * sum(stitches):,.0f}")
    expect(finish).to_contain_text(f"Rounds{2 * knitting.total()}")
    expect(finish).to_contain_text("Gauge planned32 stitches and 44 rounds over 10 cm")
    [yarn] = script_of(knitting.data(), 1)["yarns"]
    expect(finish).to_contain_text(f"{yarn['name']}: about {2 * yarn['metres']:.0f} m, by the plan")
    expect(finish.locator(".hung")).to_have_count(2)
    expect(finish.locator(".hung").first).to_have_css("animation-name", "swing")
    it_tells_what_it_took_as_soon_as_the_rest_is_weighed(knitting)
    page.emulate_media(reduced_motion="reduce")
    expect(finish.locator(".hung").first).to_have_css("animation-name", "none")
    page.get_by_role("button", name="Undo").tap()
    expect(finish).to_be_empty()


def it_tells_what_it_took_as_soon_as_the_rest_is_weighed(knitting: Knitting) -> None:
    """100 g of the ball band less the 38 g on the scale; between band and model it need not be 62 to the gram."""
    finish = knitting.page.locator("#finish")
    expect(finish).to_contain_text("m, by the plan")
    knitting.weigh("38")
    expect(finish).to_contain_text(re.compile(r"heather: about 6[0-4] g, by weighing"))


def test_a_finished_pair_that_exchanges_its_colours_hangs_in_both(page: Page, server: Server) -> None:
    knitting = Knitting(page, server.add_finished_pair("sorrel")).open()
    knitting.is_at(knitting.total())
    colours = [yarn["colour"] for yarn in script_of(knitting.data(), 1)["yarns"]]
    hung = page.locator(".hung")
    expect(hung).to_have_count(2, timeout=RETRY)
    assert [sock.get_attribute("stroke") for sock in hung.all()] == colours
