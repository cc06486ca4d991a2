"""Gauge checks and what they lead to: answers, another leg, and sock two after it."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from ...conftest import entry
from ..checking import count, count_again, take_way
from ..given import write_elsewhere
from ..knitting import RETRY, Knitting
from .way import Way


def _check(page: Page, link: str) -> None:
    """In the first half of the leg."""
    write_elsewhere(page, link, entry(1, kind="go", round=40))
    _open_check(page, link)


def _open_check(page: Page, link: str) -> None:
    page.goto(f"/pair/{link}/check?sock=1&round=40")


def _check_refused(page: Page, _link: str) -> None:
    count(page, "12")
    expect(page.locator("#errors")).to_be_focused()


def _result_again(page: Page, link: str) -> None:
    """One count that differs: three more places are asked for."""
    _open_check(page, link)
    count(page, "27", "38")
    expect(page.get_by_role("button", name="Decide with these")).to_be_visible()


def _result(page: Page, _link: str) -> None:
    """Four places alike, so that a change is advised."""
    count_again(page, 27, 38)
    expect(page.get_by_role("button", name="Accept").first).to_be_visible()


def _sock_two(page: Page, link: str) -> None:
    """Sock one gets other stitches in its leg, and sock two is taken up."""
    take_way(page, "Change the leg here")
    knitting = Knitting(page, link)
    knitting.is_ready()
    knitting.take_up(2)
    expect(page.get_by_role("region", name="Sock two")).to_be_visible()


def _second_sock(page: Page, _link: str) -> None:
    page.get_by_role("link", name="Choose how to knit it").click()
    page.get_by_text("Other ways").click()
    page.get_by_text("What is different from sock one").first.click()


def _nothing_to_change(page: Page, link: str) -> None:
    _open_check(page, link)
    count(page, "32")
    expect(page.get_by_role("heading", name="As planned.")).to_be_visible()


def _result_of_many(page: Page, link: str) -> None:
    """Three checks, of which two disagree, with a sum and the sums of the changes folded out."""
    for counted in ("29", "29.5"):
        _open_check(page, link)
        count(page, counted)
        expect(page.get_by_text("How sure is this?")).to_be_visible()
    for words in ("How sure is this?", "What was counted and measured"):
        page.get_by_text(words).click()
    page.locator("details.sum > summary:visible").first.click()


def _knit_without_network(page: Page, link: str) -> None:
    """Opened again without network, with a round that could not be sent."""
    knitting = Knitting(page, link).open()
    knitting.go_to_round(40)
    knitting.works_without_network()
    knitting.everything_is_sent()
    page.context.set_offline(True)
    knitting.open()
    knitting.count()
    expect(page.locator("#kept")).to_contain_text("No network now")


def _needs_network(page: Page, link: str) -> None:
    """A page that is not kept."""
    page.goto(f"/pair/{link}/fit")
    expect(page.get_by_role("heading")).to_have_text("This page needs a network")


def _check_kept(page: Page, link: str) -> None:
    """The knit page after a check that was made without network."""
    _open_check(page, link)
    count(page, "27")
    expect(page.locator("#unseen-check")).to_contain_text("Gauge check kept")
    page.context.set_offline(False)
    expect(page.get_by_role("link", name="What your gauge check means")).to_be_visible(timeout=RETRY)


CHECKS: list[Way] = [
    {
        "check": _check,
        "check refused": _check_refused,
        "result to count again": _result_again,
        "result": _result,
        "knit sock two": _sock_two,
        "second sock": _second_sock,
    },
    {"nothing to change": _nothing_to_change, "result of many checks": _result_of_many},
    {
        "knit without network": _knit_without_network,
        "page that needs a network": _needs_network,
        "knit after a check": _check_kept,
    },
]
