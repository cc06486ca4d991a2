"""The scripts of the pages, asked for what their functions answer."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page

CALL = """async ([address, job, given]) => (await import(address))[job](...given)"""


class Modules:
    """The modules of an open page. What is asked of them leaves nothing behind for the next question."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self._address: str = page.evaluate("document.querySelector('[src$=\"/knit.js\"]').src")

    def address(self, module: str) -> str:
        """Where a module is fetched from, by its path below `static/js`."""
        return self._address.replace("knit/knit.js", f"{module}.js")

    def call(self, module: str, job: str, *given: Any) -> Any:
        """What a function of a module answers."""
        return self.page.evaluate(CALL, [self.address(module), job, given])
