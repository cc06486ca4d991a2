"""What opens without a network: the plan, the written pattern and all pairs."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser, Page, expect

from ..chromium import phone
from ..conftest import NewPhone
from ..knitting import RETRY, Knitting, until
from ..server import Server
from ..strangers import PLAIN_HTTP

KEPT = """async (path) => {
    const kept = async (name) => Boolean(await (await caches.open(name)).match(path));
    const names = await caches.keys();
    const found = await Promise.all(names.map(kept));
    return names.filter((_, index) => found[index]);
}"""
TEXT = "(path) => caches.match(path, { ignoreVary: true }).then((page) => page.text())"
HAS_DATA = """(link) => new Promise((resolve) => {
    const opening = indexedDB.open("tapeline");
    opening.onsuccess = () => {
        const reading = opening.result.transaction("data").objectStore("data").count(link);
        reading.onsuccess = () => {
            opening.result.close();
            resolve(reading.result > 0);
        };
    };
})"""


def is_kept(page: Page, path: str) -> list[str]:
    """Wait until the worker has a page; the caches that it lies in."""
    found: list[str] = until(page, f"(path) => ({KEPT})(path).then((names) => names.length && names)", path)
    return found


def plan_is_whole(page: Page) -> None:
    """The plan page stands there with its styles and its scripts, which show the button to copy the link."""
    expect(page.get_by_role("heading", name="Counts and sizes")).to_be_visible()
    expect(page.locator("[data-copy]")).not_to_have_attribute("hidden", "")
    assert page.evaluate("document.styleSheets.length") >= 3
    assert len(set(re.findall(r"/static/(\w+)/", page.content()))) == 1


@pytest.mark.usefixtures("own_phone")
def test_plan_pattern_yarn_and_logbook_open_without_network_after_one_visit_to_the_knit_page(
    knitting: Knitting,
) -> None:
    page, path = knitting.page, f"/pair/{knitting.link}"
    for one in ("", "/pattern", "/yarn", "/logbook"):
        is_kept(page, path + one)
    page.context.set_offline(True)
    knitting.count(4)
    page.goto(path)
    plan_is_whole(page)
    expect(page.get_by_text("Sock 1: 4 of")).to_be_visible()
    page.reload()
    plan_is_whole(page)

    page.get_by_role("link", name="Written pattern").tap()
    expect(page).to_have_url(re.compile(f"{path}/pattern"))
    expect(page.get_by_role("heading", name="What you need")).to_be_visible()
    assert page.evaluate("document.styleSheets.length") >= 3
    page.goto(f"{path}/yarn")
    expect(page.get_by_role("link", name="Knit on")).to_be_visible()
    page.goto(f"{path}/logbook")
    expect(page.get_by_role("heading", name=re.compile(": logbook$"))).to_be_visible()
    with page.expect_download() as saved:
        page.get_by_role("link", name="Export the pair").tap()
    assert saved.value.suggested_filename.endswith(".tapeline.json")

    page.goto(f"{path}?unit=in")
    expect(page.get_by_role("heading", name="Counts and sizes")).to_be_visible()


def test_a_change_is_in_the_plan_that_is_kept(knitting: Knitting) -> None:
    page, path = knitting.page, f"/pair/{knitting.link}"
    is_kept(page, path)
    total = knitting.total()
    page.goto(f"{path}/yarn")
    page.get_by_text("How long the leg may become").tap()
    leg = page.get_by_label("Rounds of the leg")
    leg.fill(str(int(leg.input_value()) + 7))
    page.get_by_role("button", name="Make the leg this long").tap()
    expect(knitting.progress).to_have_text(f"0 of {total + 7}")
    until(page, f"([path, word]) => ({TEXT})(path).then((text) => text.includes(word))", [path, "Changed since"])
    page.context.set_offline(True)
    page.goto(path)
    expect(page.get_by_text(f"Sock 1: 0 of {total + 7} rounds")).to_be_visible()


def test_the_first_page_sends_the_counts_of_every_pair(page: Page, server: Server) -> None:
    links = [server.add_pair() for _ in range(2)]
    page.route("**/log", lambda route: route.abort())
    for link in links:
        Knitting(page, link).open().count(2)
    page.context.set_offline(True)
    page.goto("/")
    expect(page.get_by_text("2 only on this device, not yet sent")).to_have_count(2)
    page.unroute("**/log")
    page.context.set_offline(False)
    expect(page.get_by_text("only on this device")).to_have_count(0, timeout=RETRY)
    assert [server.counted(link) for link in links] == [[1, 2]] * 2


def test_any_page_sends_what_waits(new_phone: NewPhone, server: Server) -> None:
    context = new_phone(server).context
    link = server.add_pair()
    knitting = Knitting(context.new_page(), link).open()
    knitting.works_without_network()
    context.set_offline(True)
    knitting.count(3)
    knitting.page.close()
    context.set_offline(False)
    page = context.new_page()
    with page.expect_response("**/log"):
        page.goto("/plan")
    assert server.counted(link) == [1, 2, 3]


def test_after_eviction_all_comes_back_by_the_link_of_the_plan_and_can_be_knitted_without_network(
    knitting: Knitting, server: Server
) -> None:
    """A browser that clears a page away clears all of it at once (Storage Standard, bucket eviction)."""
    page, link = knitting.page, knitting.link
    knitting.count(5)
    knitting.everything_is_sent()
    devtools = page.context.new_cdp_session(page)
    origin = page.evaluate("location.origin")
    page.goto("about:blank")
    devtools.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "all"})
    page.goto(f"/pair/{link}")
    until(page, HAS_DATA, link)
    is_kept(page, f"/pair/{link}")
    page.context.set_offline(True)
    page.goto(f"/pair/{link}")
    plan_is_whole(page)
    knitting.open()
    knitting.is_at(5)
    page.locator("#undo").tap()
    knitting.is_at(4)
    knitting.count(2)
    page.context.set_offline(False)
    knitting.everything_is_sent()
    assert server.counted(link) == [1, 2, 3, 4, 5, 4, 5, 6]


def test_over_plain_http_one_line_says_what_is_missing(chromium: Browser, server: Server) -> None:
    with chromium.new_context(base_url=server.address.replace("127.0.0.1", PLAIN_HTTP), **phone()) as context:
        link = server.add_pair()
        knitting = Knitting(context.new_page(), link).open()
        line = knitting.page.locator("#plain-http")
        expect(line).to_contain_text("only while it stays open")
        expect(line).to_contain_text("https")
        knitting.count(2)
        knitting.everything_is_sent()
        kept, below = knitting.page.locator("#kept").bounding_box(), line.bounding_box()
        assert kept
        assert below
        assert kept["y"] + kept["height"] <= below["y"], "a line of its own"
    assert server.counted(link) == [1, 2]


def test_with_a_network_pages_come_from_the_server_though_they_are_kept(page: Page, link: str) -> None:
    """Only the server's page names the pair; the one that is kept here is the same for all pairs."""
    for path in ("knit", "check?sock=1&round=0"):
        with page.expect_response(lambda answer: answer.request.is_navigation_request()) as asked:
            page.goto(f"/pair/{link}/{path}")
        assert asked.value.from_service_worker, path
        assert link in asked.value.text(), path


def test_the_logbook_that_was_looked_at_last_is_the_one_kept(knitting: Knitting) -> None:
    page, path = knitting.page, f"/pair/{knitting.link}"
    is_kept(page, f"{path}/logbook")
    knitting.count(3)
    knitting.everything_is_sent()
    page.goto(f"{path}/logbook?zone=Asia/Kolkata")
    until(page, f"([path, word]) => ({TEXT})(path).then((text) => text.includes(word))", [f"{path}/logbook", "Kolkata"])
    page.context.set_offline(True)
    page.goto(f"{path}/logbook")
    expect(page.get_by_text("Sock 1, cuff, after round 3. Sock 2, before the cast-on.")).to_be_visible()
