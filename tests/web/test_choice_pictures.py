"""What can be chosen by a word in the form of a pair or of a design shows what it looks like."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping

import pytest

from companion.forms.plan_form import EDGES
from companion.planning.construction.construction_words import WAYS
from companion.planning.fit.leg_heights import HEIGHTS
from tests.conftest import Browser

WORDS: Mapping[str, Collection[str]] = {**WAYS, "cuff_edge": EDGES, "leg_height": HEIGHTS}
"""The words of each field."""

WANTED = {f"way-{field}-{word.replace(' ', '-')}" for field, words in WORDS.items() for word in words}

SHOWN = r'<input type="(?:radio|checkbox)" name="(?:also_)?(\w+)" value="([^"]*)"(?:(?!</label>).)*?href="#([^"]+)"'
"""A field, a word of it, and the picture beside the two."""


def symbols(page: str) -> dict[str, str]:
    """What each picture is drawn of, by its name."""
    drawn = dict(re.findall(r'<symbol id="([^"]+)"[^>]*>(.*?)</symbol>', page, re.DOTALL))
    return {name: "".join(re.findall(r' (?:class|d|cx|cy|r)="([^"]*)"', inside)) for name, inside in drawn.items()}


@pytest.mark.parametrize("address", ["/plan", "/design"])
def test_every_word_has_a_picture_and_every_radio_button_shows_its_own(browser: Browser, address: str) -> None:
    page = browser.get(address).text
    drawn = symbols(page)
    assert set(drawn) == WANTED
    alike = {name for name in drawn if name.startswith("way-flap-")}
    assert len({drawn[name] for name in drawn.keys() - alike}) == len(drawn) - len(alike), "no two look the same"
    buttons = re.findall(SHOWN, page, re.DOTALL)
    assert all(shown == f"way-{field}-{word.replace(' ', '-')}" for field, word, shown in buttons)
    assert {shown for *_, shown in buttons} == {name for name in WANTED if name.split("-")[1] in WAYS}


def test_a_list_shows_what_is_chosen_in_it_and_pictures_are_no_words(browser: Browser) -> None:
    page = browser.get("/plan").text
    shown = re.findall(r'<svg[^>]*aria-hidden="true" data-follows="(\w+)"><use href="#([^"]+)"/>', page)
    assert shown == [("cuff_edge", "way-cuff_edge-any-stretchy"), ("leg_height", "way-leg_height-")]
    pictures = re.findall(r"<svg[^>]*class=\"way-picture\"[^>]*>", page)
    assert len(pictures) > 30
    assert all('aria-hidden="true"' in one for one in pictures)
