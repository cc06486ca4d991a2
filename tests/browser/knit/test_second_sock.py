"""Sock two after sock one was changed: said, asked before its cast-on, chosen, taken back."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from ..checking import take_way
from ..knitting import Knitting, rounds_of
from ..server import Server
from .test_gauge_check import accept, is_checked

pytestmark = pytest.mark.usefixtures("without_worker")


def test_before_its_cast_on_sock_two_asks_how_it_is_to_be_knitted(knitting: Knitting, server: Server) -> None:
    page = knitting.page
    planned = rounds_of(knitting.data(), 2)
    knitting.go_to_round(41)
    knitting.everything_is_sent()
    panel = page.get_by_role("region", name="Sock two")
    knitting.take_up(2)
    expect(panel).to_have_count(0)
    knitting.take_up(1)
    is_checked(knitting, server)
    accept(knitting, "Change the leg here")
    changed = rounds_of(knitting.data(), 1)
    # What changes beside the rounds is said as well (WCAG 2.2, success criterion 4.1.3).
    line, told = page.locator("#plan-changed"), page.locator("#told")
    expect(line).to_be_visible()
    expect(told).to_contain_text(line.evaluate("(line) => line.firstChild.textContent.trim()"))
    knitting.take_up(2)
    expect(told).to_contain_text("Sock two. Sock one was changed while it was knitted.")
    panel.get_by_role("link", name="Choose how to knit it").tap()
    expect(page.get_by_role("article", name="As sock one was knitted")).to_be_visible()
    expect(page.get_by_text("Other ways: as it should have been · as first planned")).to_be_visible()
    take_way(page, "As first planned")
    knitting.is_ready()
    expect(panel).to_have_count(0)
    assert rounds_of(knitting.data(), 2) == planned
    assert rounds_of(knitting.data(), 1) == changed
    knitting.take_change_back()
    assert rounds_of(knitting.data(), 2) == changed
    knitting.count()
    expect(panel).to_have_count(0)
