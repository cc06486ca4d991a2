"""The way to gauge checks, weighings and what they lead to."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from .knitting import RETRY, Knitting
from .tour_desk import Way, plan_in_colour


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
    expect(page.get_by_role("heading", name="How long the leg may become")).to_be_visible()


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
    page.locator("[name=stitches_1]").fill("27")
    page.get_by_role("button", name="What does that mean?").click()
    expect(page.locator("#unseen-check")).to_contain_text("Gauge check kept")
    page.context.set_offline(False)
    expect(page.get_by_role("link", name="What your gauge check means")).to_be_visible(timeout=RETRY)


def count_stitches(page: Page, link: str, stitches: str) -> None:
    _check(page, link)
    page.locator("[name=stitches_1]").fill(stitches)
    page.get_by_role("button", name="What does that mean?").click()


def _result(page: Page, link: str) -> None:
    count_stitches(page, link, "27")
    expect(page.get_by_role("button", name="Accept this").first).to_be_visible()


def _result_of_many(page: Page, link: str) -> None:
    """Three checks, of which two disagree, with a sum and the sums of the changes folded out."""
    for counted in ("31", "29", "29.5"):
        count_stitches(page, link, counted)
        expect(page.get_by_role("heading", name="What it means")).to_be_visible()
    page.locator("details.sum > summary").first.click()
    page.locator(".changes summary").first.click()


def _nothing_to_change(page: Page, link: str) -> None:
    count_stitches(page, link, "32")
    expect(page.get_by_text("Nothing to change.")).to_be_visible()


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
    "result of many checks": _result_of_many,
    "nothing to change": _nothing_to_change,
}
