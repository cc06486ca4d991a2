"""Ways through states of pages, which are come by one after another on one phone."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from playwright.sync_api import Page

Step: TypeAlias = Callable[[Page, str], None]
"""Leads on from the state before, or from a fresh page, given the link of a pair by the sample `ismene`."""

Way: TypeAlias = dict[str, Step]
"""Each state by its name, with the step that leads there."""


def the_way_to(name: str, way: Way) -> Step:
    """All steps to a state in one."""

    def lead(page: Page, link: str) -> None:
        for passed, step in way.items():
            step(page, link)
            if passed == name:
                return

    return lead
