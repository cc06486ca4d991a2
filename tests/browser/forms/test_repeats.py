"""Whole repeats of a chart in the gauge check form, with a network and without one."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from ..knitting import Knitting
from ..server import Server

PLACE = 60
KEPT = {"stitches": [{"count": 32, "over_cm": 10.3}], "rounds": [{"count": 24, "over_cm": 6}]}
"""4 repeats of 8 stitches and 3 of 8 rounds, as the chart of the sample has them."""


def count_repeats(page: Page) -> None:
    page.get_by_label("whole repeats").check()
    for label, value in (("Repeats across", "4"), ("Repeats up", "3")):
        page.get_by_label(label, exact=True).first.fill(value)
    for name, value in (("stitches", "10.3"), ("rounds", "6")):
        over = page.locator(f"[name={name}_over_1]")
        expect(over).to_have_value("")  # no usual length is that of whole repeats
        over.fill(value)
    expect(page.locator("#repeat-size")).to_contain_text("4 repeats across: 32 stitches. 3 repeats up: 24 rounds.")


@pytest.mark.usefixtures("without_worker")
def test_repeats_are_told_in_stitches_and_rounds_and_sent_as_such(page: Page, server: Server) -> None:
    link = server.add_pair("sorrel")
    page.goto(f"/pair/{link}/check?sock=1&round={PLACE}")
    back_to_stitches_the_usual_lengths_are_there_again(page)
    count_repeats(page)
    page.get_by_role("button", name="What does that mean?").tap()
    page.wait_for_url("**/check/result**")
    [check] = [entry for entry in server.entries(link) if entry.kind == "check"]
    assert check.data
    assert {what: check.data[what] for what in KEPT} == KEPT


def back_to_stitches_the_usual_lengths_are_there_again(page: Page) -> None:
    over = page.locator("[name=rounds_over_1]")
    usual = over.input_value()
    assert usual
    page.get_by_label("whole repeats").check()
    expect(over).to_have_value("")
    page.get_by_label("stitches", exact=True).check()
    expect(over).to_have_value(usual)
    expect(page.get_by_label("Stitches", exact=True).first).to_be_visible()


def test_without_a_network_the_phone_makes_stitches_of_them(page: Page, server: Server) -> None:
    knitting = Knitting(page, server.add_pair("sorrel")).open()
    knitting.go_to_round(PLACE + 1)
    knitting.everything_is_sent()
    knitting.works_without_network()
    knitting.is_complete()
    page.context.set_offline(True)
    page.get_by_role("link", name="Gauge check").tap()
    count_repeats(page)
    page.get_by_role("button", name="What does that mean?").tap()
    knitting.is_at(PLACE)
    page.context.set_offline(False)
    expect(page.get_by_role("link", name="What your gauge check means")).to_be_visible(timeout=30_000)
    [check] = [entry for entry in server.entries(knitting.link) if entry.kind == "check"]
    assert check.data
    assert {what: check.data[what] for what in KEPT} == KEPT
