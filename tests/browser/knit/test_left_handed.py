"""Who knits from left to right has it said once: sides that are named change, and charts lie the other way round."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from companion.planning.construction.constructions import TOES
from companion.planning.pattern.abbreviations import ABBREVIATIONS
from companion.planning.pattern.left_handed import TOLD, mirrored
from companion.planning.pattern.short_row_steps import short_row_steps
from companion.planning.pattern.stepwise import parts_of
from tests.planning.asking import planned
from tests.planning.requests import SHORT_ROWS

from ..knitting import Knitting
from ..modules import Modules
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")

LEFT_HANDED = "Left-handed: I knit from left to right"
NO_SIDE = re.compile(r"right side|is left")
SETTING = "(on) => localStorage.setItem('tapeline-hand', JSON.stringify({ knits: on }))"


def told() -> set[str]:
    """What is said of toes for one foot, abbreviations, short rows, and of closing or opening a sock by hand."""
    plans = [planned(construction={"heel": "short-row", "toe": "short-row", "short_rows": way}) for way in SHORT_ROWS]
    plans += [planned(construction={"heel": "afterthought"}), planned(construction={"direction": "toe-up"})]
    rounds = {id(item): item for plan in plans for item in plan.rounds()}.values()
    steps = {text for item in rounds for text, _ in short_row_steps(item)}
    steps |= {part.text for item in rounds for part in parts_of(item)}
    toes = {toe.name for toe in TOES.values()}
    return {*ABBREVIATIONS.values(), *toes, *steps, *(item.note for item in rounds if item.note)}


def test_every_side_that_is_named_changes_and_nothing_else(modules: Modules) -> None:
    sentences = sorted(told())
    sided = [text for text in sentences if re.search(r"\b(left|right)\b", NO_SIDE.sub("", text))]
    assert len(sided) > 10
    try:
        modules.page.evaluate(SETTING, "on")
        now = [modules.call("lib/mirrored", "mirrored", text) for text in sentences]
        again = [modules.call("lib/mirrored", "mirrored", text) for text in now]
    finally:
        modules.page.evaluate(SETTING, "")
    assert again == sentences
    exchanged = {"left": "right", "right": "left"}
    for text, other_way in zip(sentences, now, strict=True):
        words, kept = NO_SIDE.split(text), NO_SIDE.findall(text)
        wanted = [re.sub(r"\b(left|right)\b", lambda found: exchanged[found[0]], part) for part in words]
        assert other_way == "".join(part + side for part, side in zip(wanted, [*kept, ""], strict=True))
    assert [modules.call("lib/mirrored", "mirrored", text) for text in sided] == sided
    assert [mirrored(text) for text in sentences] == now, "the files of a pattern have the same rule"


def test_it_is_said_once_for_all_that_this_phone_shows(knitting: Knitting) -> None:
    page = knitting.page
    knitting.go_to_round(knitting.total())
    expect(page.locator("#note")).to_contain_text("right end of the back needle")
    knitting.open_menu()
    page.get_by_label(LEFT_HANDED).check()
    expect(page.locator("#note")).to_contain_text("left end of the back needle")
    expect(page.locator("#meanings")).to_contain_text("knit two together: one less, leaning to the left")
    page.goto(f"/pair/{knitting.link}/pattern")
    expect(page.locator(".abbreviations")).to_contain_text("knit two together: one less, leaning to the left")
    expect(page.get_by_text("The whole sock becomes its mirror image")).to_be_visible()
    for name in ("Plain text", "Markdown"):
        file = page.get_by_role("link", name=name).get_attribute("href") or ""
        assert TOLD in page.request.get(f"{page.url.rsplit('/', 1)[0]}/{file.rsplit('/', 1)[1]}").text()
    page.get_by_label(LEFT_HANDED).uncheck()
    expect(page.locator(".abbreviations")).to_contain_text("knit two together: one less, leaning to the right")
    expect(page.get_by_text("The whole sock becomes its mirror image")).to_be_hidden()


def test_a_chart_is_then_worked_from_its_left_end(server: Server, page: Page) -> None:
    link = server.add_pair("sorrel")
    page.evaluate(SETTING, "on")
    charted = Knitting(page, link).open()
    charted.go_to_section("Leg")
    shown = page.locator("#chart svg").first
    expect(shown).to_have_attribute("aria-label", re.compile("worked from left to right"))
    assert shown.evaluate("(svg) => getComputedStyle(svg).transform") == "matrix(-1, 0, 0, 1, 0, 0)"
    page.goto(f"/pair/{link}/pattern")
    drawn = page.locator("svg.chart").first
    assert drawn.evaluate("(svg) => getComputedStyle(svg).transform") == "matrix(-1, 0, 0, 1, 0, 0)"
    expect(page.get_by_text("its left end")).to_be_visible()


def test_the_foot_that_a_toe_is_shaped_to_is_the_one_that_was_chosen(page: Page) -> None:
    """Worked from left to right a left sock fits the right foot: form, plan and drawing all name that one."""
    page.evaluate(SETTING, "on")
    page.goto("/plan")
    for name, typed in {"ball_circumference": "23", "foot_length": "25", "stitches": "30"}.items():
        page.locator(f"#{name}").fill(typed)
    page.get_by_text("Construction", exact=True).tap()
    choice = page.locator("label.way").filter(has_text="Toe shaped to the right foot")
    expect(choice.locator("use")).to_have_attribute("href", "#way-toe-right-foot")
    choice.tap()
    expect(page.locator("summary").filter(has_text="Construction")).to_contain_text("toe shaped to the right foot")
    page.locator(".actions").get_by_role("button", name="Make the plan").tap()
    expect(page.locator("#sock-description")).to_contain_text("the toe is for the right foot")
    expect(page.locator("[data-mirrored]")).to_have_count(0)
    expect(page.locator("#asked")).to_contain_text("toe shaped to the right foot")
    kept = page.request.get(f"{page.url.split('?')[0]}/export").text()
    assert set(re.findall(r'"toe": ?"(.*?)"', kept)) >= {"left foot"}


def test_a_follower_is_asked_by_her_own_hand_and_a_leader_by_none(page: Page) -> None:
    """A design is for any hand: its words are those of knitting from right to left."""
    page.evaluate(SETTING, "on")
    page.goto("/design")
    page.get_by_text("Construction", exact=True).first.tap()
    choice = page.locator("label.way").filter(has_text="Toe shaped to the left foot").first
    expect(choice.locator("use")).to_have_attribute("href", "#way-toe-left-foot")
    choice.tap()
    page.locator("#title").fill("Larch")
    page.get_by_role("button", name="Keep the design").tap()
    page.wait_for_url(re.compile(r"/design/[\w-]{22}"))
    link, *_ = re.findall(r"/join/([\w-]{22})", page.locator("main").inner_text())
    page.goto(f"/join/{link}")
    expect(page.locator(".lead")).to_contain_text("toe shaped to the right foot")
    expect(page.locator("[data-mirrored]")).to_have_count(0)
