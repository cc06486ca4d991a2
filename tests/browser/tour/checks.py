"""The way to gauge checks, weighings and what they lead to."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from ..checking import count, count_again
from ..knitting import RETRY, Knitting
from .desk import Way, plan_in_colour


def _knit_weighing_sheet(page: Page, link: str) -> None:
    Knitting(page, link).open().open_menu()
    page.get_by_role("button", name="Weigh the yarn").click()
    expect(page.get_by_label("Grams left")).to_be_visible()


def _weighed(page: Page, link: str, grams: str) -> None:
    """In the first half of the leg, on the page about the yarn, with every number open."""
    knitting = Knitting(page, link).open()
    knitting.go_to_round(41)
    knitting.weigh(grams)
    page.goto(f"/pair/{link}/yarn")
    for fold in page.locator(".fold > summary").all():
        fold.click()
    for figure in page.locator(".figure summary").all():
        figure.click()


def _yarn_left(page: Page, link: str) -> None:
    _weighed(page, link, "91")


def _yarn_short(page: Page, link: str) -> None:
    _weighed(page, link, "60")


def _knit_yarn_short(page: Page, link: str) -> None:
    """The knit page, opened when the yarn is known not to reach."""
    _weighed(page, link, "60")
    Knitting(page, link).open()
    expect(page.locator("#yarn-warning")).to_be_visible(timeout=RETRY)


def _yarns_of_a_chart(page: Page, _link: str) -> None:
    plan_in_colour(page, "sorrel")
    page.get_by_role("link", name="Yarn left").click()
    expect(page.get_by_text("How long the leg may become")).to_be_visible()


def _check(page: Page, link: str) -> None:
    page.goto(f"/pair/{link}/check?sock=1&round=40")


def _check_kept(page: Page, link: str) -> None:
    """The knit page after a check that was made without network."""
    knitting = Knitting(page, link).open()
    knitting.go_to_round(41)
    knitting.everything_is_sent()
    knitting.works_without_network()
    page.context.set_offline(True)
    page.goto(f"/pair/{link}/check?sock=1&round=40")
    count(page, "27")
    expect(page.locator("#unseen-check")).to_contain_text("Gauge check kept")
    page.context.set_offline(False)
    expect(page.get_by_role("link", name="What your gauge check means")).to_be_visible(timeout=RETRY)


def count_stitches(page: Page, link: str, stitches: str) -> None:
    _check(page, link)
    count(page, stitches)


def count_loose(page: Page, link: str) -> None:
    """At four places alike, so that a change is advised."""
    _check(page, link)
    count(page, "27", "38")
    count_again(page, 27, 38)


def _result(page: Page, link: str) -> None:
    count_loose(page, link)
    expect(page.get_by_role("button", name="Accept").first).to_be_visible()


def _result_again(page: Page, link: str) -> None:
    """One count that differs: three more places are asked for."""
    count_stitches(page, link, "27")
    expect(page.get_by_role("button", name="Decide with these")).to_be_visible()


def _result_of_many(page: Page, link: str) -> None:
    """Three checks, of which two disagree, with a sum and the sums of the changes folded out."""
    for counted in ("31", "29", "29.5"):
        count_stitches(page, link, counted)
        expect(page.get_by_text("How sure is this?")).to_be_visible()
    for words in ("How sure is this?", "What was counted and measured"):
        page.get_by_text(words).click()
    page.locator("details.sum > summary:visible").first.click()


def _nothing_to_change(page: Page, link: str) -> None:
    count_stitches(page, link, "32")
    expect(page.get_by_role("heading", name="As planned.")).to_be_visible()


def _check_refused(page: Page, link: str) -> None:
    count_stitches(page, link, "12")
    expect(page.locator("#errors")).to_be_focused()


CHECKS: dict[str, Way] = {
    "knit weighing sheet": _knit_weighing_sheet,
    "yarn left": _yarn_left,
    "yarn short": _yarn_short,
    "knit yarn short": _knit_yarn_short,
    "yarns of a chart": _yarns_of_a_chart,
    "check": _check,
    "knit after a check": _check_kept,
    "check refused": _check_refused,
    "result": _result,
    "result to count again": _result_again,
    "result of many checks": _result_of_many,
    "nothing to change": _nothing_to_change,
}
