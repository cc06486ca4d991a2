"""Every page in each of its states: all is there, nothing leaves, overflows or moves, and anybody can use it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from importlib.resources import files
from typing import Literal, TypeAlias

import pytest
from playwright.sync_api import Browser, Error, Page, ViewportSize, expect

from ...conftest import fully
from ..chromium import PATIENCE, Watch, phone
from ..given import NO_WORKERS
from ..knitting import STYLED
from ..moving import (
    COMES_LATER,
    MOVED,
    OPENED,
    WORDS,
    nothing_moves_for_what_comes_after_the_round,
    nothing_moves_while_it_opens,
)
from ..server import Server
from ..tour import PHONE_CHANGED, REFUSING, TOUR, WAYS, WITH_WORKER
from ..tour.desk import UNKNOWN
from ..tour.way import Way
from ..used_phone import UsedPhones

AXE = (files("axe_playwright_python") / "axe.min.js").read_text()
"""axe-core, as a package of Python has it."""

NARROW: ViewportSize = {"width": 320, "height": 640}
"""CSS px: WCAG 2.2, success criterion 1.4.10, wants no scrolling in two directions from there on."""

OF_COLOUR = ["color-contrast", "link-in-text-block"]
"""Of the rules that axe-core has on by itself those of its category "color"."""

BUT_COLOUR = {"rules": {rule: {"enabled": False} for rule in OF_COLOUR}}

NEW_LOOKS = """(seen) => {
    const stacks = new Map([[null, ""]]), words = new Map(), known = new Set(seen);
    const stack = (part) => {
        if (!stacks.has(part)) {
            const { backgroundColor, backgroundImage, opacity, position } = getComputedStyle(part);
            const own = [Boolean(part.disabled), backgroundColor, backgroundImage, opacity, position].join();
            const clear = own === "false,rgba(0, 0, 0, 0),none,1,static";
            stacks.set(part, stack(part.parentElement) + (clear ? "" : own));
        }
        return stacks.get(part);
    };
    const letters = (part) => {
        const { color, fontSize, fontWeight, textShadow } = getComputedStyle(part);
        const large = Number.parseFloat(fontSize) >= (fontWeight >= 700 ? 18.66 : 24);
        const control = part.closest("label, button, input, output, select, option, textarea, [aria-disabled]");
        return [color, large, textShadow, control?.localName].join();
    };
    const line = (part) => {
        const { color, display, fontSize, fontWeight, textDecorationLine } = getComputedStyle(part);
        const own = [part.localName, color, display, fontSize, fontWeight, textDecorationLine].join();
        return display.startsWith("inline") ? own + line(part.parentElement) : own;
    };
    const fnv1a = (text) => {
        let hash = 0x811c9dc5;
        for (let at = 0; at < text.length; at += 1) hash = Math.imul(hash ^ text.charCodeAt(at), 0x01000193);
        return hash;
    };
    for (const part of document.querySelectorAll(":not(svg *), svg text")) {
        const text = [...part.childNodes].some(({ nodeType, data }) => nodeType === Node.TEXT_NODE && data.trim()[1]);
        if (!(text || "value" in part) || !part.checkVisibility()) continue;
        const look = fnv1a(stack(part) + letters(part) + (part.localName === "a" ? line(part) : ""));
        if (!known.has(look) && !words.has(look)) words.set(look, part);
    }
    return { looks: [...words.keys()], include: [...words.values()] };
}"""
"""The words of a page that look like none before, and numbers of these looks.

A look is all that a contrast is calculated from: the letters, large or not (WCAG 2.2, 1.4.3: 24 px, or bold and 18.66),
and what is painted behind them; of a link also the words in its line. axe-core gives no verdict on a single character.
The numbers are hashes by FNV-1a of 32 bits (IETF, draft-eastlake-fnv).
"""

RUN_AXE = f"""async ({{ seen, options }}) => {{
    const {{ looks, include }} = seen ? ({NEW_LOOKS})(seen) : {{ looks: [], include: [document.documentElement] }};
    if (!include.length) return {{ looks, violations: [] }};
    const {{ violations }} = await axe.run({{ include }}, {{ resultTypes: ["violations"], ...options }});
    return {{ looks, violations: violations.map(({{ id, nodes }}) => [id, nodes.map(({{ html }}) => html)]) }};
}}"""
"""Of the whole page, or of words that look like none `seen`. What is in order is not described: that takes long."""

FOUND_GOOD: dict[str, set[int]] = {"light": set(), "dark": set()}
"""Numbers of looks, by scheme."""

SHORTEN = """() => {
    for (const row of document.querySelectorAll("tbody tr:nth-child(n + 5)")) row.remove();
    return "axe" in window;
}"""
"""Whether axe-core is there already: several states may be those of one document."""

AS_IT_IS = f"""async () => {{
    await ({STYLED})();
    return [({WORDS})(), innerWidth, document.documentElement.scrollWidth];
}}"""
"""What the page says, and how wide the window is and what is in it, as soon as its styles are there."""

SPOIL = """(main) => {
    const words = document.createElement("p");
    words.textContent = "Pale";
    words.style.cssText = "background: light-dark(#fff, #000); color: light-dark(#eee, #111)";
    main.append(words, document.createElement("img"));
}"""
"""Words as good as invisible in either scheme, and a picture that nobody describes."""

PRINTED = {"result", "result to count again", "nothing to change", "second sock", "fit", "yarn left", "group", "design"}
"""What is calculated, and may be wanted on paper. The plan has tests of its own."""

SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")

Seen: TypeAlias = tuple[Page, Watch]
"""A page on the narrowest phone, and what went wrong on it."""


@pytest.fixture
def looked_at(chromium: Browser, server: Server, used_phones: UsedPhones, way: Way) -> Iterator[Seen]:
    """A phone that knows nothing.

    The worker is there for a page of each kind and where a state needs it, or where everything is to be tried.
    """
    worker = fully() or not WITH_WORKER.isdisjoint(way)
    if not fully() and PHONE_CHANGED.isdisjoint(way):
        used = used_phones.phone(0, worker=worker)
        yield used.emptied(NARROW), used.watch
        used.put_down()
        return
    watch = Watch()
    with chromium.new_context(base_url=server.address, **phone(**NARROW)) as context:
        if not worker:
            context.add_init_script(NO_WORKERS)
        watch.follow(context)
        context.set_default_timeout(PATIENCE)
        yield context.new_page(), watch


@pytest.mark.parametrize("way", WAYS, ids=[next(iter(way)) for way in WAYS])
def test_all_is_there_and_fits_and_anybody_can_use_it(looked_at: Seen, link: str, way: Way) -> None:
    """No file is missing, the content security policy stops nothing, and no request goes elsewhere.

    The state fits the narrowest screen and is then looked at on a usual one, as when a phone is turned: the way to it
    takes longer than all that is asked of it there. So it is on paper, where there is nothing to press, and so it is
    opened again, when nothing that it shows may move for what comes after it. Then the way goes on to the next.
    """
    page, watch = looked_at
    for name, step in way.items():
        with named(name):
            watch.refusals.clear()
            as_at_first(page)
            step(page, link)
            is_in_order(page, watch, name)


@contextmanager
def named(state: str) -> Iterator[None]:
    """Have what fails say in which state."""
    try:
        yield
    except (AssertionError, Error) as failure:
        failure.add_note(f"in the state “{state}”")
        raise


def as_at_first(page: Page) -> None:
    """Have the page in hand again as it was before a state was looked at."""
    page.set_viewport_size(NARROW)
    page.emulate_media(color_scheme="light", reduced_motion="no-preference")


def is_in_order(page: Page, watch: Watch, name: str) -> None:
    words, *widths = page.evaluate(AS_IT_IS)
    # A phone widens its window rather than scroll, so both have to be as narrow as the screen.
    assert widths == [NARROW["width"], NARROW["width"]]
    page.set_viewport_size({"width": 412, "height": 915})
    found = found_by_axe(page)
    assert watch.problems == []
    assert watch.refusals == ({REFUSING[name]} if name in REFUSING else set())
    assert found == []
    if name in PRINTED:
        has_nothing_to_press_on_paper(page)
    if name in OPENED:
        nothing_moves_while_it_opens(page, words)
    if name in COMES_LATER:
        nothing_moves_for_what_comes_after_the_round(page, name)


def has_nothing_to_press_on_paper(page: Page) -> None:
    page.emulate_media(media="print")
    controls = page.locator("button, input, select, nav, header a, a.button, .back")
    assert controls.count()
    assert [control.inner_text() for control in controls.all() if control.is_visible()] == []
    assert page.locator("main").is_visible()
    page.emulate_media(media="null")


def test_what_is_asked_of_some_states_is_asked_of_states_that_there_are() -> None:
    assert TOUR.keys() >= PRINTED | WITH_WORKER | PHONE_CHANGED | REFUSING.keys() | OPENED | COMES_LATER.keys()


def test_what_moves_is_found(page: Page) -> None:
    page.goto("/")
    page.locator("main").evaluate(
        "(main) => main.before(Object.assign(document.createElement('p'), { textContent: 'Late' }))"
    )
    assert len(page.evaluate(MOVED)) == 1


def found_by_axe(page: Page) -> list[tuple[str, str, list[str]]]:
    """axe-core checks what a machine can of WCAG 2.2 A and AA, contrast included, and its own best practices.

    Only colours change with the scheme. They are what takes long, so that words are looked at which look like none that
    were found good in this or an earlier state, unless everything is to be tried; of a long table it is the first rows.
    """
    if not page.evaluate(SHORTEN):
        page.evaluate(AXE)
    violations = [("either", *fault) for fault in page.evaluate(RUN_AXE, {"options": BUT_COLOUR})["violations"]]
    for scheme in SCHEMES:
        page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
        seen = None if fully() else list(FOUND_GOOD[scheme])
        found = page.evaluate(RUN_AXE, {"seen": seen, "options": {"runOnly": OF_COLOUR}})
        violations += [(scheme, *fault) for fault in found["violations"]]
        if not found["violations"]:
            FOUND_GOOD[scheme].update(found["looks"])
    return violations


def test_faults_are_found_in_both_schemes(page: Page) -> None:
    page.goto("/")
    page.locator("main").evaluate(SPOIL)
    assert {(scheme, rule) for scheme, rule, _ in found_by_axe(page)} == {
        ("either", "image-alt"),
        ("light", "color-contrast"),
        ("dark", "color-contrast"),
    }


@pytest.mark.parametrize(
    ("address", "asked"),
    [("http://yarn.test/", "GET http://yarn.test/ HTTP/1.1"), ("https://yarn.test/", "CONNECT yarn.test:443 HTTP/1.1")],
)
def test_whatever_leaves_this_computer_is_noticed(
    chromium: Browser, strangers: list[str], address: str, asked: str
) -> None:
    """Names under .test are nobody's (RFC 6761)."""
    with chromium.new_context() as context, suppress(Error):
        context.new_page().goto(address)
    assert strangers == [asked]
    strangers.clear()


def test_an_unknown_link_is_a_plain_page_that_gives_nothing_away(page: Page) -> None:
    for path in ("", "/knit", "/check"):
        answer = page.goto(f"/pair/{UNKNOWN}{path}")
        assert answer
        assert answer.status == 404
        expect(page.get_by_role("heading", name="There is nothing here")).to_be_visible()
        assert UNKNOWN not in page.content()


def test_a_link_as_the_page_names_it_goes_to_no_other_site(page: Page, link: str) -> None:
    """The address of a pair opens it, so it is never sent along (Referrer Policy, W3C)."""
    page.goto(f"/pair/{link}")
    with page.expect_request(lambda request: request.is_navigation_request()) as followed:
        page.get_by_role("link", name="Knit", exact=True).click()
    assert "referer" not in followed.value.all_headers()
