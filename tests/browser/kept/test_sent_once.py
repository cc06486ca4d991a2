"""A real browser asks by the name of the page that it has, and an unchanged page is not sent again."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from ..conftest import NewPhone
from ..knitting import Knitting
from ..server import Server

SENT = """() => {
    const [page] = performance.getEntriesByType("navigation");
    return page.transferSize > page.encodedBodySize;
}"""
"""Whether the page came from the server: what was not sent again counts as its header alone (Resource Timing)."""


@pytest.mark.usefixtures("without_worker")
def test_a_page_is_sent_again_after_a_count_and_not_before(page: Page, link: str) -> None:
    plan, pattern = f"/pair/{link}", f"/pair/{link}/pattern"

    def sent(address: str) -> bool:
        page.goto(address)
        return bool(page.evaluate(SENT))

    assert [sent(address) for address in (plan, plan, pattern, pattern)] == [True, False, True, False]
    knitting = Knitting(page, link).open()
    knitting.count(3)
    knitting.everything_is_sent()
    assert [sent(address) for address in (plan, pattern)] == [True, True]


def test_the_worker_shows_a_page_that_was_not_sent_again(new_phone: NewPhone, server: Server, link: str) -> None:
    page = new_phone(server)
    Knitting(page, link).open().works_without_network()
    for _ in range(2):
        page.goto(f"/pair/{link}/pattern")
        expect(page.get_by_role("heading", name="What you need")).to_be_visible()
