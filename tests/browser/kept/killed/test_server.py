"""A server that is killed while counts are under way, and started again on the same data, has each of them once."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from ...conftest import NewPhone
from ...knitting import Knitting
from ...server import Server

pytestmark = pytest.mark.usefixtures("without_worker")

KILL_BEFORE_THE_ANSWER = """() => {
    const whole = window.fetch;
    window.fetch = async (url, asked) => {
        const answer = await whole(url, asked);
        if (!url.endsWith("/log") || !JSON.parse(asked.body).entries.length) return answer;
        window.fetch = whole;
        await kill();
        window.killed = true;
        throw new TypeError("the connection was reset");
    };
}"""
"""The answer to the next entries that the server writes down is lost, and the server with it."""


def test_counts_that_the_server_never_read(new_phone: NewPhone, own_server: Server) -> None:
    link = own_server.add_pair()
    knitting = Knitting(new_phone(own_server), link).open()
    knitting.count(2)
    knitting.everything_is_sent()
    own_server.freeze()
    with knitting.page.expect_request("**/log"):
        knitting.count(3)
    own_server.kill()
    assert own_server.counted(link) == [1, 2]
    knitting.count(2)
    expect(knitting.page.locator("#kept")).to_contain_text("not yet sent")
    own_server.start()
    knitting.everything_is_sent()
    assert own_server.counted(link) == [1, 2, 3, 4, 5, 6, 7]


def test_counts_that_the_server_wrote_down_but_did_not_acknowledge(new_phone: NewPhone, own_server: Server) -> None:
    link = own_server.add_pair()
    knitting = Knitting(new_phone(own_server), link).open()
    knitting.everything_is_sent()

    knitting.page.expose_function("kill", own_server.kill)
    knitting.page.evaluate(KILL_BEFORE_THE_ANSWER)
    knitting.count()
    knitting.page.wait_for_function("() => window.killed")
    expect(knitting.page.locator("#kept")).to_contain_text("1 not yet sent")
    assert own_server.counted(link) == [1]
    knitting.count()
    own_server.start()
    knitting.count()
    knitting.everything_is_sent()
    assert own_server.counted(link) == [1, 2, 3]


def test_a_page_opened_before_still_writes_after_a_restart(new_phone: NewPhone, own_server: Server) -> None:
    """Cookies and tokens are signed with a key that outlives the process."""
    link = own_server.add_pair()
    knitting = Knitting(new_phone(own_server), link).open()
    knitting.everything_is_sent()
    own_server.kill()
    own_server.start()
    knitting.count(2)
    knitting.everything_is_sent()
    assert own_server.counted(link) == [1, 2]
