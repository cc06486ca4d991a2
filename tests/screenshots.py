"""Pictures of every page in each of its states, to look at: `python tests/screenshots.py [NAME...]`.

They go into .screenshots/, one folder a screen size and colour scheme. Names are those of the tour.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import Literal

from playwright.sync_api import Browser, sync_playwright

from tests.browser.chromium import launched, phone
from tests.browser.server import Server, serving
from tests.browser.tour import TOUR

FOLDER = Path(__file__).parents[1] / ".screenshots"

UPRIGHT = ((320, 640), (360, 800), (412, 915), (768, 1024))
SCREENS = (*UPRIGHT, *((height, width) for width, height in UPRIGHT))
"""CSS px: the narrowest, two usual phones and a tablet, upright and on their sides."""

SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")


def take(browser: Browser, server: Server, name: str) -> None:
    """Take one state, turned and resized to each screen, light and dark; upright also the page to its end."""
    device = {**phone(*SCREENS[0]), "device_scale_factor": 1}
    with browser.new_context(base_url=server.address, reduced_motion="reduce", **device) as context:
        page = context.new_page()
        TOUR[name](page, server.add_pair())
        for width, height in SCREENS:
            page.set_viewport_size({"width": width, "height": height})
            for scheme in SCHEMES:
                page.emulate_media(color_scheme=scheme)
                folder = FOLDER / f"{width}x{height} {scheme}"
                page.screenshot(path=folder / f"{name}.png")
                if height > width:
                    page.screenshot(path=folder / "whole" / f"{name}.png", full_page=True)


def main(names: list[str]) -> int:
    """Take the named states, all of them when none is named."""
    if unknown := [name for name in names if name not in TOUR]:
        print(f"not in the tour: {', '.join(unknown)}; there are: {', '.join(TOUR)}", file=sys.stderr)
        return 1
    with tempfile.TemporaryDirectory() as folder, serving(Path(folder)) as server, sync_playwright() as playwright:
        browser = launched(playwright)
        for name in names or TOUR:
            take(browser, server, name)
        browser.close()
    print(f"The pictures are in {FOLDER}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
