"""The knit page under a thumb."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import Page, expect

ALL_SENT = "Kept and sent."
APART = 220
"""Milliseconds between taps that are a round each: nearer ones, of under 200, are taken once."""
RETRY = 30_000
"""Milliseconds to wait at most where the page tries again by itself after some seconds."""


class Knitting:
    """The knit page of one pair."""

    def __init__(self, page: Page, link: str) -> None:
        self.page = page
        self.link = link
        self.done = page.locator("#done")
        self.progress = page.locator("#progress")

    def open(self) -> Knitting:
        """Go to the page and wait until it can count."""
        self.page.goto(f"/pair/{self.link}/knit")
        self.is_ready()
        return self

    def is_ready(self) -> None:
        """The page has been painted with a place."""
        expect(self.progress).to_have_text(re.compile(r"^\d+ of \d+$"))

    def count(self, times: int = 1) -> None:
        """Tap that many rounds away and wait until the last one is painted."""
        before = self.place()
        for _ in range(times):
            self.let_time_pass()
            self.done.tap()
        self.is_at(before + times)

    def press(self, key: str) -> None:
        """Press a key as deliberately as a round is counted."""
        self.let_time_pass()
        self.page.keyboard.press(key)

    def let_time_pass(self) -> None:
        """Knit so long that the next tap is a round of its own."""
        self.page.evaluate("(apart) => new Promise((go) => setTimeout(go, apart))", APART)

    def finish(self, sock: int) -> None:
        """Go to the last round of the sock on the needles and work it, by hand step by step if it is told so."""
        parts = rounds_of(self.data(), sock)[-1].get("parts") or [{"times": 1}]
        self.go_to_round(self.total())
        for _ in range(sum(part["times"] for part in parts)):
            self.let_time_pass()
            self.done.click()

    def is_complete(self) -> None:
        """Wait until what the page loads after its first round is here."""
        expect(self.page.get_by_role("slider")).to_have_count(1)

    def drag_tape(self, far: float, at: float = 0) -> None:
        """Drag the tape by some px with a finger that then rests; `at` is where, in px from the reading line."""
        box = self.page.locator("#reading").bounding_box()
        assert box
        x, y = box["x"] + box["width"] / 2 + at, box["y"] + box["height"] / 2
        touch = self.page.context.new_cdp_session(self.page)
        for step in range(6):
            kind = "touchMove" if step else "touchStart"
            point = {"x": x + far * step / 5, "y": y}
            touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [point]})
        self.let_time_pass()
        touch.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [{"x": x + far, "y": y + 1}]})
        touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
        touch.detach()

    def place(self) -> int:
        """Rounds done, as painted."""
        return int(self.progress.inner_text().split()[0])

    def total(self) -> int:
        """Rounds of the sock, as painted."""
        return int(self.progress.inner_text().split()[-1])

    def is_at(self, place: int) -> None:
        """Wait until that many rounds are painted as done."""
        expect(self.progress).to_have_text(re.compile(rf"^{place} of \d+$"))

    def everything_is_sent(self) -> None:
        """Wait until the page says that the server has all."""
        expect(self.page.locator("#kept p").first).to_have_text(ALL_SENT, timeout=RETRY)

    def works_without_network(self) -> None:
        """Wait until the service worker has what the page needs and answers for it."""
        self.page.evaluate("navigator.serviceWorker.ready.then(() => true)")

    def open_menu(self) -> None:
        """Fold the menu out."""
        self.page.get_by_text("Menu", exact=True).tap()

    def go_to_round(self, number: int) -> None:
        """Go to a round by its number, from 1, as the menu takes it."""
        self.open_menu()
        self.page.get_by_label("Go to round").fill(str(number))
        self.page.get_by_role("button", name="Go", exact=True).tap()
        self.is_at(number - 1)

    def go_to_section(self, title: str) -> None:
        """Go to the start of a section by the menu's list, and wait until its first round is painted."""
        self.open_menu()
        self.page.locator("#sections").get_by_role("button", name=re.compile(f"^{title}:")).tap()
        expect(self.page.locator("#section")).to_have_text(title)
        expect(self.page.locator("#number")).to_have_text(re.compile("^(Round|Row) 1 of "))

    def take_change_back(self) -> None:
        """Take the last change of the plan back by the menu, and wait for the page that the server then sends."""
        self.open_menu()
        with self.page.expect_event("load"):
            self.page.get_by_role("button", name="Take the last change of the plan back").tap()
        self.is_ready()

    def weigh(self, grams: str, yarn: str = "") -> None:
        """Write down from the menu how much of a yarn is left, and wait until the server has it."""
        self.open_menu()
        self.page.get_by_role("button", name="Weigh the yarn").tap()
        if yarn:
            self.page.get_by_label(yarn).check()
        self.page.get_by_label("Grams left").fill(grams)
        with self.page.expect_response(re.compile("/log$")):
            self.page.get_by_role("button", name="Keep it").tap()
        expect(self.page.get_by_role("dialog")).to_have_count(0)

    def take_up(self, sock: int) -> None:
        """Take up the other sock."""
        button = self.page.get_by_role("button", name=str(sock), exact=True)
        button.tap()
        expect(button).to_have_attribute("aria-pressed", "true")

    def data(self) -> dict[str, Any]:
        """The pair as the server has it now."""
        found: dict[str, Any] = self.page.request.get(f"/pair/{self.link}/pair.json").json()
        return found


def script_of(data: dict[str, Any], sock: int) -> dict[str, Any]:
    """What a sock is knitted by."""
    found: dict[str, Any] = data["scripts"][data["socks"][sock - 1]["script"]]
    return found


def rounds_of(data: dict[str, Any], sock: int) -> list[dict[str, Any]]:
    """A sock's instructions, round by round."""
    script = script_of(data, sock)
    return [script["instructions"][number] for number in script["rounds"]]


def section_of(data: dict[str, Any], sock: int, key: str) -> dict[str, Any]:
    """A section of a sock."""
    return next(section for section in script_of(data, sock)["sections"] if section["key"] == key)
