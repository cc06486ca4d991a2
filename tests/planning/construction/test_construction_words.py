"""Constructions in words, on the form and on the plan page."""

from __future__ import annotations

import re
from html import unescape
from typing import Any, get_args

import pytest

from companion.planning.construction.construction_words import WAYS, construction_words, flap_words, short_row_words
from companion.planning.request.construction import Construction
from companion.planning.request.plan_request import Leg
from tests.planning.requests import HEELS, HEELS_AND_TOES, TOES, names

from ...conftest import FORM, Browser

WORDS: dict[str, tuple[Any, ...]] = {
    name: get_args(Construction.model_fields[name].annotation)
    for name in ("direction", "turn", "flap", "short_rows", "sole", "toe_start")
} | {"heel": HEELS, "toe": TOES}

MIRRORED = {"direction": "toe-up", "heel": "short-row", "toe": "right foot"}
"""A construction of the toe that the others leave out."""


def test_every_word_of_a_construction_has_its_name_and_when_it_suits() -> None:
    leg = {"leg_until": get_args(Leg.model_fields["until"].annotation)}
    assert {part: tuple(ways) for part, ways in WAYS.items()} == WORDS | leg
    for ways in WAYS.values():
        assert len({way.name for way in ways.values()}) == len(ways)
        assert all(way.suits.endswith(".") and way.suits[0].isupper() for way in ways.values())


def test_a_construction_in_a_line() -> None:
    assert construction_words(Construction()) == "cuff-down, heel flap, wedge toe"
    other = Construction(direction="toe-up", heel="short-row with gusset", toe="round")
    assert construction_words(other) == "toe-up, short-row heel with gusset, round toe"


def test_only_a_heel_flap_tells_how_it_is_made() -> None:
    assert flap_words(Construction(garter_edge=True)) == "round turn, slipped stitches, garter edge"
    assert flap_words(Construction(heel="short-row")) == ""


def test_short_rows_tell_how_they_are_turned_where_a_sock_has_any() -> None:
    assert short_row_words(Construction(short_rows="yarn over", rounds_between=2)) == ""
    assert short_row_words(Construction(toe="short-row", rounds_between=1)) == "double stitches"
    assert short_row_words(Construction(direction="toe-up", short_rows="shadow wrap")) == "shadow wraps"
    two_rounds = Construction(heel="short-row", short_rows="wrap and turn", rounds_between=2)
    assert short_row_words(two_rounds) == "wrap and turn, two rounds between the halves of the heel"


def test_short_rows_and_the_rounds_between_go_from_the_form_to_the_plan_page(browser: Browser) -> None:
    chosen = {"heel": "short-row", "short_rows": "wrap and turn", "rounds_between": "2"}
    link = browser.make_pair(**chosen)
    assert "wrap and turn, two rounds between the halves of the heel" in browser.get(f"/pair/{link}").text
    again = browser.get(f"/pair/{link}/next").text
    assert '<option value="2" selected>two rounds</option>' in again
    refused = browser.post("/plan", {**FORM, **chosen, "rounds_between": "7"}).text
    assert "llowed: 0, 1 or 2" in refused


def test_the_cast_on_of_a_toe_goes_from_the_form_to_its_pages(browser: Browser) -> None:
    chosen = {"direction": "toe-up", "toe": "star", "toe_start": "pinhole"}
    link = browser.make_pair(**chosen)
    assert "<dd>pinhole cast-on</dd>" in browser.get(f"/pair/{link}").text
    assert "Cast on 8 stitches in a ring." in browser.get(f"/pair/{link}/pattern.txt").text
    again = browser.get(f"/pair/{link}/next").text
    assert re.search(r'name="toe_start" value="pinhole"[^>]* checked', again)
    refused = browser.post("/plan", {**FORM, **chosen, "toe": "wedge"}).text
    assert 'id="toe_start-error">A pinhole cast-on gathers' in refused
    assert "Cast-on of the toe" not in browser.get(f"/pair/{browser.make_pair()}").text


@pytest.mark.parametrize("chosen", [*HEELS_AND_TOES, MIRRORED], ids=names)
def test_every_word_of_a_construction_goes_from_the_form_to_its_pages(browser: Browser, chosen: dict[str, str]) -> None:
    form = browser.post("/plan/choices", {**FORM, **chosen})
    assert "Over the heel:" in form.text
    link = browser.make_pair(**chosen)
    told = construction_words(Construction.model_validate(chosen))
    assert told in unescape(browser.get(f"/pair/{link}").text)
    sections = browser.get(f"/pair/{link}/pair.json").get_json()["scripts"][0]["sections"]
    assert sections[0]["key"] == ("toe" if chosen["direction"] == "toe-up" else "cuff")
    assert {"cuff", "leg", "foot", "toe"} < {section["key"] for section in sections}
    assert browser.get(f"/pair/{link}/check?sock=1&round=40").status_code == 200


def test_the_heel_chosen_changes_the_verdict_on_offer(browser: Browser) -> None:
    high_instep = {**FORM, "heel_diagonal": "36"}
    assert "Over the heel: good" in browser.post("/plan/choices", {**high_instep, "heel": "flap"}).text
    assert "Over the heel: will not go on" in browser.post("/plan/choices", {**high_instep, "heel": "short-row"}).text


def test_the_form_says_what_is_in_force_while_the_group_is_folded(browser: Browser) -> None:
    page = browser.get("/plan").text
    for part, name in (("direction", "cuff-down"), ("heel", "heel flap"), ("toe", "wedge toe")):
        assert f'<span data-echo="{part}">{name}</span>' in page
    chosen = browser.post("/plan", {"unit": "cm", "heel": "afterthought", "garter_edge": "y"}).text
    assert '<span data-echo="heel">afterthought heel</span>' in chosen
    assert 'value="afterthought" data-says="afterthought heel" checked' in chosen


def test_an_unknown_way_is_reported_at_its_field(browser: Browser) -> None:
    answer = browser.post("/plan", {**FORM, "heel": "sandal"})
    assert answer.status_code == 422
    assert 'id="heel-error"' in answer.text
