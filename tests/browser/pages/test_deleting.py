"""A pair is deleted by the buttons: on the server first, then on the phone, with everything that it kept."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from ..conftest import NewPhone
from ..given import photo
from ..kept.test_kept_pages import is_kept
from ..knit.test_remarks import write_note
from ..knitting import Knitting
from ..leading import make_design
from ..server import Server

LEFT = """async (link) => {
    const database = await new Promise((resolve) => {
        const opening = indexedDB.open("tapeline");
        opening.onsuccess = () => resolve(opening.result);
    });
    const stores = [...database.objectStoreNames];
    const reading = database.transaction(stores);
    const found = stores.map((name) => [reading.objectStore(name).getAllKeys(), reading.objectStore(name).getAll()]);
    await new Promise((resolve) => (reading.oncomplete = resolve));
    database.close();
    const kept = [JSON.stringify(found.flat().map(({ result }) => result)), JSON.stringify({ ...localStorage })];
    for (const name of await caches.keys()) {
        const cache = await caches.open(name);
        kept.push(...(await cache.keys()).map(({ url }) => url));
    }
    return kept.filter((text) => text.includes(link)).length;
}"""
"""In how many places the browser has a pair's link."""


def asked(page: Page, what: str) -> None:
    """Delete, on the page that asks."""
    expect(page.get_by_role("heading", level=1)).to_contain_text("Delete “")
    page.get_by_role("button", name=f"Delete this {what}").click()


def listed(page: Page) -> None:
    """Wait until the first page has looked through what is in this browser."""
    expect(page.locator("html")).to_have_class(re.compile("listed"))


def test_a_pair_is_deleted_on_the_server_and_on_the_phone_and_not_without_network(
    new_phone: NewPhone, server: Server
) -> None:
    link, other = server.add_pair(), server.add_pair("linnet")
    page = new_phone(server)
    Knitting(page, other).open()
    knitting = Knitting(page, link).open()
    knitting.count(2)
    write_note(knitting, "Ladder at the gusset", photo(80, 60))
    page.evaluate(
        "(link) => localStorage.setItem('tapeline-gauges', JSON.stringify({ [link]: { yarn: 'fog' } }))", link
    )
    knitting.everything_is_sent()
    for kept in (f"/pair/{link}", f"/pair/{other}", f"/pair/{other}/pattern"):
        is_kept(page, kept)
    page.goto(f"/pair/{link}")
    page.context.set_offline(True)
    page.get_by_role("link", name="Delete this pair").click()
    expect(page.get_by_role("heading", name="This page needs a network")).to_be_visible()
    page.context.set_offline(False)
    page.goto("/")
    page.get_by_label("More: Ismene").click()
    page.get_by_role("link", name="Delete: Ismene").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Ismene")
    assert page.evaluate(LEFT, link) > 3
    page.context.set_offline(True)
    page.get_by_role("button", name="Delete this pair").click()
    expect(page.get_by_role("alert")).to_contain_text("Nothing was deleted")
    assert page.evaluate(LEFT, link) > 3
    page.context.set_offline(False)
    asked(page, "pair")
    expect(page.get_by_role("status").first).to_contain_text("The pair was deleted, on the server and in this browser.")
    expect(page.locator("#pairs li")).to_have_count(1)
    expect(page.locator(".pair-title")).to_have_text(re.compile("Linnet"))
    assert page.evaluate(LEFT, link) == 0
    assert page.evaluate(LEFT, other) > 2
    assert "fog" in page.evaluate("() => localStorage.getItem('tapeline-gauges')")
    expect(page.get_by_text("No pair has been planned")).to_be_hidden()
    page.goto(f"/pair/{link}/knit")
    expect(page.get_by_role("heading", name="There is nothing here")).to_be_visible()


def test_a_browser_without_scripts_deletes_too(new_phone: NewPhone, server: Server, link: str) -> None:
    page = new_phone(server, java_script_enabled=False)
    page.goto(f"/pair/{link}")
    page.get_by_role("link", name="Delete this pair").click()
    asked(page, "pair")
    expect(page.get_by_text("The pair was deleted")).to_be_visible()


def test_a_button_pressed_before_its_script_is_there_deletes_in_this_browser_too(
    new_phone: NewPhone, server: Server
) -> None:
    link = server.add_pair()
    page = new_phone(server)
    page.route("**/delete-form.js", lambda route: route.abort())
    Knitting(page, link).open().count(1)
    page.goto(f"/pair/{link}/delete")
    asked(page, "pair")
    listed(page)
    expect(page.get_by_text("No pair has been planned")).to_be_visible()
    assert page.evaluate(LEFT, link) == 0
    assert page.evaluate("document.cookie") == ""


def test_a_deleted_design_is_off_the_leaders_list(new_phone: NewPhone, server: Server) -> None:
    page = new_phone(server)
    address = make_design(page)
    link = page.url.split("/")[-1]
    make_design(page, "Maple")
    page.goto(f"/design/{link}")
    page.get_by_role("link", name="Delete this design").click()
    asked(page, "design")
    expect(page.get_by_text("The design was deleted.")).to_be_visible()
    listed(page)
    page.goto("/design")
    expect(page.locator("#designs-here li")).to_have_count(1)
    expect(page.locator("#designs-here li")).to_have_text("Maple")
    page.goto(address)
    expect(page.get_by_text("its leader has deleted the design")).to_be_visible()
