"""Drawing a chart in the plan form: by finger, by mouse and by keys, until the plan shows it."""

from __future__ import annotations

import re
from collections.abc import Sequence

import pytest
from playwright.sync_api import Locator, Page, expect

from ..conftest import NewPhone
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")

Cell = tuple[int, int]
"""A stitch, counted from the right, and a round, counted from the bottom; both from 1."""

EMPTY = "\n".join(["AAAAAAAA"] * 8)


@pytest.fixture
def form(page: Page) -> Page:
    """A form with all that it needs, and an empty chart to draw on."""
    return fill_in(page)


def fill_in(page: Page) -> Page:
    page.goto("/plan")
    for name, typed in (("ball_circumference", "23"), ("foot_length", "25"), ("stitches", "30")):
        page.locator(f"[name={name}]").fill(typed)
    page.locator("summary", has=page.get_by_text("Pattern", exact=True)).click()
    page.get_by_text("A chart", exact=True).click()
    expect(page.get_by_role("grid")).to_be_visible()
    return page


def text(page: Page) -> Locator:
    return page.locator("[name=chart]")


def drawn(page: Page) -> list[str]:
    """The chart's rows as they look, the first round first."""
    return text(page).input_value().split("\n")[::-1]


def square(page: Page, cell: Cell) -> Locator:
    """Found by its label: to work out what each of the squares is called takes a browser longer than to draw them."""
    stitch, round_ = cell
    return page.locator(f'[role=gridcell][aria-label^="Round {round_}, stitch {stitch}:"]')


MIDDLES = """(cells) => cells.map(([stitch, round]) => {
    const cell = document.querySelector(`[role=gridcell][aria-label^="Round ${round}, stitch ${stitch}:"]`);
    const { left, right, top, bottom } = cell.getBoundingClientRect();
    return [(left + right) / 2, (top + bottom) / 2];
})"""


def middles(page: Page, *cells: Cell) -> list[tuple[float, float]]:
    found: list[tuple[float, float]] = page.evaluate(MIDDLES, cells)
    return found


def swipe(page: Page, cells: Sequence[Cell]) -> None:
    """Draw a finger over the squares."""
    square(page, cells[0]).scroll_into_view_if_needed()
    drag(page, middles(page, *cells))


def drag(page: Page, points: Sequence[tuple[float, float]]) -> None:
    """Put a finger down on the first point, move it to the others, and lift it."""
    finger = page.context.new_cdp_session(page)
    for number, (x, y) in enumerate(points):
        kind = "touchMove" if number else "touchStart"
        finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": x, "y": y}]})
    finger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    finger.detach()


def palette(page: Page) -> Locator:
    return page.get_by_role("group", name="Paint with").get_by_role("button")


def press(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()


def test_a_finger_draws_mirrors_and_flips_until_the_plan_shows_it(form: Page) -> None:
    a_finger_beside_the_squares_scrolls_and_on_them_does_not(form)
    a_stroke_is_one_step_back_and_a_fast_one_leaves_no_gaps(form)
    rounds_with_the_same_float_share_a_line(form)
    press(form, "Clear")
    swipe(form, [(3, 1), (3, 4), (6, 4)])
    stroke = ["AAAAABAA"] * 3 + ["AABBBBAA"] + ["AAAAAAAA"] * 4
    expect(text(form)).to_have_value("\n".join(stroke[::-1]))
    press(form, "Mirror")
    assert drawn(form) == [row[::-1] for row in stroke]
    press(form, "Flip")
    assert drawn(form) == [row[::-1] for row in stroke[::-1]]
    for _ in range(2):
        press(form, "Undo")
    assert drawn(form) == stroke
    form.get_by_role("button", name="Make the plan").click()
    form.get_by_text(re.compile(r"^The chart \d+ stitches")).click()
    chart = form.get_by_role("img", name="The chart, 8 stitches wide and 8 rounds high")
    expect(chart).to_be_visible()
    assert chart.locator(".chart-symbols").get_attribute("d") == symbols(stroke)
    expect(form.locator(".sock-fabric")).to_have_count(1)


def a_finger_beside_the_squares_scrolls_and_on_them_does_not(form: Page) -> None:
    grid = form.get_by_role("grid")
    assert grid.evaluate("element => getComputedStyle(element).touchAction") == "none"
    assert form.locator(".chart-paper").evaluate("element => getComputedStyle(element).touchAction") == "auto"
    paper, squares = form.locator(".chart-paper").bounding_box(), grid.bounding_box()
    assert paper
    assert squares
    assert paper["x"] + paper["width"] - squares["x"] - squares["width"] > 24, "room for a thumb at the numbers"
    first = square(form, (1, 1)).bounding_box()
    assert first
    assert min(first["width"], first["height"]) >= 24, "WCAG 2.2, success criterion 2.5.8: targets of 24 px"


def a_stroke_is_one_step_back_and_a_fast_one_leaves_no_gaps(form: Page) -> None:
    swipe(form, [(1, 1), (8, 8)])
    assert drawn(form) == ["A" * (7 - at) + "B" + "A" * at for at in range(8)]
    press(form, "Undo")
    assert text(form).input_value() == EMPTY
    expect(form.get_by_role("button", name="Undo", exact=True)).to_be_disabled()
    press(form, "Clear")
    assert text(form).input_value() == EMPTY


def rounds_with_the_same_float_share_a_line(form: Page) -> None:
    swipe(form, [(2, 2), (2, 4)])
    swipe(form, [(2, 6), (2, 6)])
    expect(form.locator(".remarks li")).to_have_text(["Rounds 2-4, 6: yarn B lies behind 7 stitches."])
    expect(form.locator(".chart-alarm")).to_have_count(4)


def symbols(rows: list[str]) -> str:
    """Where the dots of yarn B lie: squares are 20 high and wide, 14 from the left (companion/drawings/chart.py)."""
    return "".join(
        f"M{14 + 20 * column + 10} {20 * (len(rows) - 1 - number) + 10}h0"
        for number, row in enumerate(rows)
        for column, letter in enumerate(row)
        if letter == "B"
    )


def test_a_mouse_draws_too(new_phone: NewPhone, server: Server) -> None:
    page = new_phone(server, 1100, 900, is_mobile=False, has_touch=False)
    page.goto("/plan?sample=sorrel")
    page.locator("summary", has=page.get_by_text("Pattern", exact=True)).click()
    expect(page.get_by_role("grid")).to_be_visible()
    before = drawn(page)
    square(page, (1, 8)).scroll_into_view_if_needed()
    first, last, elsewhere = middles(page, (4, 2), (4, 4), (8, 8))
    page.mouse.move(*first)
    page.mouse.down()
    page.mouse.move(*last)
    page.mouse.up()
    page.mouse.move(*elsewhere)
    after = drawn(page)
    assert [row[4] for row in after[1:4]] == ["B"] * 3
    assert [row[:4] + row[5:] for row in after] == [row[:4] + row[5:] for row in before]


def test_keys_sizes_and_colours_change_the_chart(form: Page) -> None:
    enter_in_a_size_changes_the_chart_and_sends_no_form(form)
    keys_move_and_paint_and_each_square_says_what_it_is(form)
    press(form, "Clear")
    the_yarns_are_the_palette_and_a_chart_needs_two(form)
    palette(form).nth(1).click()
    the_repeat_grows_at_its_left_end_and_at_the_top(form)


def enter_in_a_size_changes_the_chart_and_sends_no_form(form: Page) -> None:
    """The key that closes a phone's keyboard is this one."""
    for name, size in (("width", "4"), ("height", "3")):
        form.locator(f"[data-size={name}]").fill(size)
        form.locator(f"[data-size={name}]").press("Enter")
    expect(text(form)).to_have_value("\n".join(["AAAA"] * 3))
    assert form.url.endswith("/plan")
    for name in ("width", "height"):
        form.locator(f"[data-size={name}]").fill("8")
        form.locator(f"[data-size={name}]").press("Enter")
    expect(text(form)).to_have_value(EMPTY)


def keys_move_and_paint_and_each_square_says_what_it_is(form: Page) -> None:
    square(form, (1, 1)).focus()
    keys = form.keyboard
    expect(square(form, (1, 1))).to_be_focused()
    for key in ("ArrowLeft", "ArrowUp", "b", "ArrowUp", "Space"):
        keys.press(key)
    expect(square(form, (2, 3))).to_be_focused()
    assert drawn(form)[:4] == ["AAAAAAAA", "AAAAAABA", "AAAAAABA", "AAAAAAAA"]
    expect(square(form, (2, 3))).to_have_accessible_name("Round 3, stitch 2: B")
    expect(form.locator(".chart-said")).to_have_text("Round 3, stitch 2: B")
    keys.press("a")
    expect(square(form, (2, 3))).to_have_accessible_name("Round 3, stitch 2: A, sock yarn")
    keys.press("d")
    assert drawn(form)[2] == "AAAAAAAA", "there is no yarn D"
    keys.press("Control+z")
    assert drawn(form)[2] == "AAAAAABA"
    keys.press("Home")
    expect(square(form, (8, 3))).to_be_focused()
    keys.press("End")
    for _ in range(9):
        keys.press("ArrowDown")
    expect(square(form, (1, 1))).to_be_focused()
    assert form.locator('.chart-hand [tabindex="0"]').count() == 1, "the Tab key comes to one square"


def the_yarns_are_the_palette_and_a_chart_needs_two(form: Page) -> None:
    colours = palette(form)
    expect(colours).to_have_text([re.compile("A"), re.compile("B")])
    form.locator("summary", has=form.get_by_text("Yarn", exact=True)).click()
    expect(form.locator("[name=yarn_count]:checked")).to_have_value("2")
    form.get_by_label("3", exact=True).click()
    form.locator("[name=yarn_name_c]").fill("rust")
    form.locator("[name=yarn_colour_c]").fill("#a04020")
    expect(colours).to_have_count(3)
    colours.nth(2).click()
    expect(colours.nth(2)).to_have_attribute("aria-pressed", "true")
    the_chosen_yarn_is_marked_without_colours(form)
    swipe(form, [(1, 1), (2, 1)])
    expect(form.locator('.chart-cells[fill="#a04020"]')).to_have_count(1)
    expect(square(form, (2, 1))).to_have_accessible_name("Round 1, stitch 2: C, rust")


def the_repeat_grows_at_its_left_end_and_at_the_top(form: Page) -> None:
    swipe(form, [(1, 1), (8, 1)])
    for name in ("One stitch more", "One round more"):
        press(form, name)
    assert drawn(form) == ["ABBBBBBBB", *["A" * 9] * 8]
    form.locator("[data-size=width]").fill("4")
    form.locator("[data-size=height]").fill("900")
    form.locator("[data-size=height]").press("Tab")
    assert [len(drawn(form)), *drawn(form)[:2]] == [120, "BBBB", "AAAA"]
    expect(form.locator("[data-size=height]")).to_have_value("120")


# Floats of more than 5 stitches or 2.5 cm (1 in) catch toes (common practice): at 15 stitches over 10 cm, 4 are 2.7 cm.
FLOATS = [
    ("30", "AAABAAAA", ["Round 1: yarn B lies behind 7 stitches."]),
    ("30", "AAABAAAB", []),
    ("30", "BAAAAAAB", ["Round 1: yarn B lies behind 6 stitches."]),
    ("30", "BAAAAABA", []),
    ("30", "BBBBABBB", ["Round 1: yarn A lies behind 7 stitches."]),
    ("30", "BAABBAAA", []),
    ("15", "BAAAABAB", ["Round 1: yarn B lies behind 4 stitches."]),
    ("15", "BBBBBBBB", []),
]
"""Stitches over 10 cm, a round, and what is said; by turns something and nothing, so that each is seen to come."""


def test_a_chart_can_be_typed(form: Page) -> None:
    form.get_by_text("The chart as text").click()
    long_floats_are_flagged_in_words_and_marked(form)
    form.locator("[name=stitches]").fill("30")
    what_is_typed_is_drawn_and_what_is_no_chart_is_left_alone(form)


def long_floats_are_flagged_in_words_and_marked(form: Page) -> None:
    for stitches, row, says in FLOATS:
        form.locator("[name=stitches]").fill(stitches)
        text(form).fill("\n".join(["BBBBBBBB", row]))
        expect(form.locator(".remarks li")).to_have_text(says)
        expect(form.locator(".chart-alarm")).to_have_count(len(says))


def what_is_typed_is_drawn_and_what_is_no_chart_is_left_alone(form: Page) -> None:
    text(form).fill("abba\nbaab")
    expect(form.get_by_role("gridcell")).to_have_count(8)
    expect(square(form, (1, 1))).to_have_accessible_name(re.compile(": B"))
    text(form).fill("ABBA\nBAA")
    expect(form.get_by_role("gridcell")).to_have_count(8)
    assert text(form).input_value() == "ABBA\nBAA"
    form.get_by_role("button", name="Make the plan").click()
    expect(text(form)).to_have_value("ABBA\nBAA")
    expect(text(form)).to_have_accessible_description(re.compile("Row 2 has 4 stitches"))


def the_chosen_yarn_is_marked_without_colours(form: Page) -> None:
    """Forced colours (CSS Color Adjustment, W3C)."""
    form.emulate_media(forced_colors="active")
    looks = "(all) => all.map((one) => [one.ariaPressed, getComputedStyle(one).backgroundColor])"
    found = form.locator(".palette [data-tool]:visible").evaluate_all(looks)
    form.emulate_media(forced_colors="none")
    chosen = {look for pressed, look in found if pressed == "true"}
    others = {look for pressed, look in found if pressed != "true"}
    assert chosen
    assert not chosen & others


def test_the_sock_is_shown_in_its_colours_and_stranding_halves_the_usual_ease(form: Page) -> None:
    ease = form.locator("[name=ease_percent]")
    expect(ease).to_have_attribute("placeholder", "10")
    swipe(form, [(1, 1), (1, 2)])
    expect(ease).to_have_attribute("placeholder", "5")
    expect(form.locator("#chart-preview")).to_be_visible()
    leg = form.locator("#preview-leg-fabric")
    expect(leg.locator("path")).to_have_count(2)
    expect(form.get_by_label("The sock from the side").locator(".sock-fabric").first).to_be_attached()
    names = form.locator("[id]").evaluate_all("(all) => all.map(({ id }) => id)")
    assert len(names) == len(set(names)), "one drawing would be filled with the fabric of the other"
    expect(form.locator(".preview-instep")).not_to_have_attribute("fill", "url(#preview-foot-fabric)")
    form.locator("[name=foot_pattern]").select_option("instep follows the leg")
    expect(form.locator(".preview-instep")).to_have_attribute("fill", "url(#preview-foot-fabric)")
    form.locator("b", has_text="Stripes").click()
    expect(form.get_by_role("grid")).to_be_hidden()
    form.locator("[name=stripes]").fill("A 3, B 1")
    expect(leg).to_have_attribute("width", "3")
    expect(ease).to_have_attribute("placeholder", "10")


def test_without_scripts_the_text_is_the_chart(new_phone: NewPhone, server: Server) -> None:
    page = new_phone(server, java_script_enabled=False)
    page.goto("/plan")
    for name, typed in (("ball_circumference", "23"), ("foot_length", "25"), ("stitches", "30")):
        page.locator(f"[name={name}]").fill(typed)
    page.locator("summary", has=page.get_by_text("Yarn", exact=True)).click()
    page.get_by_label("2", exact=True).click()
    page.locator("summary", has=page.get_by_text("Pattern", exact=True)).click()
    page.get_by_text("A chart", exact=True).click()
    text(page).fill("ABBA\nBAAB")
    page.get_by_role("button", name="Make the plan").click()
    page.get_by_text(re.compile(r"^The chart \d+ stitches")).click()
    expect(page.get_by_role("img", name="The chart, 4 stitches wide and 2 rounds high")).to_be_visible()


def test_a_chart_wider_than_the_phone_is_moved_and_drawn_by_touch(page: Page) -> None:
    page.set_viewport_size({"width": 320, "height": 700})
    fill_in(page)
    move = page.get_by_role("button", name="Move", exact=True)
    expect(move).to_be_hidden()
    page.get_by_label("Stitches", exact=True).last.fill("60")
    page.keyboard.press("Tab")
    scroll = page.locator(".chart-scroll")
    right_end = scroll.evaluate("element => element.scrollWidth - element.clientWidth")
    assert scroll.evaluate("element => element.scrollLeft") == right_end, "the first stitch is at the right"
    swipe(page, [(2, 2), (6, 2)])
    row = "A" * 54 + "BBBBBA"
    assert drawn(page)[1] == row
    press(page, "Move")
    expect(move).to_have_attribute("aria-pressed", "true")
    scroll.evaluate("(element) => { element.rests = new Promise((go) => (element.onscrollend = go)); }")
    drag(page, middles(page, (7, 3), (2, 3)))
    assert scroll.evaluate("(element) => element.rests.then(() => element.scrollLeft)") < right_end
    assert drawn(page)[1:3] == [row, "A" * 60], "a finger that moves the chart draws nothing"
    press(page, "A sock yarn")
    expect(move).to_have_attribute("aria-pressed", "false")
    swipe(page, [(3, 2), (4, 2)])
    assert drawn(page)[1] == "A" * 54 + "BBAABA"
    press(page, "Mirror")
    assert drawn(page)[1] == "ABAABB" + "A" * 54
    expect(page.locator(".remarks")).to_contain_text("Round 2: yarn B lies behind 55 stitches.")
    assert page.evaluate("document.documentElement.scrollWidth") == 320
