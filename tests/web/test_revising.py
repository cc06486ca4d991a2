"""Accepting another plan: every page that offers one refuses what was made too long ago, in the same words."""

from __future__ import annotations

from html import unescape

import pytest

from companion.web.revising import CHANGED_MEANWHILE

from ..conftest import Browser
from .fuzz.everything import pair_with_everything

PAGES = {
    "check/accept": {"basis": "0", "option": "leave"},
    "fit": {"basis": "0", "choice": "foot leave"},
    "second": {"newest": "0", "choice": "planned"},
    "yarn/leg": {"revision": "0", "round_1": "0", "round_2": "0", "rounds": "40"},
    "design": {"version": "0"},
}
"""What each page sends, made from what never was."""


@pytest.mark.parametrize("complete", [True, False])
def test_what_was_made_from_another_state_changes_nothing(browser: Browser, complete: bool) -> None:
    _, link = pair_with_everything(browser)
    before = browser.get(f"/pair/{link}/export").data
    for page, made_before in PAGES.items():
        answer = browser.post(f"/pair/{link}/{page}", made_before if complete else {})
        assert answer.status_code == 409, page
        assert CHANGED_MEANWHILE in unescape(answer.text), page
        assert browser.get(f"/pair/{link}/export").data == before, page
