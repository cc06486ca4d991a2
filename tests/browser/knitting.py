"""The knit page under a thumb."""

from __future__ import annotations

import re
import time
from contextlib import suppress
from typing import Any

from playwright.sync_api import Error, Page, Response, expect

ALL_SENT = "Kept and sent."
APART = 220
"""Milliseconds between taps that are a round each: nearer ones, of under 200, are taken once."""
LATER = """(apart) => {
    if (!("later" in window)) {
        const { get } = Object.getOwnPropertyDescriptor(Event.prototype, "timeStamp");
        Object.defineProperty(Event.prototype, "timeStamp", { get() { return get.call(this) + window.later; } });
        window.later = 0;
    }
    window.later += apart;
}"""
"""Sets the clock that the page sees of what hands do forward by that many milliseconds."""
SHOWN = """([selector, pattern, within]) => new Promise((done) => {
    const look = () => new RegExp(pattern).test(document.querySelector(selector)?.textContent) && done();
    new MutationObserver(look).observe(document, { childList: true, characterData: true, subtree: true });
    AbortSignal.timeout(within).addEventListener("abort", done);
    look();
})"""
STYLED = """() => Promise.all([...document.querySelectorAll("link[rel=stylesheet]")].map(
    (link) => link.sheet || new Promise((done) => link.addEventListener("load", done)))).then(() => true)"""
"""Waits for the styles of a page: words are there before them."""
GO_TO = """(form, place) => {
    const part = form.querySelector("select");
    part.value = [...part.options].map(({ value }) => value).findLast((first) => first <= place);
    part.dispatchEvent(new Event("change"));
    form.querySelector("input").value = place - part.value + 1;
    form.requestSubmit();
}"""
"""Goes to a place by the menu's form without opening it. `place`: rounds of the sock that are done there."""
IN_A_MOMENT = 1_000
"""Milliseconds within which a page usually shows what a hand has done."""
RETRY = 120_000
"""Milliseconds to wait at most where the page tries again by itself after some seconds."""


def until(page: Page, condition: str, argument: object = None) -> Any:
    """Ask the page until the answer is something; that answer.

    The condition may give a promise, which Playwright's `wait_for_function` takes for a yes.
    """
    end = time.monotonic() + RETRY / 1000
    while not (found := page.evaluate(condition, argument)):
        assert time.monotonic() < end, condition
        page.wait_for_timeout(50)
    return found


class Knitting:
    """The knit page of one pair."""

    def __init__(self, page: Page, link: str) -> None:
        self.page = page
        self.link = link
        self.done = page.locator("#done")
        self.progress = page.locator("#progress")

    def _look_out(self, selector: str, pattern: str) -> None:
        """Wait a moment for words. The page sees them at once, while `expect` looks every tenth of a second."""
        with suppress(Error):
            self.page.evaluate(SHOWN, [selector, pattern, IN_A_MOMENT])

    def open(self) -> Knitting:
        """Go to the page and wait until it can count."""
        self.page.goto(f"/pair/{self.link}/knit")
        self.is_ready()
        return self

    def is_ready(self) -> None:
        """The page has been painted with a place."""
        self._look_out("#progress", r"^\d")
        expect(self.progress).to_have_text(re.compile(r"^\d+ of \d+$"))

    def count(self, times: int = 1) -> None:
        """Tap that many rounds away and wait until the last one is painted. The thumb stays where it has tapped."""
        before = self.place()
        self.let_time_pass()
        self.done.tap()
        if times > 1:
            box = self.done.bounding_box()
            assert box
            for _ in range(times - 1):
                self.let_time_pass()
                self.page.touchscreen.tap(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        self.is_at(before + times)

    def press(self, key: str) -> None:
        """Press a key as deliberately as a round is counted."""
        self.let_time_pass()
        self.page.keyboard.press(key)

    def let_time_pass(self) -> None:
        """Knit so long that the next tap is a round of its own. Nobody waits for it."""
        self.page.evaluate(LATER, APART)

    def finish(self, sock: int) -> None:
        """Go to the last round of the sock on the needles and work it, by hand step by step if it is told so."""
        parts = rounds_of(self.data(), sock)[-1].get("parts") or [{"times": 1}]
        self.go_to_round(self.total())
        for _ in range(sum(part["times"] for part in parts)):
            self.let_time_pass()
            self.done.click()

    def is_complete(self) -> None:
        """Wait until what the page loads after its first round is here, its styles too."""
        expect(self.page.get_by_role("slider")).to_have_count(1)
        self.page.evaluate(STYLED)

    def drag_tape(self, far: float, at: float = 0) -> None:
        """Drag the tape by some px with a finger that then rests; `at` is where, in px from the reading line."""
        box = self.page.locator("#reading").bounding_box()
        assert box
        x, y = box["x"] + box["width"] / 2 + at, box["y"] + box["height"] / 2
        touch = self.page.context.new_cdp_session(self.page)
        began = time.time()

        def send(kind: str, after: float, **at: float) -> None:
            given = {"type": kind, "timestamp": began + after / 1000, "touchPoints": [at] if at else []}
            touch.send("Input.dispatchTouchEvent", given)

        for step in range(6):
            send("touchMove" if step else "touchStart", 16 * step, x=x + far * step / 5, y=y)
        send("touchMove", 80 + APART, x=x + far, y=y + 1)
        send("touchEnd", 80 + APART)
        touch.detach()

    def place(self) -> int:
        """Rounds done, as painted."""
        return int(self.progress.inner_text().split()[0])

    def total(self) -> int:
        """Rounds of the sock, as painted."""
        return int(self.progress.inner_text().split()[-1])

    def is_at(self, place: int) -> None:
        """Wait until that many rounds are painted as done."""
        self._look_out("#progress", rf"^{place} of")
        expect(self.progress).to_have_text(re.compile(rf"^{place} of \d+$"))

    def everything_is_sent(self) -> None:
        """Wait until the page says that the server has all."""
        self._look_out("#kept p", f"^{ALL_SENT}")
        expect(self.page.locator("#kept p").first).to_have_text(ALL_SENT, timeout=RETRY)

    def works_without_network(self) -> None:
        """Wait until the service worker has what the page needs and answers for it."""
        self.page.evaluate("navigator.serviceWorker.ready.then(() => true)")

    def open_menu(self) -> None:
        """Fold the menu out, and wait until it is filled: what is in it comes after the first round."""
        self.page.get_by_text("Menu", exact=True).tap()
        self._menu_is_filled()

    def _menu_is_filled(self) -> None:
        expect(self.page.locator("#go-part option").first).to_be_attached()

    def go_to_round(self, number: int) -> None:
        """Go to a round by its number in the sock, from 1, and wait until it is painted. The menu stays folded in."""
        self._menu_is_filled()
        self.page.locator("#go").evaluate(GO_TO, number - 1)
        self.is_at(number - 1)
        # What stands round the number comes a frame after it, and puts away whatever was looked at.
        expect(self.page.get_by_role("slider")).to_have_attribute("aria-valuenow", str(number))

    def go_to_section(self, title: str) -> None:
        """Go to the start of a section, and wait until its first round is painted. The menu stays folded in."""
        self._menu_is_filled()
        first = self.page.locator("#go-part option", has_text=re.compile(f"^{title}$")).get_attribute("value")
        assert first is not None
        self.page.locator("#go").evaluate(GO_TO, int(first))
        self._is_at_the_start_of(title)

    def go_by_hand(self, title: str) -> None:
        """Go to the start of a section by the menu, as a hand does."""
        self.open_menu()
        self.page.get_by_label("Part", exact=True).select_option(label=title)
        expect(self.page.locator("#go-round")).to_have_value("1")
        self.page.get_by_role("button", name="Go", exact=True).tap()
        self._is_at_the_start_of(title)

    def _is_at_the_start_of(self, title: str) -> None:
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
        self.keep("weighing")
        self.page.get_by_role("dialog", name="Weighing kept").get_by_role("button", name="Close").tap()
        expect(self.page.get_by_role("dialog")).to_have_count(0)

    def keep(self, kind: str) -> None:
        """Keep what the open sheet says, and wait until the server has it, and not only what was sent before."""

        def has_it(answer: Response) -> bool:
            return answer.url.endswith("/log") and f'"kind":"{kind}"' in (answer.request.post_data or "")

        with self.page.expect_response(has_it):
            self.page.get_by_role("button", name="Keep it").tap()

    def take_up(self, sock: int) -> None:
        """Take up the other sock."""
        button = self.page.get_by_role("button", name=f"Sock {sock}", exact=True)
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
