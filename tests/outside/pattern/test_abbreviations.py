"""The words of a plan against the abbreviations in general use."""

from __future__ import annotations

import re

import pytest

from companion.planning import Plan, written_pattern
from companion.planning.pattern.abbreviations import ABBREVIATIONS
from companion.planning.pattern.rounds_text import round_words
from companion.planning.units import Unit
from tests.planning.asking import planned

# Abbreviations in general use: sweaterbabe.com/knitting-abbreviations.
IN_GENERAL_USE = (
    {"beg", "dec", "dpn", "inc", "pm", "rem", "rep", "rnd", "sm", "st", "sts", "CC", "CO", "MC", "RS", "WS"}
    | {"k", "p", "sl", "k2tog", "p2tog", "ssk", "m1", "yo", "tbl", "wyib", "wyif"}
)  # fmt: skip
SPELLED_OUT = {"and", "bind", "cast", "draw", "graft", "knit", "off", "on", "pick", "purl", "together", "turn", "up"}
ZONES = {"Heel", "Instep", "Leg", "Sole", "Toe"}

# One whose leg goes straight on from its ribbing, and two whose leg has evenly spread decreases or increases.
PLANS = {
    "twisted ribbing": planned(cuff={"rib": "k1tbl p1"}),
    "fewer in the leg": planned(cuff={"rib": "k7 p5"}, foot={"leg_circumference_cm": 19.7}),
    "more in the leg": planned(cuff={"rib": "k7 p5"}, foot={"leg_circumference_cm": 22.2}),
}


def used(plan: Plan) -> set[str]:
    """What stands for a way of working: counts taken out ("k12" is k, "k2tbl" is k and tbl), zones left aside."""
    words = set(re.findall(r"[A-Za-z]\w*", " ".join(round_words(item) for item in plan.rounds())))
    plain = words - ZONES - SPELLED_OUT - {"x", "pairs"}
    return {part for word in plain for part in re.sub(r"^([a-z]+)\d+(?=tbl$|$)", r"\1 ", word).split()}


@pytest.mark.parametrize("name", PLANS)
def test_every_abbreviation_is_in_general_use_or_explained(name: str) -> None:
    found = used(PLANS[name])
    assert {"k", "p", "sl", "ssk", "k2tog", "p2tog", "wyif"} <= found
    assert found <= IN_GENERAL_USE | set(ABBREVIATIONS)


@pytest.mark.parametrize("name", PLANS)
@pytest.mark.parametrize("unit", ["cm", "in"])
def test_every_abbreviation_used_is_explained_at_the_end_of_the_written_pattern(name: str, unit: Unit) -> None:
    text = written_pattern(PLANS[name], unit)
    told = {line.partition(":")[0] for line in text.partition("\nAbbreviations\n")[2].splitlines()}
    assert used(PLANS[name]) | {"RS", "WS"} <= told


def test_the_plans_between_them_increase_decrease_and_twist() -> None:
    assert {"m1l", "tbl", "k2tog"} <= set().union(*(used(plan) for plan in PLANS.values()))
