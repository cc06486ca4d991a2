"""A round in words: abbreviations explained on touch, the chart's row, and "Where was I?" after a pause."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from itertools import groupby
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from companion.drawings.chart import COLOURS
from companion.planning.pattern.abbreviations import ABBREVIATIONS
from tests.planning.asking import planned

from ..given import change_data, chart
from ..knitting import Knitting, rounds_of, section_of
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")

NOON = datetime(2025, 11, 3, 12, 0, tzinfo=UTC)

MIDDLE_OF = """(word) => {
    const walk = document.createTreeWalker(document.getElementById("words"), NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
        const at = walk.currentNode.data.search(new RegExp(`\\\\b${word}`));
        if (at < 0) continue;
        const range = new Range();
        range.setStart(walk.currentNode, at);
        range.setEnd(walk.currentNode, at + word.length);
        const { left, right, top, bottom } = range.getBoundingClientRect();
        return [(left + right) / 2, (top + bottom) / 2];
    }
    return null;
}"""


IN_SIGHT = """(all) => all.map((one) => {
    const { left, right, top, bottom } = one.getBoundingClientRect();
    return one.contains(document.elementFromPoint((left + right) / 2, top + 2))
        && one.contains(document.elementFromPoint((left + right) / 2, bottom - 2));
})"""


def touch(page: Page, word: str) -> None:
    """Touch the middle of a word in the round, once what is painted a frame after it can hide no meaning any more."""
    place = page.evaluate(MIDDLE_OF, word)
    assert place, f"{word} is not in the round"
    page.touchscreen.tap(*place)


@pytest.fixture
def complete(knitting: Knitting) -> Knitting:
    knitting.is_complete()
    return knitting


def test_a_touched_abbreviation_tells_its_meaning_and_does_not_count(complete: Knitting, server: Server) -> None:
    page, meaning = complete.page, complete.page.get_by_label("Meaning")
    place = section_of(complete.data(), 1, "gusset")["first"] + 2
    complete.go_to_round(place + 1)
    shaping_is_set_apart_by_more_than_colour(page)
    for word in ("k2tog", "ssk"):
        touch(page, word)
        expect(meaning.locator("dt")).to_have_text(word)
        expect(meaning.locator("dd")).to_have_text(ABBREVIATIONS[word])
    complete.is_at(place)
    complete.count()
    expect(meaning).to_have_count(0)
    complete.go_to_round(2)
    a_word_made_of_several_tells_each(page)
    complete.everything_is_sent()
    assert server.counted(complete.link) == [place, place + 1, 1]


def shaping_is_set_apart_by_more_than_colour(page: Page) -> None:
    shaping = page.locator("#words b")
    expect(shaping).to_have_text(["ssk", "k2tog"])
    expect(shaping.first).to_have_css("text-decoration-line", "underline")
    expect(shaping.first).to_have_css("font-weight", "800")


def a_word_made_of_several_tells_each(page: Page) -> None:
    touch(page, "k1tbl")
    terms = page.get_by_label("Meaning").locator("dt")
    expect(terms).to_have_text(["k", "tbl"])
    for width, height in ((360, 740), (800, 360), (320, 256)):
        page.set_viewport_size({"width": width, "height": height})
        assert terms.evaluate_all(IN_SIGHT) == [True, True], (width, height)
    page.keyboard.press("Escape")
    expect(terms).to_have_count(0)


def test_a_round_of_a_stitch_pattern_has_its_row_of_the_chart_and_is_said(page: Page, server: Server) -> None:
    """A leg of 66 is six repeats of 11; an instep of 34 begins with the last stitch of one, by hand."""
    rows = ["Round 1: k1, yo, k2, ssk, k2tog, k2, yo, k1, p1", "Round 2: 2/1 RPC, k7, p1", "Rounds 3-4: k10, p1"]
    foot = {"ball_circumference_cm": 23, "length_cm": 26}
    plan = planned(foot=foot, leg={"stitch_pattern": {"rows": rows}}, foot_pattern="instep follows the leg")
    knitting = Knitting(page, server.add_plan(plan)).open()
    knitting.is_complete()
    shown, said = page.locator("#chart"), page.locator("#live")
    expect(shown).to_be_hidden()
    knitting.go_to_round(plan.span("leg").start + 2)
    expect(shown).to_have_text("1Round 1 of 4 of the pattern")
    expect(said).to_have_text(
        "Round 2 of 62. Round 1 of 4 of the pattern. 6 times: k1, yo, k2, ssk, k2tog, k2, yo, k1, p1. The leg is in "
        "pattern, repeats of 11 stitches, 4 rounds over and over."
    )
    # From the right end: k1, yo, k2, ssk, k2tog, k2, yo, k1, p1.
    assert columns_of_signs(page) == [2, 5, 6, 9, 11]
    knitting.count()
    expect(said).to_have_text("Round 3 of 62. Round 2 of 4 of the pattern. 6 times: 2 over 1 right purl cross, k7, p1")
    touch(page, "2/1 RPC")
    expect(page.get_by_label("Meaning").locator("dt")).to_have_text("2/1 RPC")
    page.keyboard.press("Escape")
    knitting.go_to_section("Foot")
    expect(shown).to_have_text(re.compile("of 4 of the patternThe pattern begins at the bar, with stitch 11.$"))
    knitting.go_to_section("Toe")
    expect(shown).to_be_hidden()


def test_a_wide_repeat_is_moved_sideways_and_leaves_the_number_its_room(page: Page, server: Server) -> None:
    rows = ["[k2, yo, ssk, k4, k2tog, yo] x 3, 2/2 RC, k2", "k36"]
    plan = planned(leg={"stitch_pattern": {"rows": rows, "stitches_per_10cm": 32, "rounds_per_10cm": 44}})
    page.set_viewport_size({"width": 320, "height": 640})
    knitting = Knitting(page, server.add_plan(plan)).open()
    knitting.is_complete()
    knitting.go_to_round(plan.span("leg").start + 3)
    chart = page.locator("#chart .sideways")
    expect(chart).to_have_attribute("tabindex", "0")
    expect(page.locator("#chart line.first").last).to_be_in_viewport()
    assert page.evaluate("document.documentElement.scrollWidth") == 320
    page.set_viewport_size({"width": 740, "height": 360})
    number, beside = page.locator("#number").bounding_box(), page.locator("#chart").bounding_box()
    assert number
    assert beside
    assert number["x"] + number["width"] <= beside["x"]


def columns_of_signs(page: Page) -> list[int]:
    """The stitches, from 1 at the right end, that have a sign in the row to work."""
    found: list[int] = page.evaluate(
        """() => {
            const now = document.querySelector("#chart .now").getBoundingClientRect();
            const signs = [...document.querySelectorAll("#chart .stitch-symbol")];
            return signs
                .map((sign) => sign.getBoundingClientRect())
                .filter(({ top, bottom }) => top >= now.top - 2 && bottom <= now.bottom + 2)
                .map(({ left, right }) => Math.ceil((11 * (now.right - (left + right) / 2)) / now.width));
        }"""
    )
    return sorted(found)


SHORT = timedelta(minutes=29)
PAUSES = [
    (timedelta(minutes=31), "31 minutes ago (Mon 3 Nov 2025, "),
    (timedelta(hours=5), "5 hours ago"),
    (timedelta(days=1, hours=2), "yesterday"),
    (timedelta(weeks=3), "3 weeks ago"),
]
"""After the last count, and what is said of them."""


@pytest.mark.usefixtures("own_phone")
def test_after_a_pause_it_says_what_was_last_and_when_and_what_the_needles_look_like(page: Page, link: str) -> None:
    page.clock.set_fixed_time(NOON)
    knitting = Knitting(page, link).open()
    gusset, told = section_of(knitting.data(), 1, "gusset"), rounds_of(knitting.data(), 1)
    knitting.go_to_round(gusset["first"] + 3)
    knitting.count()
    panel = page.get_by_role("region", name="Where was I?")
    page.clock.set_fixed_time(NOON + SHORT)
    page.reload()
    after_a_short_pause_only_the_menu_tells(knitting, panel)
    moment = NOON
    for number, (pause, words) in enumerate(PAUSES, start=3):
        moment += pause
        page.clock.set_fixed_time(moment)
        page.reload()
        expect(panel).to_contain_text(words)
        expect(panel).to_contain_text(f"{told[gusset['first'] + number - 1]['after']} stitches")
        expect(panel).to_contain_text(f"Gusset, round {number} of")
        expect(panel).to_contain_text(f"Gusset, round {number + 1} of")
        # It opens by itself, so that it is said as well (WCAG 2.2, success criterion 4.1.3).
        said = f"Where was I? Last: Gusset, round {number} of {gusset['count']}, {words.partition(' (')[0]}"
        expect(page.locator("#told")).to_contain_text(said)
        knitting.count()
        expect(panel).to_have_count(0)


def after_a_short_pause_only_the_menu_tells(knitting: Knitting, panel: Locator) -> None:
    knitting.is_complete()
    place = knitting.place()
    knitting.open_menu()
    expect(panel).to_have_count(0)
    knitting.page.get_by_role("button", name="Where was I?").tap()
    expect(panel).to_contain_text("29 minutes ago")
    panel.get_by_role("button", name="Go on").tap()
    expect(panel).to_have_count(0)
    knitting.is_at(place)


ROW = """(drawing) => {
    const now = drawing.querySelector(".now").getBoundingClientRect();
    const middle = ({ left, right }) => (left + right) / 2;
    const boxes = (which) => [...drawing.querySelectorAll(which)].map((one) => [one, one.getBoundingClientRect()]);
    const inside = ({ top, bottom }) => now.top < (top + bottom) / 2 && (top + bottom) / 2 < now.bottom;
    return [
        boxes(".first").map(([, box]) => middle(box) - middle(now)),
        boxes(".cell").filter(([, box]) => inside(box)).map(([cell]) => cell.getAttribute("fill")),
    ];
}"""
"""How far the bars lie from the middle of the row to work, in px, and the colours of its stitches from the left."""


@pytest.fixture
def charted(page: Page, link: str) -> Knitting:
    change_data(page, chart)
    knitting = Knitting(page, link).open()
    knitting.is_complete()
    knitting.go_to_section("Leg")
    knitting.is_at(section_of(knitting.data(), 1, "leg")["first"])
    return knitting


def test_the_chart_shows_its_row_with_its_direction_and_the_counts_of_each_yarn(charted: Knitting) -> None:
    page = charted.page
    rows = page.locator("#chart svg[role=img]")
    for number in (1, 2, 3, 4):
        if number > 1:
            charted.count()
        expect(rows).to_have_attribute("aria-label", f"Row {number} of 8 of the chart, worked from right to left")
        begins = ["The instep begins at the bar, with stitch 5."] if number in (2, 3) else []
        expect(page.locator("#chart p")).to_have_text([f"A: {63 - number} oat B: {5 + number} moss", *begins])
        bars, row = rows.evaluate(ROW)
        # Stitch 5 of 8 from the right end lies left of the middle of the row.
        assert bars == pytest.approx([0] * len(begins), abs=2)
        # "AABBAAAA" is read from its right end: the row's first four stitches are of the first yarn.
        assert set(row) <= {"#f0e6d0", COLOURS["B"]}, "a usual one as on the plan"
        colours = ["A" if colour == "#f0e6d0" else "B" for colour in row]
        expected = ["AABBAAAA", "ABBBBAAA", "BBAABBAA", "BAAAABBA"][number - 1]
        assert "".join(colours) == expected
    assert rows.locator("path:not(.way)").count() == sum(
        row.count("B") for row in ("ABBBBAAA", "BBAABBAA", "BAAAABBA", "AAAAAABB", "AAAAAAAA")
    )
    where_was_i_names_the_needles_and_the_zones(charted)
    charted.go_to_section("Gusset")
    expect(page.locator("#chart")).to_be_hidden()


def where_was_i_names_the_needles_and_the_zones(charted: Knitting) -> None:
    charted.open_menu()
    charted.page.get_by_role("button", name="Where was I?").tap()
    panel = charted.page.get_by_role("region", name="Where was I?")
    expect(panel).to_contain_text("68 stitches: heel 34, instep 34")
    expect(panel).to_contain_text("Needle 1: 34; needle 2: 34")


def test_yarns_without_colours_of_their_own_look_as_on_the_plan(page: Page, link: str) -> None:
    def four_yarns(data: dict[str, Any]) -> None:
        chart(data)
        script = data["scripts"][0]
        script["chart"]["rows"] = ["ABCDABCD"] * 8
        script["yarns"] = [{"key": key, "name": f"yarn {key}", "colour": None} for key in COLOURS]

    change_data(page, four_yarns)
    knitting = Knitting(page, link).open()
    knitting.is_complete()
    knitting.go_to_section("Leg")
    cells = page.locator("#chart svg[role=img] .cell")
    expect(cells).to_have_count(5 * 8)
    fills = cells.evaluate_all("(all) => all.map((one) => one.getAttribute('fill'))")
    assert fills[:8] == [*COLOURS.values()] * 2


def test_a_change_of_colour_is_announced_one_round_ahead(page: Page, server: Server) -> None:
    """The rounds are those of the plan document, where an operation that names no yarn is in the main one."""
    knitting = Knitting(page, server.add_pair("ilex")).open()
    yarns = [set(re.findall(r" in ([A-D])\b", str(told["lines"]))) - {"A"} for told in rounds_of(knitting.data(), 1)]
    change = next(place for place, taken in enumerate(yarns) if taken)
    for place, announced in ((change - 2, 0), (change - 1, 1)):
        knitting.go_to_round(place + 1)
        expect(page.locator("#ahead").get_by_text("yarn B next round")).to_have_count(announced)
    expect(page.locator("#live")).to_contain_text("Yarn B next")


FITS = """(parts) => parts.map((id) => document.getElementById(id)).filter((part) => part.innerText).map((part) => {
    part.scrollIntoView({ block: "nearest" });
    const { left, right } = part.getBoundingClientRect();
    scrollTo(0, document.documentElement.scrollHeight);
    const covered = part.getBoundingClientRect().bottom - document.querySelector(".hand").getBoundingClientRect().top;
    return [part.id, left >= 0 && right <= innerWidth, part.closest(".hand") ? 0 : covered];
})"""
"""Of each part: whether nothing of it is beside the screen, and how much of its foot the hand's part covers, in px.

The hand's part stands over the foot of the page; what it covers scrolls free above it.
"""


def test_a_small_screen_and_text_twice_as_large_lose_nothing(page: Page, link: str) -> None:
    """WCAG 2.2, success criteria 1.4.4 and 1.4.10: text at 200 % without loss of content, and no scrolling sideways."""
    page.set_viewport_size({"width": 640, "height": 320})
    knitting = Knitting(page, link).open()
    the_way_out_of_a_long_sheet_is_in_sight_on_a_phone_on_its_side(knitting)
    page.set_viewport_size({"width": 320, "height": 640})
    knitting.open_menu()
    page.get_by_label("Size of the text").select_option("200")
    page.keyboard.press("Escape")
    expect(page.locator("html")).to_have_css("font-size", "32px")
    data = knitting.data()
    for key in ("cuff", "heel-flap", "gusset", "toe"):
        place = section_of(data, 1, key)["first"]
        knitting.go_to_round(place + 2)
        assert page.evaluate("[innerWidth, document.documentElement.scrollWidth]") == [320, 320], key
        parts = page.evaluate(FITS, ["words", "note", "number", "ahead", "stitches", "undo", "done"])
        assert {"words", "number", "done"} <= {name for name, _, _ in parts}
        assert [name for name, beside, covered in parts if not beside or covered > 1] == [], key
    page.reload()
    expect(page.locator("html")).to_have_attribute("data-text", "200")


def the_way_out_of_a_long_sheet_is_in_sight_on_a_phone_on_its_side(knitting: Knitting) -> None:
    page = knitting.page
    knitting.is_complete()
    knitting.go_to_section("Gusset")
    knitting.open_menu()
    page.get_by_role("button", name="Where was I?").tap()
    out = page.get_by_role("button", name="Go on")
    expect(out).to_be_in_viewport(ratio=1)
    assert page.locator(".panel").evaluate("(sheet) => sheet.scrollHeight > sheet.clientHeight")
    out.tap()
    expect(out).to_have_count(0)


def test_a_heel_in_another_yarn_names_it_beside_its_section_and_fills_the_small_sock_in_it(
    page: Page, server: Server
) -> None:
    yarns = [{"key": "A", "colour": "#336699"}, {"key": "B", "colour": "#cc3311"}]
    plan = planned(yarns=yarns, parts={"heel": "B"}, construction={"heel": "short-row"})
    knitting = Knitting(page, server.add_plan(plan)).open()
    knitting.is_complete()
    heel = plan.span("heel")
    section, note = page.locator("#section"), page.locator("#note")
    knitting.go_to_round(heel.start)
    expect(section).to_have_text("Leg")
    expect(page.locator("#ahead")).to_contain_text("yarn B next row")
    knitting.count()
    expect(section).to_have_text("Heel in B")
    expect(page.locator("#words")).to_have_text(re.compile(r"^k\d+, turn$"))
    expect(note).to_contain_text("Yarn A waits where the round begins. Join yarn B here.")
    knitting.go_to_round(heel.stop)
    expect(section).to_have_text("Heel")
    expect(note).to_contain_text("Cut yarn B, and go on with yarn A.")
    strokes = page.locator("#progress-drawing .knitted").evaluate_all(
        "(all) => all.map((one) => one.getAttribute('stroke'))"
    )
    assert [colour for colour, _ in groupby(strokes)] == ["#336699", "#cc3311", "#336699"]
