"""What the leader has told her group, on the knit page until it is put away, also without a network."""

from __future__ import annotations

from playwright.sync_api import expect

from ..conftest import NewPhone
from ..knitting import Knitting
from ..leading import follow, make_design, tell
from ..server import Server

BODY = {"ball_circumference": "22.5", "foot_length": "24.5", "stitches": "30"}


def test_it_is_put_away_without_network_and_stays_away(new_phone: NewPhone, server: Server) -> None:
    desk = new_phone(server, worker=False)
    address = make_design(desk)
    page = new_phone(server)
    knitting = Knitting(page, follow(page, address, **BODY)).open()
    tell(desk, "We meet on Thursday.")
    tell(desk, "Bring scales. " * 12)
    knitting.open()
    shown = page.locator("#announcement")
    expect(shown).to_contain_text("From the leader,")
    expect(shown.get_by_text("We meet on Thursday.")).to_be_visible()
    knitting.works_without_network()
    knitting.count()
    knitting.everything_is_sent()
    page.context.set_offline(True)
    page.reload()
    knitting.is_ready()
    shown.get_by_role("button", name="Seen").tap()
    expect(shown.get_by_text("Bring scales.")).to_be_hidden()
    shown.get_by_text("From the leader,").tap()
    expect(shown.get_by_text("Bring scales.")).to_be_visible()
    page.reload()
    knitting.is_ready()
    expect(shown).to_contain_text("Bring scales.")
    page.context.set_offline(False)
    knitting.open()
    expect(shown).to_contain_text("Bring scales.")
    shown.get_by_text("From the leader,").tap()
    with page.expect_response("**/seen"):
        shown.get_by_role("button", name="Seen").tap()
    expect(shown).to_have_count(0)
    assert knitting.data()["told"] == []
    page.goto(f"/pair/{knitting.link}")
    expect(page.get_by_role("heading", name="With the group")).to_be_visible()
    expect(page.get_by_text("From the leader,")).to_have_count(0)
