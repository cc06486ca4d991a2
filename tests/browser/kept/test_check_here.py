"""A gauge check without network is calculated on the phone, as the server calculates it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from companion.on_phone.runtime import FOLDER, installed

from ...on_phone import NOT_HERE, RUNTIME
from ..checking import count
from ..conftest import NewPhone
from ..knitting import RETRY, Knitting
from ..server import Server, serving

PLACE = 40
KEPT_FOR_THE_NEXT_START = """async () => {
    const kept = (await (await caches.open("runtime")).keys()).map(({ url }) => url.split("/").at(-1));
    return kept.includes("memory.image") && kept.includes("compiled.zip");
}"""
CALCULATED = 120_000
"""Milliseconds that a busy computer may take to begin a Python in its browser."""

pytestmark = pytest.mark.skipif(not installed(RUNTIME), reason=NOT_HERE)


@pytest.fixture
def calculating(tmp_path: Path) -> Iterator[Server]:
    """A server that has the Python for browsers."""
    folder = tmp_path / "server"
    folder.mkdir()
    (folder / FOLDER).symlink_to(RUNTIME)
    with serving(folder) as started:
        yield started


def shown(page: Page) -> str:
    """All that the answer says, folded or not, but for buttons and links: some are for what only the server can do."""
    return str(
        page.evaluate(
            """() => {
                const answer = document.querySelector(".check.answer").cloneNode(true);
                answer.querySelectorAll("form, a, #ruler, #check-here").forEach((part) => part.remove());
                return answer.textContent.replace(/\\s+/g, " ").trim();
            }"""
        )
    )


def test_a_check_without_network_is_calculated_here_as_the_server_does_it(
    new_phone: NewPhone, calculating: Server
) -> None:
    link = calculating.add_pair()
    page = new_phone(calculating)
    knitting = Knitting(page, link).open()
    knitting.go_to_round(PLACE + 1)
    knitting.everything_is_sent()
    knitting.works_without_network()
    knitting.is_complete()

    # It is offered once, with what it takes; whoever does not want it has what there was before.
    knitting.open_menu()
    offer = page.get_by_role("button", name=re.compile(r"^Calculate checks without network: \d+ MB$"))
    offer.tap()
    expect(page.get_by_text("This phone calculates gauge checks without network")).to_be_visible()
    page.keyboard.press("Escape")
    page.wait_for_function(KEPT_FOR_THE_NEXT_START)

    # The calculation begins with the form, and its answer comes on the same page.
    calculating.kill()
    page.get_by_role("link", name="Gauge check").tap()
    count(page, "27", "38")
    expect(page.locator("#check-here")).to_contain_text("Calculated on this phone", timeout=CALCULATED)
    once = shown(page)
    page.reload()
    expect(page.locator("#check-here")).to_contain_text("Calculated on this phone", timeout=CALCULATED)
    assert shown(page) == once
    assert page.locator("form").count() == 0
    expect(page.get_by_role("link", name="Count at these places")).to_be_visible()
    here = shown(page)
    assert "27" in here
    page.get_by_role("link", name="Back to the knitting").tap()
    knitting.is_ready()
    notice = page.get_by_role("link", name="What your gauge check means")
    expect(notice).to_be_visible()

    calculating.start()
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator("#kept p").first).to_have_text("Kept and sent.", timeout=RETRY)
    notice.tap()
    expect(page.locator(".check.answer form").first).to_be_attached()
    assert shown(page) == here
