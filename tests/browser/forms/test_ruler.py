"""A tape that is tried once along a known length, and allowed for on every check from this device."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from ..checking import count, count_again
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")

KNOWN = [("29.7", "29.3", "10.14"), ("27.94", "28.2", "9.91"), ("8.56", "8.4", "10.19")]
"""A4 by ISO 216, Letter (11 in) by ANSI/ASME Y14.1, a bank card by ISO/IEC 7810: cm, what a tape says, its 10 cm."""


@pytest.fixture
def form(page: Page, link: str) -> Page:
    page.goto(f"/pair/{link}/check?sock=1&round=60")
    page.get_by_text("Is your tape true?").tap()
    return page


def tried(page: Page, along: str, says: str) -> None:
    page.locator("#ruler-along").select_option(along)
    page.get_by_label("The tape says").fill(says)
    page.get_by_role("button", name="Keep it").tap()


def test_a_tape_is_tried_along_a_known_length(form: Page) -> None:
    what_no_tape_says_is_refused(form)
    for along, says, ten in KNOWN:
        tried(form, along, says)
        expect(form.locator("#ruler-in-force")).to_have_text(f"10 cm on your tape are {ten} cm: allowed for")
    a_true_tape_is_true_and_can_be_forgotten(form)


def what_no_tape_says_is_refused(form: Page) -> None:
    for says in ("", "long", "11.7", "40"):
        tried(form, "29.7", says)
        refusal = form.get_by_role("alert").filter(has_text=f"“{says}” cannot be: it is 29.7 cm long")
        expect(refusal).to_be_visible()
        expect(form.locator("#ruler-in-force")).to_have_text("not tried yet")


def a_true_tape_is_true_and_can_be_forgotten(form: Page) -> None:
    """Within what the eye reads, half a millimetre."""
    tried(form, "29.7", "29.68")
    expect(form.locator("#ruler-in-force")).to_have_text("it is true")
    form.get_by_role("button", name="Forget").tap()
    expect(form.locator("#ruler-in-force")).to_have_text("not tried yet")


def test_it_is_kept_for_the_next_check_and_sent_along(form: Page, server: Server, link: str) -> None:
    """29.7 / 29.3 times 10 cm are 10.137 cm."""
    tried(form, "29.7", "29.3")
    form.reload()
    expect(form.locator("#ruler-in-force")).to_contain_text("allowed for")
    count(form, "27")
    expect(form.get_by_role("button", name="Decide with these")).to_be_visible()
    expect(form.locator("[name=ruler]")).to_have_value("1.0137")
    [check] = server.entries(link)
    assert check.data
    assert check.data["stitches"] == [{"count": 27, "over_cm": 10.137}]


def test_it_can_be_tried_where_three_more_places_are_asked_for(page: Page, server: Server, link: str) -> None:
    """A worn tape looks like a looser gauge, so that it is asked about before anything is changed."""
    page.goto(f"/pair/{link}/check?sock=1&round=60")
    count(page, "27")
    expect(page.locator("#ruler-in-force")).to_have_text("try it first: a worn one misleads")
    page.get_by_text("Is your tape true?").tap()
    tried(page, "29.7", "29.3")
    over = float(page.locator("[name=stitches_over_1]").input_value())
    count_again(page, 27, 40)
    expect(page.get_by_role("button", name="Decide with these")).to_have_count(0)
    _, again = server.entries(link)
    assert again.data
    assert {spot["over_cm"] for spot in again.data["stitches"]} == {round(over * 1.0137, 3)}
