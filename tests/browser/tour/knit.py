"""The states of the knit page, with the yarn that is left, and the logbook."""

from __future__ import annotations

from datetime import timedelta
from itertools import pairwise

from playwright.sync_api import Page, expect

from ...conftest import NOON, entry
from ..given import change_data, chart, photo, steps, write_elsewhere
from ..knitting import RETRY, Knitting
from .way import Way


def _menu(page: Page, link: str) -> None:
    Knitting(page, link).open()
    page.get_by_text("Menu", exact=True).click()
    expect(page.locator("#go-round")).to_be_visible()


def _weighing_sheet(page: Page, _link: str) -> None:
    page.get_by_role("button", name="Weigh the yarn").click()
    expect(page.get_by_label("Grams left")).to_be_visible()


def _looking_ahead(page: Page, _link: str) -> None:
    """At a round further on, without counting."""
    page.get_by_role("button", name="Cancel").click()
    page.get_by_role("slider").press("ArrowRight")
    expect(page.get_by_role("button", name="Back to my round")).to_be_visible()


def _counted_once(page: Page, _link: str) -> None:
    """After two taps so quick that they were taken once."""
    page.get_by_role("button", name="Back to my round").click()
    page.locator("#done").evaluate(
        "(button) => { for (let tap = 0; tap < 2; tap += 1) button.dispatchEvent(new MouseEvent('click')); }"
    )
    expect(page.get_by_role("button", name="Put the second back")).to_be_visible()


def _meaning(page: Page, link: str) -> None:
    """A touched abbreviation in large words."""
    knitting = Knitting(page, link)
    knitting.is_complete()
    knitting.go_to_round(3)
    page.locator("#words p").click(position={"x": 20, "y": 20})
    expect(page.get_by_label("Meaning")).to_be_visible()


def _shaping(page: Page, link: str) -> None:
    """The second round of the gusset: two zones, decreases."""
    Knitting(page, link).open().go_to_section("Gusset")
    page.locator("#done").click()
    expect(page.locator("#number")).to_contain_text("Round 2 of")


def _how_far(page: Page, _link: str) -> None:
    """How far it is, and how long it will take."""
    page.locator("#how-far").click()
    expect(page.get_by_role("region", name="How far")).to_be_visible()


def _where(page: Page, _link: str) -> None:
    """What a knitter is told after a pause."""
    page.get_by_text("Menu", exact=True).click()
    page.get_by_role("button", name="Where was I?").click()
    expect(page.get_by_role("region", name="Where was I?")).to_be_visible()


def _large(page: Page, link: str) -> None:
    """Text twice as large, for the left thumb."""
    page.evaluate("""localStorage.setItem("tapeline-hand", '{"text": "200", "side": "left"}')""")
    Knitting(page, link).open()
    expect(page.locator("#number")).to_contain_text("Round 2 of")


def _chart(page: Page, link: str) -> None:
    """A round by a chart, of a pair that has another round worked by hand."""
    change_data(page, chart, steps)
    Knitting(page, link).open().go_to_section("Leg")
    expect(page.locator("#chart")).to_be_visible()


def _steps(page: Page, link: str) -> None:
    """In the middle of a round that is worked by hand."""
    knitting = Knitting(page, link)
    knitting.go_to_round(3)
    knitting.let_time_pass()
    page.locator("#done").click()
    expect(page.locator("#step-count")).to_have_text("Step 2 of 3, stitch 1 of 3")


def _not_on_the_server(page: Page, link: str) -> None:
    """Of a pair that the server answers it does not know."""
    page.route("**/log", lambda route: route.fulfill(status=404, json={"error": "not-found", "message": ""}))
    Knitting(page, link).open()
    expect(page.get_by_role("button", name="Put it back")).to_be_visible()


def _for_long(page: Page, link: str) -> None:
    """After half an hour without a break."""
    page.add_init_script("delete window.Worker")
    page.clock.set_fixed_time(NOON)
    knitting = Knitting(page, link).open()
    knitting.is_complete()
    for minutes in range(0, 33, 8):
        page.clock.set_fixed_time(NOON + timedelta(minutes=minutes))
        knitting.count()
        expect(page.locator("#live")).to_contain_text(f"Round {knitting.place() + 1} of")
    expect(page.locator("#hands")).to_be_visible()


def _tap_lost(page: Page, link: str) -> None:
    """After a tap that the phone had no room for. Without a worker, it is the page itself that finds none."""
    page.evaluate("() => { IDBObjectStore.prototype.add = () => { throw new Error('the device is full') } }")
    knitting = Knitting(page, link)
    knitting.let_time_pass()
    knitting.done.click()
    expect(page.locator("#kept")).to_contain_text("was not kept")


def _nothing_kept(page: Page, link: str) -> None:
    """In a browser that keeps nothing, as in some private windows."""
    page.add_init_script("IDBFactory.prototype.open = () => { throw new Error('storage is switched off') }")
    page.goto(f"/pair/{link}/knit")
    expect(page.locator("#section")).to_have_text("Nothing can be kept here")


def _finished(page: Page, link: str) -> None:
    Knitting(page, link).open().finish(1)
    expect(page.locator("#section")).to_have_text("Finished")


def _pair_finished(page: Page, link: str) -> None:
    expect(page.locator("#words")).to_have_text("Sock 1 is finished.")
    knitting = Knitting(page, link)
    knitting.take_up(2)
    knitting.finish(2)
    expect(page.locator("#finish")).to_contain_text("Rounds")


def _opening(page: Page, link: str) -> None:
    """While the rounds are on their way: the script that paints them does not come."""
    page.route("**/js/knit/knit.js", lambda _: None)
    page.goto(f"/pair/{link}/knit", wait_until="commit")
    expect(page.get_by_role("button", name="Opening…")).to_be_visible()


def _counted_apart(page: Page, link: str) -> None:
    page.unroute("**/js/knit/knit.js")
    counted_apart(page, link)


def counted_apart(page: Page, link: str) -> None:
    """Another phone has counted three rounds in the meantime, and this one two."""
    with page.expect_response("**/log"):  # what the page asks at first is not to bring the others' rounds
        knitting = Knitting(page, link).open()
    others = [entry(number, device=f"{'b' * 8}-0000-4000-8000-000000000001", after=[]) for number in (1, 2, 3)]
    for before, one in pairwise(others):
        one["after"] = [before["id"]]
    write_elsewhere(page, link, *others)
    knitting.count(2)
    expect(page.get_by_role("alert")).to_contain_text("Where is sock 1?")


def _first_page_with_a_question(page: Page, _link: str) -> None:
    """The list of pairs when one of them was counted apart."""
    page.goto("/")
    expect(page.locator(".pair-question")).to_contain_text("sock 1 was counted on two devices apart")


def _weighed(number: int, grams: int) -> dict[str, object]:
    return entry(number, kind="weighing", round=40, data={"grams": grams, "yarn": "A"})


def _open_yarn(page: Page, link: str) -> None:
    """With every number open."""
    page.goto(f"/pair/{link}/yarn")
    for fold in page.locator(".fold > summary").all():
        fold.click()
    for figure in page.locator(".figure summary").all():
        figure.click()


def _yarn_left(page: Page, link: str) -> None:
    """In the first half of the leg."""
    write_elsewhere(page, link, entry(1, kind="go", round=40), _weighed(2, 91))
    _open_yarn(page, link)


def _yarn_short(page: Page, link: str) -> None:
    write_elsewhere(page, link, _weighed(3, 60))
    _open_yarn(page, link)


def _knit_yarn_short(page: Page, link: str) -> None:
    """Opened when the yarn is known not to reach."""
    Knitting(page, link).open()
    expect(page.locator("#yarn-warning")).to_be_visible(timeout=RETRY)


def _reminder_sheet(page: Page, link: str) -> None:
    """A reminder is written down at the start of the leg."""
    knitting = Knitting(page, link)
    knitting.go_to_section("Leg")
    knitting.open_menu()
    page.get_by_role("button", name="Reminders").click()
    page.get_by_label("When?").fill("every 6th round")
    page.get_by_label("What?").fill("move the marker")
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_role("dialog")).to_contain_text("It comes next in")
    page.get_by_role("button", name="Close").click()
    knitting.open_menu()
    page.get_by_role("button", name="Reminders").click()
    expect(page.get_by_role("button", name="Delete: move the marker")).to_be_visible()


def _reminder(page: Page, link: str) -> None:
    page.get_by_role("button", name="Cancel").click()
    Knitting(page, link).count(5)
    expect(page.locator("#reminders")).to_contain_text("move the marker")


def _note_sheet(page: Page, _link: str) -> None:
    page.get_by_role("button", name="Note", exact=True).click()
    expect(page.get_by_role("dialog")).to_be_visible()


def _note(page: Page, _link: str) -> None:
    """At a round that has a reminder, and of a pair whose yarn does not reach."""
    page.get_by_label("Note", exact=True).fill("Cast on over two needles; the left sock's tail is the long one.")
    page.get_by_role("button", name="Keep it").click()
    expect(page.locator("#remark")).to_be_visible()


def _logbook(page: Page, link: str) -> None:
    Knitting(page, link).count(3)
    Knitting(page, link).everything_is_sent()
    page.goto(f"/pair/{link}/logbook")
    expect(page.get_by_text("Note: Cast on")).to_be_visible()


def _logbook_with_a_photo(page: Page, link: str) -> None:
    Knitting(page, link).open()
    page.get_by_role("button", name="Note", exact=True).click()
    page.get_by_label("Note", exact=True).fill("The heel as it should look.")
    page.get_by_label("Photo").set_input_files(photo(1200, 900))
    page.get_by_role("button", name="Keep it").click()
    expect(page.locator("#remark")).to_be_visible()
    Knitting(page, link).everything_is_sent()
    page.goto(f"/pair/{link}/logbook")
    expect(page.locator(".day img")).to_be_visible()


KNIT: list[Way] = [
    {
        "knit menu": _menu,
        "knit weighing sheet": _weighing_sheet,
        "knit looking ahead": _looking_ahead,
        "knit counted once": _counted_once,
        "knit meaning": _meaning,
        "knit not on the server": _not_on_the_server,
    },
    {"knit shaping": _shaping, "knit how far": _how_far, "knit where was I": _where, "knit large": _large},
    {"knit chart": _chart, "knit steps": _steps},
    {"knit for long": _for_long, "knit tap lost": _tap_lost, "knit nothing kept": _nothing_kept},
    {"knit finished": _finished, "knit pair finished": _pair_finished},
    {
        "knit opening": _opening,
        "knit counted apart": _counted_apart,
        "first page with a question": _first_page_with_a_question,
    },
    {
        "yarn left": _yarn_left,
        "yarn short": _yarn_short,
        "knit yarn short": _knit_yarn_short,
        "knit reminder sheet": _reminder_sheet,
        "knit reminder": _reminder,
        "knit note sheet": _note_sheet,
        "knit note": _note,
        "logbook": _logbook,
        "logbook with a photo": _logbook_with_a_photo,
    },
]
