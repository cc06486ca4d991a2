"""The pictures of the README, in few colours so that they stay small: `python tests/pictures/readme.py`."""

from __future__ import annotations

import io
import tempfile
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

from tests.browser.chromium import launched, phone
from tests.browser.server import serving
from tests.browser.tour import TOUR

FOLDER = Path(__file__).parent
PICTURES = {
    "plan": ("plan with a chart", "figure"),
    "knit": ("knit shaping", "main"),
    "check": ("result", "main"),
    "design": ("design", "main"),
}
"""The name of each file, the state of the tour that it shows, and what is at the top of the screen."""
WIDTH, HEIGHT = 360, 740
COLOURS = 64


def main() -> None:
    """Take each on a fresh phone, as one sees it first."""
    with tempfile.TemporaryDirectory() as folder, serving(Path(folder)) as server, sync_playwright() as playwright:
        browser = launched(playwright)
        for name, (state, top) in PICTURES.items():
            device = {**phone(WIDTH, HEIGHT), "device_scale_factor": 1}
            with browser.new_context(base_url=server.address, reduced_motion="reduce", **device) as context:
                page = context.new_page()
                TOUR[state](page, server.add_pair())
                page.locator(top).first.evaluate("(shown) => shown.scrollIntoView()")
                picture = Image.open(io.BytesIO(page.screenshot())).convert("RGB").quantize(COLOURS)
                picture.save(FOLDER / f"{name}.png", optimize=True)
        browser.close()


if __name__ == "__main__":
    main()
