"""How a toe that begins the sock is cast on, by the names of the trade."""

from __future__ import annotations

import re

import pytest

from companion.planning import read_request
from tests.planning.asking import asked, knit_plan, planned, request_data, section
from tests.planning.requests import TOE_STARTS

# What each way cannot be worked without, as technique articles have it: for the Turkish cast-on holliyeoh.com and
# thesprucecrafts.com (a slip knot that is dropped, straight winds, no twisted loops), the others common practice.
TOLD = {
    "figure-eight": ("figure of eight", "through the back loop", "tight one by one"),
    "Turkish": ("slip knot on the lower one", "up behind them and down in front", "drop the slip knot"),
    "pinhole": ("ring", "draw a loop of the yarn up through the ring", "ring shut by the tail"),
}


@pytest.mark.parametrize("start", TOE_STARTS)
@pytest.mark.parametrize("toe", ["round", "star"])
def test_each_way_says_how_it_is_worked_with_its_counts(toe: str, start: str) -> None:
    plan = planned(construction={"direction": "toe-up", "toe": toe, "toe_start": start})
    first = section(plan, "toe").rounds()[0]
    assert all(words in str(first.note) for words in TOLD[start])
    assert set(re.findall(r"\d+", str(first.note))) == {str(first.after), str(first.after // 2)}
    knit_plan(plan)


def test_the_loops_of_a_turkish_cast_on_are_as_many_winds_as_half_of_its_stitches() -> None:
    first = planned(construction={"direction": "toe-up", "toe_start": "Turkish"}).rounds()[0]
    assert f"down in front, {first.after // 2} times" in str(first.note)
    assert str(first.note).endswith("The round begins where the sole begins.")


def test_the_way_changes_nothing_but_the_words_and_is_not_told_where_it_is_the_usual_one() -> None:
    toe_up = {"direction": "toe-up", "toe": "round"}
    usual, pinhole = planned(construction=toe_up), planned(construction={**toe_up, "toe_start": "pinhole"})
    assert [item.work for item in usual.rounds()] == [item.work for item in pinhole.rounds()]
    assert usual.rounds()[1:] == pinhole.rounds()[1:]
    assert "toe_start" not in asked(construction=toe_up).model_dump(mode="json")["construction"]


def test_a_broad_tip_is_not_gathered_in_a_ring() -> None:
    asking = {"direction": "toe-up", "toe": "wedge", "toe_start": "pinhole"}
    request, faults = read_request(request_data(construction=asking))
    assert request is None
    assert "not the broad tip of a wedge toe" in str(faults[0])
    for other in ({"direction": "cuff-down"}, {"toe": "star"}, {"toe": "short-row"}):
        asked(construction={**asking, **other})
