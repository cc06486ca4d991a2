"""The way to every page and to each of its states worth looking at."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import TypeAlias

from playwright.sync_api import Page, expect

from ..conftest import entry
from .given import change_data, chart, steps
from .knitting import RETRY, Knitting
from .leading import change_design, join, make_design, share, unfold

Way: TypeAlias = Callable[[Page, str], None]

UNKNOWN = "A" * 22
"""A link as good as any, that opens nothing."""


def _first_page(page: Page, _link: str) -> None:
    page.goto("/")
    expect(page.locator("#no-pairs")).to_be_visible()


def _first_page_with_pairs(page: Page, link: str) -> None:
    _knit(page, link)
    page.goto("/")
    expect(page.locator("#pairs li")).to_have_count(1)


def _form(page: Page, _link: str) -> None:
    page.goto("/plan")


def _form_filled_in(page: Page, _link: str) -> None:
    page.goto("/plan?sample=ismene")
    for group in page.locator("details.group > summary:visible").all():
        group.click()
    expect(page.locator("#choices input:checked")).to_have_count(1)


def _form_with_a_chart(page: Page, _link: str) -> None:
    """The chart of a sample with a stitch that makes long floats, and the ring round the square painted last."""
    page.goto("/plan?sample=sorrel")
    for title in ("Yarn", "Colour"):
        page.locator("summary", has=page.get_by_text(title, exact=True)).click()
    page.get_by_role("gridcell", name="round 8, stitch 2: B").focus()
    page.keyboard.press("a")
    expect(page.locator(".floats li")).to_have_count(1)


def _form_with_stripes(page: Page, _link: str) -> None:
    page.goto("/plan?sample=ilex")
    page.locator("summary", has=page.get_by_text("Colour", exact=True)).click()
    expect(page.locator("#chart-preview")).to_be_visible()


def _form_in_inches(page: Page, _link: str) -> None:
    page.goto("/plan?sample=tove&unit=in")


def _form_with_feet(page: Page, _link: str) -> None:
    page.goto("/plan?sample=ismene")
    page.get_by_text("Keep this foot").click()
    for name in ("Ada", "Wilhelmine from the third floor"):
        page.locator("#foot-name").fill(name)
        page.get_by_role("button", name="Keep", exact=True).click()
        expect(page.locator("#feet-said")).to_contain_text(name)
    page.get_by_text("Rename, forget or save").click()
    page.get_by_text("Start from a shoe size").click()
    page.locator("[name=shoe_size]").fill("38")
    page.get_by_role("button", name="Fill in the foot").click()
    expect(page.locator("#shoe-said")).to_contain_text("This is a guess")


def _form_refused(page: Page, _link: str) -> None:
    page.goto("/plan")
    page.locator("[name=ball_circumference]").fill("230")
    page.locator("[name=stitches]").fill("thirty")
    page.get_by_role("button", name="Make the plan").click()
    expect(page.locator("#errors")).to_be_focused()


def _plan(page: Page, link: str) -> None:
    page.goto(f"/pair/{link}")


def _plan_in_colour(page: Page, sample: str) -> None:
    page.goto(f"/plan?sample={sample}")
    page.get_by_role("button", name="Make the plan").click()
    expect(page.locator(".sock-fabric").first).to_be_visible()


def _plan_with_a_chart(page: Page, _link: str) -> None:
    _plan_in_colour(page, "sorrel")


def _plan_with_stripes(page: Page, _link: str) -> None:
    _plan_in_colour(page, "ilex")


def _plan_in_inches(page: Page, link: str) -> None:
    page.goto(f"/pair/{link}?unit=in")


def _knit(page: Page, link: str) -> None:
    Knitting(page, link).open()


def _knit_shaping(page: Page, link: str) -> None:
    """The second round of the gusset: two zones, decreases."""
    _knit(page, link)
    page.get_by_text("Menu", exact=True).click()
    page.locator("#sections").get_by_role("button", name="Gusset").click()
    expect(page.locator("#section")).to_have_text("Gusset")
    page.locator("#done").click()
    expect(page.locator("#number")).to_contain_text("Round 2 of")


def _knit_menu(page: Page, link: str) -> None:
    _knit(page, link)
    page.get_by_text("Menu", exact=True).click()
    expect(page.get_by_label("Go to round")).to_be_visible()


def _knit_looking(page: Page, link: str) -> None:
    """At a round further on, without counting."""
    _knit(page, link)
    page.get_by_role("slider").press("ArrowRight")
    expect(page.get_by_role("button", name="Back to my round")).to_be_visible()


def _knit_counted_once(page: Page, link: str) -> None:
    """After two taps so quick that they were taken once."""
    _knit(page, link)
    expect(page.get_by_role("slider")).to_have_count(1)
    page.locator("#done").evaluate(
        "(button) => { for (let tap = 0; tap < 2; tap += 1) button.dispatchEvent(new MouseEvent('click')); }"
    )
    expect(page.get_by_role("button", name="Put the second back")).to_be_visible()


def _knit_meaning(page: Page, link: str) -> None:
    """A touched abbreviation in large words."""
    _knit(page, link)
    expect(page.get_by_role("slider")).to_have_count(1)
    page.locator("#done").click()
    page.locator("#words p").click(position={"x": 20, "y": 20})
    expect(page.get_by_label("Meaning")).to_be_visible()


def _knit_where(page: Page, link: str) -> None:
    """What a knitter is told after a pause."""
    _knit_shaping(page, link)
    page.get_by_text("Menu", exact=True).click()
    page.get_by_role("button", name="Where was I?").click()
    expect(page.get_by_role("region", name="Where was I?")).to_be_visible()


def _knit_large(page: Page, link: str) -> None:
    """Text twice as large, for the left thumb."""
    page.add_init_script("""localStorage.setItem("tapeline-hand", '{"text": "200", "side": "left"}')""")
    _knit_shaping(page, link)


def _knit_chart(page: Page, link: str) -> None:
    """A round by a chart."""
    change_data(page, chart)
    _knit(page, link)
    page.get_by_text("Menu", exact=True).click()
    page.locator("#sections").get_by_role("button", name="Leg").click()
    expect(page.locator("#chart")).to_be_visible()


def _knit_steps(page: Page, link: str) -> None:
    """In the middle of a round that is worked by hand."""
    change_data(page, steps)
    knitting = Knitting(page, link).open()
    knitting.go_to_round(3)
    knitting.let_time_pass()
    page.locator("#done").click()
    expect(page.locator("#step-count")).to_have_text("Stitch 1 of 3, step 2 of 3")


def _knit_far(page: Page, link: str) -> None:
    """How far it is, and how long it will take."""
    _knit_shaping(page, link)
    page.locator("#far").click()
    expect(page.get_by_role("region", name="How far")).to_be_visible()


def _knit_pair_finished(page: Page, link: str) -> None:
    knitting = Knitting(page, link).open()
    knitting.finish(1)
    expect(page.locator("#words")).to_have_text("Sock 1 is finished.")
    knitting.take_up(2)
    knitting.finish(2)
    expect(page.locator("#finish")).to_contain_text("Rounds")


def _knit_finished(page: Page, link: str) -> None:
    Knitting(page, link).open().finish(1)
    expect(page.locator("#section")).to_have_text("Finished")


def _knit_counted_apart(page: Page, link: str) -> None:
    """Another phone has counted three rounds in the meantime, and this one two."""
    knitting = Knitting(page, link).open()
    knitting.everything_is_sent()
    token = page.request.get("/csrf").json()["token"]
    others = [entry(number, device=f"{'b' * 8}-0000-4000-8000-000000000001", after=[]) for number in (1, 2, 3)]
    for before, one in pairwise(others):
        one["after"] = [before["id"]]
    sent = page.request.post(f"/pair/{link}/log", data={"after": 0, "entries": others}, headers={"X-CSRFToken": token})
    assert sent.ok
    knitting.count(2)
    expect(page.get_by_role("alert")).to_contain_text("Where is sock 1?")


def _knit_note(page: Page, link: str) -> None:
    knitting = Knitting(page, link).open()
    knitting.open_menu()
    page.get_by_role("button", name="Write a note").click()
    page.get_by_label("Note", exact=True).fill("Cast on over two needles; the left sock's tail is the long one.")
    page.get_by_role("button", name="Keep it").click()
    expect(page.locator("#remark")).to_be_visible()


def _knit_note_sheet(page: Page, link: str) -> None:
    Knitting(page, link).open().open_menu()
    page.get_by_role("button", name="Write a note").click()
    expect(page.get_by_role("dialog")).to_be_visible()


def _knit_try_on_sheet(page: Page, link: str) -> None:
    Knitting(page, link).open().open_menu()
    page.get_by_role("button", name="Note a try-on").click()
    expect(page.get_by_role("dialog")).to_be_visible()


def _knit_weighing_sheet(page: Page, link: str) -> None:
    Knitting(page, link).open().open_menu()
    page.get_by_role("button", name="Weigh the yarn").click()
    expect(page.get_by_label("Grams left")).to_be_visible()


def _weighed(page: Page, link: str, grams: str) -> None:
    """In the first half of the leg, on the page about the yarn, with every number open."""
    knitting = Knitting(page, link).open()
    knitting.go_to_round(41)
    knitting.weigh(grams)
    page.goto(f"/pair/{link}/yarn")
    for figure in page.locator(".figure summary").all():
        figure.click()


def _yarn_left(page: Page, link: str) -> None:
    _weighed(page, link, "91")


def _yarn_short(page: Page, link: str) -> None:
    _weighed(page, link, "60")


def _yarns_of_a_chart(page: Page, _link: str) -> None:
    _plan_in_colour(page, "sorrel")
    page.get_by_role("link", name="Yarn left").click()
    expect(page.get_by_role("heading", name="How long the leg may become")).to_be_visible()


def _logbook(page: Page, link: str) -> None:
    _knit_note(page, link)
    Knitting(page, link).count(3)
    Knitting(page, link).everything_is_sent()
    page.goto(f"/pair/{link}/logbook")
    expect(page.get_by_text("Note: Cast on")).to_be_visible()


def _knit_shell(page: Page, _link: str) -> None:
    page.goto("/knit")
    expect(page.locator("#section")).to_have_text("No pair")


def _check(page: Page, link: str) -> None:
    page.goto(f"/pair/{link}/check?sock=1&round=40")


def _check_kept(page: Page, link: str) -> None:
    """The knit page after a check that was made without network."""
    knitting = Knitting(page, link).open()
    knitting.go_to_round(41)
    knitting.everything_is_sent()
    knitting.works_without_network()
    page.context.set_offline(True)
    page.goto(f"/pair/{link}/check?sock=1&round=40")
    page.locator("[name=stitches_1]").fill("27")
    page.get_by_role("button", name="What does that mean?").click()
    expect(page.locator("#unseen-check")).to_contain_text("Gauge check kept")
    page.context.set_offline(False)
    expect(page.get_by_role("link", name="What your gauge check means")).to_be_visible(timeout=RETRY)


def _counted(page: Page, link: str, stitches: str) -> None:
    _check(page, link)
    page.locator("[name=stitches_1]").fill(stitches)
    page.get_by_role("button", name="What does that mean?").click()


def _result(page: Page, link: str) -> None:
    _counted(page, link, "27")
    expect(page.get_by_role("button", name="Accept this").first).to_be_visible()


def _result_of_many(page: Page, link: str) -> None:
    """Three checks, of which two disagree, with a sum and the sums of the changes folded out."""
    for counted in ("31", "29", "29.5"):
        _counted(page, link, counted)
        expect(page.get_by_role("heading", name="What it means")).to_be_visible()
    page.locator("details.sum > summary").first.click()
    page.get_by_text("Where these come from").first.click()


def _nothing_to_change(page: Page, link: str) -> None:
    _counted(page, link, "32")
    expect(page.get_by_text("Nothing to change.")).to_be_visible()


def _check_refused(page: Page, link: str) -> None:
    _counted(page, link, "12")
    expect(page.locator("#errors")).to_be_focused()


def _design_form(page: Page, _link: str) -> None:
    page.goto("/design")
    for group in page.locator("details.group > summary:visible").all():
        group.click()


def _design_refused(page: Page, _link: str) -> None:
    page.goto("/design")
    unfold(page, "Rib, leg and cuff")
    page.locator("[name=rib]").fill("z9")
    page.get_by_role("button", name="Keep the design").click()
    expect(page.locator("#errors")).to_be_focused()


def _design(page: Page, _link: str) -> None:
    make_design(page)


def _design_card(page: Page, _link: str) -> None:
    make_design(page)
    page.get_by_role("link", name="Card, A6").click()
    expect(page.get_by_role("img", name="QR code")).to_be_visible()


def _design_sheet(page: Page, _link: str) -> None:
    make_design(page)
    page.get_by_role("link", name="Sheet, A4").click()
    expect(page.get_by_role("img", name="QR code")).to_be_visible()


def _join(page: Page, _link: str) -> None:
    page.goto(make_design(page))
    expect(page.get_by_role("button", name="Make my plan")).to_be_visible()


def _followed(page: Page) -> str:
    """A design and a pair by it; returns the pair's link."""
    return join(page, make_design(page), ball_circumference="23", foot_length="25", stitches="30")


def _plan_of_a_follower(page: Page, _link: str) -> None:
    _followed(page)
    share(page, "Ortrun", size=True)


def _knit_led(page: Page, _link: str) -> None:
    """At the heel, where the leader has a note, with the pace below it."""
    knitting = Knitting(page, _followed(page)).open()
    page.get_by_text("Menu", exact=True).click()
    page.locator("#sections").get_by_role("button", name="Leg").click()
    knitting.page.locator("#pace").get_by_text("Leg done by").wait_for()


def _changed_design(page: Page, _link: str) -> None:
    page.goto("/design")
    pair = _followed(page)
    page.goto("/design")
    page.get_by_role("link", name="Larch and moss").click()
    change_design(page, rib="k1 p1", leg_length="10")
    page.goto(f"/pair/{pair}/design")
    expect(page.get_by_role("button", name="Take it over")).to_be_visible()


def _grid(page: Page, _link: str) -> None:
    page.goto(make_design(page) + "/grid")
    expect(page.get_by_role("region", name="Sizes")).to_be_visible()


def _pattern(page: Page, link: str) -> None:
    page.goto(f"/pair/{link}")
    page.get_by_role("link", name="Written pattern").click()
    expect(page.get_by_role("heading", name="Directions")).to_be_visible()


def _graded_pattern(page: Page, _link: str) -> None:
    make_design(page)
    page.get_by_role("link", name="Written pattern").click()
    expect(page.get_by_role("heading", name="Directions")).to_be_visible()


def _graded_pattern_refused(page: Page, _link: str) -> None:
    make_design(page)
    page.get_by_role("link", name="Written pattern").click()
    page.get_by_label("Round the ball of each foot").fill("3, 22")
    page.get_by_role("button", name="Show these sizes").click()
    expect(page.get_by_text("Round the ball: 3 given")).to_be_visible()


def _leaders_grid(page: Page, _link: str) -> None:
    make_design(page)
    page.get_by_role("link", name="Size grid", exact=True).click()
    expect(page.get_by_role("columnheader", name="30 × 40.5")).to_be_visible()


def _group(page: Page, _link: str) -> None:
    pair = _followed(page)
    share(page, "Ortrun", size=True)
    _counted(page, pair, "27")
    page.get_by_role("button", name="Accept this").first.click()
    expect(page.locator("#done")).to_be_enabled()
    page.goto("/design")
    page.get_by_role("link", name="Larch and moss").click()
    page.get_by_role("link", name="How the group is doing").click()
    expect(page.get_by_role("rowheader", name="Ortrun")).to_be_visible()


def _unknown(page: Page, _link: str) -> None:
    page.goto(f"/pair/{UNKNOWN}")


TOUR: dict[str, Way] = {
    "first page": _first_page,
    "first page with pairs": _first_page_with_pairs,
    "form": _form,
    "form filled in": _form_filled_in,
    "form with a chart": _form_with_a_chart,
    "form with stripes": _form_with_stripes,
    "form in inches": _form_in_inches,
    "form with feet": _form_with_feet,
    "form refused": _form_refused,
    "plan": _plan,
    "plan with a chart": _plan_with_a_chart,
    "plan with stripes": _plan_with_stripes,
    "plan in inches": _plan_in_inches,
    "knit": _knit,
    "knit shaping": _knit_shaping,
    "knit menu": _knit_menu,
    "knit looking ahead": _knit_looking,
    "knit counted once": _knit_counted_once,
    "knit meaning": _knit_meaning,
    "knit where was I": _knit_where,
    "knit large": _knit_large,
    "knit chart": _knit_chart,
    "knit steps": _knit_steps,
    "knit how far": _knit_far,
    "knit pair finished": _knit_pair_finished,
    "knit finished": _knit_finished,
    "knit counted apart": _knit_counted_apart,
    "knit note": _knit_note,
    "knit note sheet": _knit_note_sheet,
    "knit try-on sheet": _knit_try_on_sheet,
    "knit weighing sheet": _knit_weighing_sheet,
    "yarn left": _yarn_left,
    "yarn short": _yarn_short,
    "yarns of a chart": _yarns_of_a_chart,
    "logbook": _logbook,
    "knit without a pair": _knit_shell,
    "check": _check,
    "knit after a check": _check_kept,
    "check refused": _check_refused,
    "result": _result,
    "result of many checks": _result_of_many,
    "nothing to change": _nothing_to_change,
    "design form": _design_form,
    "design refused": _design_refused,
    "design": _design,
    "design card": _design_card,
    "design sheet": _design_sheet,
    "join": _join,
    "plan of a follower": _plan_of_a_follower,
    "knit with a leader": _knit_led,
    "changed design": _changed_design,
    "group": _group,
    "grid of a design": _grid,
    "pattern": _pattern,
    "graded pattern": _graded_pattern,
    "graded pattern refused": _graded_pattern_refused,
    "leader's grid": _leaders_grid,
    "unknown link": _unknown,
}
"""By its name, how to open each on a fresh page, given the link of a pair by the sample `ismene`."""

REFUSING = {
    "form refused": 422,
    "check refused": 422,
    "design refused": 422,
    "graded pattern refused": 422,
    "unknown link": 404,
}
"""The states that begin with a refusal, and its status."""
