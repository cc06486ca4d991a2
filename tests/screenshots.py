"""Pictures of every page in each of its states, to look at: `python tests/screenshots.py [NAME...]`.

They go into .screenshots/, one folder a screen size and colour scheme. Names are those of the tour. Only some screens
or one scheme: `--screen 320x640 768x1024`, `--scheme dark`. A state that cannot be reached does not keep the others
from being taken; it is named at the end.
"""

from __future__ import annotations

import argparse
import re
import sys
import tempfile
from collections.abc import Iterable
from pathlib import Path
from typing import Literal, get_args

from playwright.sync_api import Browser, Error, sync_playwright

from tests.browser.chromium import launched, phone
from tests.browser.server import Server, serving
from tests.browser.tour import TOUR

FOLDER = Path(__file__).parents[1] / ".screenshots"

Screen = tuple[int, int]

UPRIGHT: tuple[Screen, ...] = ((320, 640), (360, 800), (412, 915), (768, 1024))
SCREENS: tuple[Screen, ...] = (*UPRIGHT, *((height, width) for width, height in UPRIGHT))
"""CSS px: the narrowest, two usual phones and a tablet, upright and on their sides."""

Scheme = Literal["light", "dark"]
SCHEMES: tuple[Scheme, ...] = get_args(Scheme)


def take(browser: Browser, server: Server, name: str, screens: Iterable[Screen], schemes: Iterable[Scheme]) -> None:
    """Take one state, turned and resized to each screen, light and dark; upright also the page to its end."""
    device = {**phone(*SCREENS[0]), "device_scale_factor": 1}
    with browser.new_context(base_url=server.address, reduced_motion="reduce", **device) as context:
        page = context.new_page()
        TOUR[name](page, server.add_pair())
        for width, height in screens:
            page.set_viewport_size({"width": width, "height": height})
            for scheme in schemes:
                page.emulate_media(color_scheme=scheme)
                folder = FOLDER / f"{width}x{height} {scheme}"
                page.screenshot(path=folder / f"{name}.png")
                if height > width:
                    page.screenshot(path=folder / "whole" / f"{name}.png", full_page=True)


def screen(text: str) -> Screen:
    """A screen's size, as in 320x640. Any will do, not only the usual ones."""
    if not (found := re.fullmatch(r"(\d+)x(\d+)", text)):
        raise argparse.ArgumentTypeError(f"{text} is not a screen's width and height, such as 320x640")
    return int(found[1]), int(found[2])


def arguments() -> argparse.Namespace:
    """What is to be taken; all of it unless said otherwise."""
    parser = argparse.ArgumentParser(description="Takes pictures of every page in each of its states.")
    parser.add_argument("names", nargs="*", metavar="NAME", help="a state of the tour")
    parser.add_argument("--screen", nargs="+", type=screen, default=SCREENS, metavar="WIDTHxHEIGHT", help="in CSS px")
    parser.add_argument("--scheme", nargs="+", choices=SCHEMES, default=SCHEMES)
    given = parser.parse_args()
    if unknown := [name for name in given.names if name not in TOUR]:
        parser.error(f"not in the tour: {', '.join(unknown)}; there are: {', '.join(TOUR)}")
    return given


def main() -> int:
    """Take the pictures; say at the end which states were not reached."""
    given = arguments()
    failures: dict[str, str] = {}
    with tempfile.TemporaryDirectory() as folder, serving(Path(folder)) as server, sync_playwright() as playwright:
        browser = launched(playwright)
        for name in given.names or TOUR:
            try:
                take(browser, server, name, given.screen, given.scheme)
            except (AssertionError, Error) as failure:
                failures[name] = str(failure).strip()
        browser.close()
    print(f"The pictures are in {FOLDER}")
    for name, why in failures.items():
        print(f"not reached: {name}\n{why}\n", file=sys.stderr)
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
