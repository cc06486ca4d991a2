"""A server that is killed while counts are under way, and started again on the same data, has each of them once."""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import Route, expect

from ...knitting import Knitting
from ...server import Server

pytestmark = pytest.mark.usefixtures("without_worker")


def test_counts_that_the_server_never_read(knitting: Knitting, server: Server) -> None:
    """The page goes on writing by its cookie and its token: they are signed with a key that outlives the process."""
    knitting.count(2)
    knitting.everything_is_sent()
    server.freeze()
    with knitting.page.expect_request("**/log"):
        knitting.count(3)
    server.kill()
    assert server.counted(knitting.link) == [1, 2]
    knitting.count(2)
    expect(knitting.page.locator("#kept")).to_contain_text("not yet sent")
    server.start()
    knitting.everything_is_sent()
    assert server.counted(knitting.link) == [1, 2, 3, 4, 5, 6, 7]


def test_counts_that_the_server_wrote_down_but_did_not_acknowledge(knitting: Knitting, server: Server) -> None:
    page = knitting.page
    knitting.everything_is_sent()

    def kill_before_the_answer(route: Route) -> None:
        if json.loads(route.request.post_data or "")["entries"] and server.is_running():
            route.fetch()
            server.kill()
        route.abort("connectionreset")

    page.route("**/log", kill_before_the_answer)
    with page.expect_event("requestfailed"):
        knitting.count()
    expect(page.locator("#kept")).to_contain_text("1 not yet sent")
    assert server.counted(knitting.link) == [1]
    knitting.count()
    page.unroute("**/log")
    server.start()
    knitting.count()
    knitting.everything_is_sent()
    assert server.counted(knitting.link) == [1, 2, 3]
