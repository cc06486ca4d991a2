"""What of a page moves while it opens (W3C, Layout Instability)."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import CDPSession, Page, expect

from ..conftest import fully
from .chromium import PATIENCE
from .knitting import Knitting

SCREENS = ((360, 740), (1280, 800))
"""Width and height in CSS px of a phone and a desk."""

OPENED = {
    "first page",
    "first page with pairs",
    "form",
    "plan",
    "pattern",
    "check",
    "yarn left",
    "logbook",
    "logbook with a photo",
    "unknown link to knit",
    "design form",
    "design",
    "changed design",
    "graded pattern",
}
"""States that are there as soon as a page has opened."""

COMES_LATER = {
    "knit counted apart": ["[role=alert]"],
    "knit sock two": [".panel"],
    "knit not on the server": ["#put-back"],
    "knit yarn short": ["#yarn-warning"],
    "knit reminder": ["#reminders p"],
    "knit note": ["#remark", "#reminders p", "#yarn-warning"],
    "knit with a leader": ["#pace"],
    "knit chart": ["#chart"],
    "knit steps": ["#step"],
    "knit finished": ["#finish dl"],
    "knit pair finished": ["#finish dl"],
    "knit large": [".beside button:enabled"],
    "knit": [".beside button:enabled"],
}
"""States of the knit page that open with more than a round, and all that comes after the round is painted."""

COMES_WITH_MORE = {"knit yarn short", "knit reminder", "knit finished"}
"""Of these the states in which nothing comes that does not come in another."""

KNIT_SCREENS = (*SCREENS, (320, 568), (800, 360))
MAGNIFIED = (320, 256)
"""1280 x 1024 px at four times the size (WCAG 2.2, 1.4.10). What comes later is below, to be scrolled to."""

MOVED = """() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => {
    const watch = new PerformanceObserver(() => {});
    watch.observe({ type: "layout-shift", buffered: true });
    done(watch.takeRecords().map(({ value, sources }) =>
        [value, ...sources.map(({ node }) => node?.outerHTML ?? node?.textContent)]));
})))"""
"""What has moved since the page began to open, once it is painted. The browser keeps account of it by itself."""

WORDS = "() => document.querySelector('main')?.textContent"

SAYS = f"""([words, within]) => new Promise((done) => {{
    const said = {WORDS};
    const look = () => said() === words && done();
    new MutationObserver(look).observe(document, {{ childList: true, characterData: true, subtree: true }});
    AbortSignal.timeout(within).addEventListener("abort", done);
    look();
}})"""
"""Waits until the page says these words, for so many ms at most."""

STANDS = """() => Object.fromEntries(
    ["reading", "ahead", "section", "number", "words", "stitches", "note", "how-far", "undo", "done"]
        .map((id) => [id, document.getElementById(id)]).filter(([, part]) => part.checkVisibility())
        .map(([id, part]) => [id, [part.getBoundingClientRect().top, part.getBoundingClientRect().left]]))"""

REMEMBER = f"""new MutationObserver((_, watch) => {{
    if (!/^\\d/.test(document.getElementById("progress")?.textContent)) return;
    watch.disconnect();
    requestAnimationFrame(() => (window.stood = ({STANDS})()));
}}).observe(document, {{ childList: true, characterData: true, subtree: true }})"""
"""Remembers where everything stands when the round is painted first. What comes later waits for that."""


@contextmanager
def as_if_new(page: Page) -> Iterator[CDPSession]:
    """Have all that a page needs fetched from the server, as by a phone that has nothing of it yet."""
    session = page.context.new_cdp_session(page)
    session.send("Network.enable")
    session.send("Network.setCacheDisabled", {"cacheDisabled": True})
    session.send("Network.setBypassServiceWorker", {"bypass": True})
    yield session
    session.detach()


def use_what_is_kept(session: CDPSession) -> None:
    """From now on: only the first screen needs everything from the server, where it comes one by one."""
    session.send("Network.setCacheDisabled", {"cacheDisabled": False})


def knit_screens(name: str) -> tuple[tuple[int, int], ...]:
    """The screens on which a state of the knit page opens.

    The usual state does on each, and so does every state where everything is to be tried; else a state does on one of
    them, in turn, if any.
    """
    if name == "knit":
        return (*KNIT_SCREENS, MAGNIFIED)
    if fully():
        return KNIT_SCREENS
    if name in COMES_WITH_MORE:
        return ()
    return (KNIT_SCREENS[list(COMES_LATER).index(name) % len(KNIT_SCREENS)],)


def nothing_moves_while_it_opens(page: Page, words: str) -> None:
    """Open the page again on each screen until it says the same `words` as before."""
    with as_if_new(page) as session:
        for width, height in SCREENS:
            page.set_viewport_size({"width": width, "height": height})
            page.reload()
            page.evaluate(SAYS, [words, PATIENCE])
            assert page.evaluate(WORDS) == words
            assert page.evaluate(MOVED) == [], (width, height)
            use_what_is_kept(session)


def nothing_moves_for_what_comes_after_the_round(page: Page, name: str) -> None:
    """By the browser's account, which leaves words in a line out, and by where everything stands before and after."""
    with as_if_new(page) as session:
        session.send("Page.enable")
        session.send("Page.addScriptToEvaluateOnNewDocument", {"source": REMEMBER})
        for width, height in knit_screens(name):
            page.set_viewport_size({"width": width, "height": height})
            page.reload()
            Knitting(page, "").is_complete()
            for later in COMES_LATER[name]:
                expect(page.locator(later).first).to_be_visible()
            assert page.evaluate(MOVED) == [], (width, height)
            assert page.evaluate(STANDS) == page.evaluate("stood"), (width, height)
            use_what_is_kept(session)
