"""The way to the states of the knit page, and to the logbook."""

from __future__ import annotations

from datetime import timedelta
from itertools import pairwise

from playwright.sync_api import Page, expect

from ...conftest import NOON, entry
from ..given import NO_WORKERS, change_data, chart, photo, steps
from ..knitting import Knitting
from .desk import Way


def _knit(page: Page, link: str) -> None:
    Knitting(page, link).open()


def _knit_shaping(page: Page, link: str) -> None:
    """The second round of the gusset: two zones, decreases."""
    _knit(page, link)
    Knitting(page, link).go_to_section("Gusset")
    page.locator("#done").click()
    expect(page.locator("#number")).to_contain_text("Round 2 of")


def _knit_menu(page: Page, link: str) -> None:
    _knit(page, link)
    page.get_by_text("Menu", exact=True).click()
    expect(page.locator("#go-round")).to_be_visible()


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
    knitting = Knitting(page, link).open()
    knitting.is_complete()
    knitting.go_to_round(2)
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
    Knitting(page, link).go_to_section("Leg")
    expect(page.locator("#chart")).to_be_visible()


def _knit_steps(page: Page, link: str) -> None:
    """In the middle of a round that is worked by hand."""
    change_data(page, steps)
    knitting = Knitting(page, link).open()
    knitting.go_to_round(3)
    knitting.let_time_pass()
    page.locator("#done").click()
    expect(page.locator("#step-count")).to_have_text("Step 2 of 3, stitch 1 of 3")


def _knit_far(page: Page, link: str) -> None:
    """How far it is, and how long it will take."""
    _knit_shaping(page, link)
    page.locator("#how-far").click()
    expect(page.get_by_role("region", name="How far")).to_be_visible()


def _knit_long(page: Page, link: str) -> None:
    """After half an hour without a break."""
    page.clock.set_fixed_time(NOON)
    knitting = Knitting(page, link).open()
    knitting.is_complete()
    for minutes in range(0, 33, 8):
        page.clock.set_fixed_time(NOON + timedelta(minutes=minutes))
        knitting.count()
        expect(page.locator("#live")).to_contain_text(f"Round {knitting.place() + 1} of")
    expect(page.locator("#hands")).to_be_visible()


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
    Knitting(page, link).open()
    page.get_by_role("button", name="Note", exact=True).click()
    page.get_by_label("Note", exact=True).fill("Cast on over two needles; the left sock's tail is the long one.")
    page.get_by_role("button", name="Keep it").click()
    expect(page.locator("#remark")).to_be_visible()


def _knit_note_sheet(page: Page, link: str) -> None:
    Knitting(page, link).open()
    page.get_by_role("button", name="Note", exact=True).click()
    expect(page.get_by_role("dialog")).to_be_visible()


def _remind(page: Page, link: str) -> Knitting:
    """A reminder is written down in the leg, and the sheet says where it comes."""
    knitting = Knitting(page, link).open()
    knitting.go_to_section("Leg")
    knitting.open_menu()
    page.get_by_role("button", name="Reminders").click()
    page.get_by_label("When?").fill("every 6th round")
    page.get_by_label("What?").fill("move the marker")
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_role("dialog")).to_contain_text("It comes next in")
    return knitting


def _knit_reminder(page: Page, link: str) -> None:
    knitting = _remind(page, link)
    page.get_by_role("button", name="Close").click()
    knitting.count(5)
    expect(page.locator("#reminders")).to_contain_text("move the marker")


def _knit_reminder_sheet(page: Page, link: str) -> None:
    knitting = _remind(page, link)
    page.get_by_role("button", name="Close").click()
    knitting.open_menu()
    page.get_by_role("button", name="Reminders").click()
    expect(page.get_by_role("button", name="Delete: move the marker")).to_be_visible()


def _knit_try_on_sheet(page: Page, link: str) -> None:
    Knitting(page, link).open()
    page.get_by_role("button", name="Try on", exact=True).click()
    expect(page.get_by_role("dialog")).to_be_visible()


def _logbook(page: Page, link: str) -> None:
    _knit_note(page, link)
    Knitting(page, link).count(3)
    Knitting(page, link).everything_is_sent()
    page.goto(f"/pair/{link}/logbook")
    expect(page.get_by_text("Note: Cast on")).to_be_visible()


def _first_page_with_a_question(page: Page, link: str) -> None:
    """The list of pairs when one of them was counted apart."""
    _knit_counted_apart(page, link)
    page.goto("/")
    expect(page.locator(".pair-question")).to_contain_text("sock 1 was counted on two devices apart")


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


def _knit_opening(page: Page, link: str) -> None:
    """While the rounds are on their way: the script that paints them does not come."""
    page.route("**/js/knit/knit.js", lambda _: None)
    page.goto(f"/pair/{link}/knit", wait_until="commit")
    expect(page.get_by_role("button", name="Opening…")).to_be_visible()


def _knit_without_network(page: Page, link: str) -> None:
    """Opened again without network, with a round that could not be sent."""
    knitting = Knitting(page, link).open()
    knitting.works_without_network()
    knitting.everything_is_sent()
    page.context.set_offline(True)
    knitting.open()
    knitting.count()
    expect(page.locator("#kept")).to_contain_text("No network now")


def _needs_network(page: Page, link: str) -> None:
    """A page that is not kept, without network."""
    _knit_without_network(page, link)
    page.goto(f"/pair/{link}/fit")
    expect(page.get_by_role("heading")).to_have_text("This page needs a network")


def _knit_nothing_kept(page: Page, link: str) -> None:
    """In a browser that keeps nothing, as in some private windows."""
    page.add_init_script("IDBFactory.prototype.open = () => { throw new Error('storage is switched off') }")
    page.goto(f"/pair/{link}/knit")
    expect(page.locator("#section")).to_have_text("Nothing can be kept here")


def _knit_tap_lost(page: Page, link: str) -> None:
    """After a tap that the phone had no room for. Without a worker, it is the page itself that finds none."""
    page.add_init_script("delete window.Worker")
    knitting = Knitting(page, link).open()
    page.evaluate("() => { IDBObjectStore.prototype.add = () => { throw new Error('the device is full') } }")
    knitting.let_time_pass()
    knitting.done.click()
    expect(page.locator("#kept")).to_contain_text("was not kept")


def _knit_not_on_the_server(page: Page, link: str) -> None:
    """Of a pair that the server answers it does not know."""
    page.add_init_script(NO_WORKERS)
    page.route("**/log", lambda route: route.fulfill(status=404, json={"error": "not-found", "message": ""}))
    _knit(page, link)
    expect(page.get_by_role("button", name="Put it back")).to_be_visible()


def _knit_shell(page: Page, _link: str) -> None:
    page.goto("/knit")
    expect(page.locator("#section")).to_have_text("No pair")


KNIT: dict[str, Way] = {
    "first page with a question": _first_page_with_a_question,
    "knit opening": _knit_opening,
    "knit without network": _knit_without_network,
    "page that needs a network": _needs_network,
    "knit nothing kept": _knit_nothing_kept,
    "knit tap lost": _knit_tap_lost,
    "knit not on the server": _knit_not_on_the_server,
    "logbook with a photo": _logbook_with_a_photo,
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
    "knit for long": _knit_long,
    "knit pair finished": _knit_pair_finished,
    "knit finished": _knit_finished,
    "knit counted apart": _knit_counted_apart,
    "knit note": _knit_note,
    "knit note sheet": _knit_note_sheet,
    "knit try-on sheet": _knit_try_on_sheet,
    "knit reminder": _knit_reminder,
    "knit reminder sheet": _knit_reminder_sheet,
    "logbook": _logbook,
    "knit without a pair": _knit_shell,
}
