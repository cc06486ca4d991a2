"""A new pair without network: planned on the phone, counted at once, and the server's own pair once there is one."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from companion.on_phone.runtime import installed

from ...conftest import FORM
from ...on_phone import NOT_HERE, RUNTIME
from ..knitting import RETRY, Knitting
from ..server import Server
from .calculating import CALCULATED

pytestmark = pytest.mark.skipif(not installed(RUNTIME), reason=NOT_HERE)


def test_a_pair_planned_without_network_is_knitted_at_once_and_becomes_the_servers(
    prepared: Page, calculating: Server
) -> None:
    page = prepared
    page.context.set_offline(True)

    # What is wrong is said as ever, and what was filled in stays.
    page.goto("/")
    page.get_by_role("link", name="Plan a pair").first.tap()
    page.locator("#ball_circumference").fill("wide")
    page.locator("#foot_length").fill(FORM["foot_length"])
    page.locator("#stitches").fill(FORM["stitches"])
    page.get_by_role("button", name="Make the plan").last.tap()
    expect(page.locator("#errors")).to_be_focused(timeout=CALCULATED)
    expect(page.locator("#errors")).to_contain_text("You typed “wide”. A number is needed here")
    page.locator("#ball_circumference").fill(FORM["ball_circumference"])
    expect(page.locator("#choices .choice").first).to_be_visible(timeout=CALCULATED)
    page.get_by_role("button", name="Make the plan").last.tap()

    # Its plan, and its first rounds.
    expect(page.locator("#only-here")).to_be_visible(timeout=CALCULATED)
    found = re.search(r"/pair/([\w-]{22})$", page.url)
    assert found
    here = page.locator(".plan-columns dl.figures").first.inner_text()
    page.get_by_role("link", name="Knit", exact=True).tap()
    knitting = Knitting(page, found[1])
    knitting.is_ready()
    expect(page.locator("#kept p").first).to_have_text("Kept on this device.")
    knitting.count(3)
    page.reload()
    knitting.is_at(3)

    # What else the phone makes of it, and what it says of the rest.
    page.goto(f"/pair/{found[1]}/pattern")
    expect(page.locator("#made-here")).to_contain_text("Calculated on this phone", timeout=CALCULATED)
    expect(page.get_by_role("heading", name="Directions")).to_be_visible()
    page.goto(f"/pair/{found[1]}/logbook")
    expect(page.locator(".day dd").first).to_contain_text("3 rounds counted", timeout=CALCULATED)
    page.goto(f"/pair/{found[1]}/change")
    expect(page.locator("main")).to_contain_text("The pair is on this phone alone. This page of it opens once")
    page.goto("/")
    expect(page.locator(".pair-waiting").first).to_have_text("Only on this device, not yet sent")

    # With a network it is the server's, with its counts; nothing is asked.
    page.context.set_offline(False)
    expect(page.locator(".pair-waiting").first).to_have_text("", timeout=RETRY)
    assert calculating.counted(found[1]) == [1, 2, 3]
    page.goto(f"/pair/{found[1]}")
    expect(page.locator("#only-here")).to_have_count(0)
    assert page.locator(".plan-columns dl.figures").first.inner_text() == here
    expect(page.locator("#carry")).to_be_attached()
    knitting.open().is_at(3)
    knitting.everything_is_sent()


OTHERWISE = """async (link) => {
    const scripts = document.querySelector("script[src*='/static/']").src.split("/js/")[0];
    const { transact } = await import(`${scripts}/js/pair/db.js`);
    const { answerTo } = await import(`${scripts}/js/lib/idb.js`);
    await transact("readwrite", async ({ pairs }) => {
        pairs.put({ ...(await answerTo(pairs.get(link))), otherwise: true });
    });
}"""
"""As it is after a server of another version has taken a pair that was planned here."""


@pytest.mark.usefixtures("without_worker")
def test_a_plan_that_the_server_would_make_in_another_way_is_told_once(knitting: Knitting) -> None:
    page = knitting.page
    knitting.everything_is_sent()
    page.evaluate(OTHERWISE, knitting.link)
    page.reload()
    told = page.locator("#planned-otherwise")
    expect(told).to_contain_text("Knit on: the plan stays as it is.")
    knitting.count()
    told.get_by_role("button", name="Put away").tap()
    expect(told).to_have_count(0)
    knitting.count()
    page.reload()
    knitting.is_at(2)
    knitting.is_complete()
    expect(told).to_have_count(0)


CHANGED_HERE = """async (link) => {
    const scripts = document.querySelector("script[src*='/static/']").src.split("/js/")[0];
    const { makeAnew, onlyHere } = await import(`${scripts}/js/phone/stale-pages.js`);
    const cache = await caches.open((await caches.keys()).find((name) => name.startsWith("tapeline-")));
    await cache.put(`/pair/${link}`, onlyHere("as it was planned first"));
    await cache.put(`/pair/${link}/pattern`, new Response("as it was planned first"));
    await makeAnew(link);
    const plan = await cache.match(`/pair/${link}`);
    const shell = await (await cache.match("/made-here")).text();
    return [plan.headers.has("only-here"), (await plan.text()) === shell, await cache.match(`/pair/${link}/pattern`)];
}"""


def test_the_plan_of_a_pair_that_no_server_has_is_made_anew_once_it_is_changed(knitting: Knitting) -> None:
    """It stays known as one that no server has, and nothing that was kept of it before is shown."""
    knitting.works_without_network()
    assert knitting.page.evaluate(CHANGED_HERE, "bG9uZy1lbm91Z2gtbGluaw") == [True, True, None]
