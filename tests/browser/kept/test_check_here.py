"""A gauge check without network is calculated on the phone, as the server calculates it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from playwright.sync_api import Page, expect

from companion.on_phone.runtime import installed
from companion.pair.revisions import Revision

from ...conftest import made
from ...on_phone import NOT_HERE, RUNTIME
from ..checking import count, take_way
from ..knitting import RETRY, Knitting, until
from ..server import Server
from .calculating import CALCULATED

PLACE = 40
ALL_TAKEN = """async (link) => {
    const modules = document.querySelector("script[src*='/js/']").src.split("/js/")[0];
    const { loadPair } = await import(`${modules}/js/pair/db.js`);
    return !(await loadPair(link)).record.proposed;
}"""
"""Whether the server has every change that was accepted here."""
PLANS_KEPT = """async ([link, number]) => {
    const modules = document.querySelector("script[src*='/js/']").src.split("/js/")[0];
    const { keptPlans } = await import(`${modules}/js/pair/whole-pair.js`);
    while ((await keptPlans(link))?.revisions.length !== number) await new Promise(requestAnimationFrame);
}"""
"""Waits until this phone has that many plans of the pair as a whole: it calculates from them."""
NO_MEMORY = """() => {
    Worker.prototype.postMessage = () => { throw new Error("no memory is left"); };
}"""
"""Nothing can be asked on this page any more."""
WAY = "Keep the leg stitches"

pytestmark = pytest.mark.skipif(not installed(RUNTIME), reason=NOT_HERE)


def shown(page: Page) -> str:
    """All that the answer says, folded or not, but for buttons and links: some are for what only the server can do."""
    return str(
        page.evaluate(
            """() => {
                const answer = document.querySelector(".check.answer").cloneNode(true);
                answer.querySelectorAll("form, a, #ruler, #made-here").forEach((part) => part.remove());
                return answer.textContent.replace(/\\s+/g, " ").trim();
            }"""
        )
    )


def revisions(server: Server, link: str) -> list[Revision]:
    with server.store() as store:
        pair = store.find_pair(link)
        assert pair
        return store.ever_accepted(pair, 0)


def accepted(server: Server, link: str) -> list[str]:
    """The ways of the changes that stand."""
    with server.store() as store:
        pair = store.find_pair(link)
        assert pair
        return [one.option for one in store.revisions(pair)]


def change_elsewhere(server: Server, link: str) -> None:
    """Another device accepts a plan for the pair."""
    with server.store() as store:
        pair = store.find_pair(link)
        assert pair
        newest = store.revisions(pair)[-1]
        store.add_revision(pair, replace(newest, done=PLACE, summary="Changed elsewhere"), "", "elsewhere")


def in_the_leg(page: Page, server: Server) -> Knitting:
    """A pair on a phone that calculates, counted into the leg, which from now on can do without network."""
    knitting = Knitting(page, server.add_pair())
    server.write(knitting.link, made(1, kind="go", round=PLACE))
    knitting.open().is_at(PLACE)
    knitting.everything_is_sent()
    knitting.is_complete()
    page.evaluate(PLANS_KEPT, [knitting.link, 1])
    return knitting


def take_without_network(page: Page, way: str) -> None:
    """Accept a way to go on on the page of a result."""
    expect(page.locator("#made-here")).to_contain_text("Calculated on this phone", timeout=CALCULATED)
    take_way(page, way)
    expect(page.locator("#plan-changed")).to_contain_text(way, timeout=CALCULATED)


def test_a_change_is_accepted_without_network_and_the_server_makes_the_same_of_it(
    prepared: Page, calculating: Server
) -> None:
    page = prepared
    knitting = in_the_leg(page, calculating)
    link = knitting.link
    page.context.set_offline(True)
    planned = page.locator("#progress").text_content()
    changed = page.locator("#plan-changed")

    # Accepted, taken back before the server heard of it, and accepted again.
    page.get_by_role("link", name="Gauge check").tap()
    count(page, "27", "38")
    take_without_network(page, WAY)
    assert page.locator("#progress").text_content() != planned
    page.get_by_role("button", name="Take it back").tap()
    expect(page.locator("#what-was-done")).to_contain_text("The change was taken back")
    expect(changed).to_have_count(0)
    assert page.locator("#progress").text_content() == planned
    page.goto(f"/pair/{link}/check/result?sock=1&round={PLACE}")
    take_without_network(page, WAY)

    # Counted on by it, and still there after the browser was closed.
    knitting.count(3)
    page.reload()
    knitting.is_at(PLACE + 3)
    expect(changed).to_contain_text(WAY)
    by_it = page.locator("#progress").text_content()

    # Sock two is chosen without network, too.
    knitting.take_up(2)
    page.get_by_role("link", name="Choose how to knit it").tap()
    expect(page.locator("#made-here")).to_contain_text("Calculated on this phone", timeout=CALCULATED)
    page.get_by_role("button", name="Knit it like this").first.tap()
    expect(page.locator("#what-was-done")).to_contain_text("Sock two is knitted as you chose", timeout=CALCULATED)
    knitting.take_up(1)
    assert len(revisions(calculating, link)) == 1

    # The server makes the same of it, once, and nobody is asked.
    page.context.set_offline(False)
    knitting.everything_is_sent()
    until(page, ALL_TAKEN, link)
    page.reload()
    knitting.is_at(PLACE + 3)
    knitting.everything_is_sent()
    assert page.locator("#progress").text_content() == by_it
    assert page.locator(".question").count() == 0
    assert [one.option for one in revisions(calculating, link)] == ["", "rest", "sock two knitted"]


def test_where_the_plan_was_changed_elsewhere_the_knitter_is_asked(prepared: Page, calculating: Server) -> None:
    page = prepared
    knitting = in_the_leg(page, calculating)
    link = knitting.link
    page.context.set_offline(True)
    page.get_by_role("link", name="Gauge check").tap()
    count(page, "27", "38")
    take_without_network(page, WAY)
    knitting.count(2)
    change_elsewhere(calculating, link)
    page.context.set_offline(False)
    expect(page.get_by_role("heading", name="Two plans")).to_be_visible(timeout=RETRY)
    assert [one.option for one in revisions(calculating, link)] == ["", "elsewhere"]
    with page.expect_event("load"):
        page.get_by_role("button", name="By the change made here").tap()
    knitting.is_ready()
    knitting.is_at(PLACE + 2)
    assert [one.option for one in revisions(calculating, link)] == ["", "elsewhere", "rest"]
    assert page.locator(".question").count() == 0

    # What the server has is taken back without network, too.
    page.evaluate(PLANS_KEPT, [link, 3])
    page.context.set_offline(True)
    page.get_by_role("button", name="Take it back").tap()
    expect(page.locator("#what-was-done")).to_contain_text("The change was taken back", timeout=CALCULATED)
    expect(page.locator("#plan-changed")).to_contain_text("Changed elsewhere")
    assert len(accepted(calculating, link)) == 3
    page.context.set_offline(False)
    until(page, ALL_TAKEN, link)
    assert accepted(calculating, link) == ["", "elsewhere"]


def test_a_check_without_network_is_calculated_here_as_the_server_does_it(prepared: Page, calculating: Server) -> None:
    page = prepared
    knitting = in_the_leg(page, calculating)

    # The calculation begins with the form, and its answer comes on the same page.
    page.context.set_offline(True)
    page.get_by_role("link", name="Gauge check").tap()
    count(page, "27", "38")
    expect(page.locator("#made-here")).to_contain_text("Calculated on this phone", timeout=CALCULATED)
    once = shown(page)
    page.reload()
    expect(page.locator("#made-here")).to_contain_text("Calculated on this phone", timeout=CALCULATED)
    assert shown(page) == once
    expect(page.get_by_role("link", name="Count at these places")).to_be_visible()
    here = shown(page)
    assert "27" in here
    page.get_by_role("link", name="Back to the knitting").tap()
    knitting.is_ready()
    notice = page.get_by_role("link", name="What your gauge check means")
    expect(notice).to_be_visible()

    page.context.set_offline(False)
    knitting.everything_is_sent()
    notice.tap()
    expect(page.locator(".check.answer form").first).to_be_attached()
    assert shown(page) == here


def test_what_could_not_be_calculated_says_why_and_is_tried_again(prepared: Page, calculating: Server) -> None:
    page = prepared
    in_the_leg(page, calculating)
    page.context.set_offline(True)
    page.get_by_role("link", name="Gauge check").tap()
    expect(page.locator("#check-place")).to_contain_text("leg")
    page.evaluate(NO_MEMORY)
    count(page, "27", "38")
    expect(page.locator("#made-here")).to_have_text(
        "This could not be calculated: no memory is left. What was counted and written down is kept here."
    )
    page.get_by_role("button", name="Try again").tap()
    expect(page.locator("#made-here")).to_contain_text("Calculated on this phone", timeout=CALCULATED)
