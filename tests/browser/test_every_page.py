"""Every page in each of its states: all is there, nothing leaves, nothing overflows, and anybody can use it."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Literal

import pytest
from playwright.sync_api import Browser, Page

from .chromium import Watch, phone
from .server import Server
from .tour import REFUSING, TOUR
from .tour_desk import UNKNOWN

AXE = Path(__file__).parents[2] / "node_modules/.tools/node_modules/axe-core/axe.min.js"

NARROWEST = 320
"""CSS px: WCAG 2.2, success criterion 1.4.10, wants no scrolling in two directions from there on."""

RUN_AXE = "(options) => axe.run(options).then(({ violations }) => violations)"
OF_COLOUR = ["color-contrast", "link-in-text-block"]
"""Of the rules that axe-core has on by itself those of its category "color"."""

SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")


@pytest.mark.parametrize("name", TOUR)
def test_all_is_there_and_fits_and_anybody_can_use_it(chromium: Browser, server: Server, link: str, name: str) -> None:
    """No file is missing, the content security policy stops nothing, and no request goes elsewhere.

    The state fits the narrowest screen and is then looked at on a usual one, as when a phone is turned: the way to it
    takes longer than all that is asked of it there.
    """
    watch = Watch(server.address)
    with chromium.new_context(base_url=server.address, **phone(NARROWEST, 640)) as context:
        watch.follow(context)
        page = context.new_page()
        TOUR[name](page, link)
        # A phone widens its window rather than scroll, so both have to be as narrow as the screen.
        assert page.evaluate("[innerWidth, document.documentElement.scrollWidth]") == [NARROWEST, NARROWEST]
        page.set_viewport_size({"width": 412, "height": 915})
        found = found_by_axe(page) if AXE.exists() else None
    assert watch.problems == []
    # Where the worker stands between, a refusal is told once by the page and once by the worker.
    statuses = {int(refusal.split()[0]) for refusal in watch.refusals}
    assert statuses == ({REFUSING[name]} if name in REFUSING else set())
    if found is None:
        pytest.skip("all else is well, but axe-core is not in node_modules/.tools; tests/run puts it there")
    assert found == []


def found_by_axe(page: Page) -> list[tuple[str, str, list[str]]]:
    """axe-core checks what a machine can of WCAG 2.2 A and AA, contrast included, and its own best practices.

    Of the dark scheme only what a scheme changes, its colours.
    """
    page.evaluate(AXE.read_text())
    violations: list[tuple[str, str, list[str]]] = []
    for scheme in SCHEMES:
        page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
        found: list[dict[str, Any]] = page.evaluate(RUN_AXE, {"runOnly": OF_COLOUR} if scheme == "dark" else {})
        violations += [(scheme, one["id"], [node["html"] for node in one["nodes"]]) for one in found]
    return violations


def test_an_unknown_link_is_a_plain_page_that_gives_nothing_away(page: Page) -> None:
    for path in ("", "/knit", "/check"):
        answer = page.goto(f"/pair/{UNKNOWN}{path}")
        assert answer
        assert answer.status == 404
        assert page.get_by_role("heading", level=1).inner_text() == "There is nothing here"
        assert UNKNOWN not in page.content()


def test_a_link_as_the_page_names_it_goes_to_no_other_site(page: Page, link: str) -> None:
    """The address of a pair opens it, so it is never sent along (Referrer Policy, W3C)."""
    page.goto(f"/pair/{link}")
    with page.expect_request(lambda request: request.is_navigation_request()) as followed:
        page.get_by_role("link", name="Knit", exact=True).click()
    assert "referer" not in followed.value.all_headers()
