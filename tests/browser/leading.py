"""A leader at a desk and followers on phones, by what they do on the pages."""

from __future__ import annotations

import re
from collections.abc import Mapping

from playwright.sync_api import Page, expect

from ..web.designing import DESIGN

NOTE_AND_STAGE = {
    **{name: DESIGN[name] for name in ("note_heel", "time_zone", "stage_name_1", "stage_until_1")},
    "stage_by_1": "2099-12-06",
}
"""What the leader says about the heel, and by when the leg is to be done."""

PAIR = re.compile(r"/pair/([\w-]{22})$")


def unfold(page: Page, title: str) -> None:
    """Fold a group of the form out, unless it is."""
    group = page.locator("details.group", has=page.get_by_text(title, exact=True))
    if group.get_attribute("open") is None:
        group.locator("summary").click()


def fill_in(page: Page, **fields: str) -> None:
    """Fill fields by their names."""
    for name, text in fields.items():
        field = page.locator(f"[name={name}]")
        if field.evaluate("field => field.localName") == "select":
            field.select_option(text)
        else:
            field.fill(text)


def fill_in_design(page: Page, title: str, **fields: str) -> str:
    """Make a design at the form, with a note and a stage; returns the followers' address."""
    page.goto("/design")
    for group in ("Notes", "Stages", "Rib, leg and cuff"):
        unfold(page, group)
    fill_in(page, title=title, **{**NOTE_AND_STAGE, **fields})
    page.get_by_role("button", name="Keep the design").click()
    return _led(page, title)


def make_design(page: Page, title: str = "Larch and moss", **fields: str) -> str:
    """Make a design as the form would send it, and open the leader's page; returns the followers' address."""
    page.goto(sent(page, "/design", {**DESIGN, **NOTE_AND_STAGE, "title": title, **fields}))
    return _led(page, title)


def sent(page: Page, address: str, form: Mapping[str, str | float | bool]) -> str:
    """Send a form as its page would; returns where the answer leads."""
    token = page.request.get("/csrf").json()["token"]
    made = page.request.post(address, form=dict(form), headers={"X-CSRFToken": token}, max_redirects=0)
    assert made.status == 303, made.text()
    return made.headers["location"]


def _led(page: Page, title: str) -> str:
    """Wait until the leader's page is there and its script has remembered the design."""
    expect(page.get_by_role("heading", level=1)).to_have_text(title)
    expect(page.get_by_role("button", name="Copy your link")).to_be_visible()
    return page.locator("[data-title]").get_attribute("data-link") or ""


def change_design(page: Page, **fields: str) -> None:
    """From the leader's page, change the design."""
    page.get_by_role("link", name="Change the design").click()
    for group in ("Notes", "Stages", "Rib, leg and cuff"):
        unfold(page, group)
    fill_in(page, **fields)
    page.get_by_role("button", name="Keep the change").click()
    expect(page.get_by_role("link", name="How the group is doing")).to_be_visible()


def tell(page: Page, words: str) -> None:
    """From the leader's page, say something to the group."""
    page.get_by_label("An announcement").fill(words)
    page.get_by_role("button", name="Tell the group").click()
    expect(page.get_by_text("Your followers see it")).to_be_visible()


def join(page: Page, address: str, unit: str = "in cm", **body: str) -> str:
    """Open the followers' address on a phone and fill the short form in; returns the link of the pair."""
    page.goto(address)
    page.get_by_label(unit).check()
    if "heel_diagonal" in body:
        unfold(page, "More about the foot")
    fill_in(page, **body)
    page.get_by_role("button", name="Make my plan").tap()
    page.wait_for_url(PAIR)
    found = PAIR.search(page.url)
    assert found
    return found[1]


def follow(page: Page, address: str, **body: str) -> str:
    """Make a pair as the short form would send it; returns its link. What is on the page stays."""
    found = PAIR.search(sent(page, address, {"unit": "cm", **body}))
    assert found
    return found[1]


def share(page: Page, name: str, *, size: bool = False) -> None:
    """From the plan page, share with the leader."""
    unfold(page, "Sharing with the leader")
    fill_in(page, first_name=name)
    if size:
        page.get_by_label("My size too").check()
    page.get_by_role("button", name="Share", exact=True).tap()
    expect(page.get_by_role("button", name="Stop sharing")).to_be_visible()
