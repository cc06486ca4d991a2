"""What is written down beside the count is answered, and can be taken back; a finished pair leads on."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from ..knitting import RETRY, Knitting
from ..server import Server


def kept_kinds(knitting: Knitting) -> list[str]:
    """What the browser keeps of the pair besides counts, in words of the logbook."""
    entries = knitting.page.evaluate(
        """(link) => new Promise((done) => {
            const opening = indexedDB.open("tapeline");
            opening.onsuccess = () => {
                const reading = opening.result.transaction("log").objectStore("log").getAll();
                reading.onsuccess = () => done(reading.result.filter((one) => one.link === link));
                reading.transaction.oncomplete = () => opening.result.close();
            };
        })""",
        knitting.link,
    )
    return sorted(entry["kind"] for entry in entries if entry["kind"] not in ("count", "undo", "go"))


def test_a_weighing_says_what_was_kept_and_can_be_taken_back(page: Page, server: Server, link: str) -> None:
    """Also where the pair was never opened here."""
    knitting = Knitting(page, link)
    page.goto(f"/pair/{link}/yarn")
    page.get_by_role("button", name="Weigh the yarn").tap()
    page.get_by_label("Grams left").fill("73")
    knitting.keep("weighing")
    [weighed] = [entry for entry in server.entries(link) if entry.kind == "weighing"]
    assert (weighed.round, weighed.data) == (0, {"grams": 73, "yarn": "A"})
    sheet = page.get_by_role("dialog", name="Weighing kept")
    expect(sheet).to_contain_text("73 g left.")
    sheet.get_by_role("button", name="Take it back").tap()
    expect(sheet).to_contain_text("Taken back")
    assert kept_kinds(knitting) == ["weighing", "withdrawal"]


def keep_a_foot(page: Page, name: str) -> None:
    """Keep a foot in the plan form."""
    page.goto("/plan?sample=ismene")
    page.get_by_text("Keep this foot").tap()
    page.locator("#foot-name").fill(name)
    page.get_by_role("button", name="Keep", exact=True).tap()
    expect(page.locator("#feet-said")).to_contain_text(name)


def test_a_finished_pair_asks_how_it_fits_and_the_kept_foot_learns_it(page: Page, server: Server) -> None:
    keep_a_foot(page, "Ada")
    knitting = Knitting(page, server.add_finished_pair()).open()
    expect(page.get_by_role("link", name="Plan the next pair")).to_be_visible(timeout=RETRY)
    expect(page.get_by_role("button", name="Keep a photo")).to_be_visible()
    page.get_by_role("button", name="How do they fit?").tap()
    sheet = page.get_by_role("dialog", name="How do they fit?")
    sheet.get_by_role("group", name="At the foot").get_by_label("tight").check()
    sheet.get_by_label("Ada").check()
    sheet.get_by_role("button", name="Keep it").tap()
    expect(page.get_by_role("dialog", name="Fit kept")).to_contain_text("Remembered for Ada")
    page.get_by_role("button", name="Close").tap()
    assert kept_kinds(knitting) == ["try-on"] * 4
    page.goto("/plan")
    page.get_by_role("button", name="Ada").tap()
    expect(page.locator("#feet-said")).to_contain_text("tight")
