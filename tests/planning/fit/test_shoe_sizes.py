"""A foot guessed from its shoe size: in words, with its range, and only for sizes that there are."""

from __future__ import annotations

from typing import get_args

import pytest

from companion.planning import CannotKnitError
from companion.planning.fit.shoe_sizes import SCALES, guess_words, usual_foot
from companion.planning.request.foot import Foot, ShoeSystem
from tests.planning.asking import planned


@pytest.mark.parametrize("system", get_args(ShoeSystem))
def test_every_size_that_is_taken_is_a_foot_that_can_be_planned_for(system: ShoeSystem) -> None:
    for size in (SCALES[system].least, SCALES[system].most):
        foot = usual_foot(system, size)
        Foot(ball_circumference_cm=foot.ball.middle, length_cm=foot.length.middle)
        assert foot.ball.low < foot.ball.middle < foot.ball.high


@pytest.mark.parametrize(
    ("system", "size", "says"),
    [
        ("EU", 10, "allowed: EU 17 to 53."),
        ("EU", 240, "allowed: EU 17 to 53."),
        ("UK", -1, "allowed: UK 0 to 17. Give a child's size as EU or Mondopoint."),
        ("Mondopoint", 24, "allowed: Mondopoint 100 to 340."),
    ],
)
def test_an_unknown_size_is_refused_with_the_known_ones(system: ShoeSystem, size: float, says: str) -> None:
    with pytest.raises(ValueError, match=r"allowed") as refused:
        usual_foot(system, size)
    assert says in str(refused.value)


def test_the_words_say_that_it_is_a_guess_and_how_wide_in_either_unit() -> None:
    in_cm = guess_words("EU", 38, "cm")
    assert in_cm.startswith(
        "EU 38 is a foot about 24 cm long and 22.7 cm round the ball, where nine in ten have 20.9 to 24.4 cm. "
    )
    assert "This is a guess" in in_cm
    assert "9 1/2 in long and 8 7/8 in round the ball, where nine in ten have 8 1/4 to 9 5/8 in." in guess_words(
        "EU", 38, "in"
    )


@pytest.mark.parametrize(("size", "says"), [(25, "Feet this small were not"), (51, "Feet this large were not")])
def test_a_foot_outside_the_survey_is_said_to_be_less_sure(size: float, says: str) -> None:
    # The survey's feet are 19.8 to 32.3 cm long: EU 32 to 50.
    assert says in guess_words("EU", size, "cm")
    assert "were not" not in guess_words("EU", 32, "cm") + guess_words("EU", 50, "cm")


def test_what_is_guessed_counts_as_estimated_until_it_is_measured() -> None:
    shoe = {"system": "EU", "size": 38}
    guess = planned(foot={"length_cm": 24, "ball_circumference_cm": 22.7, "shoe_size": shoe})
    assert guess.estimated[:2] == ("foot.length_cm", "foot.ball_circumference_cm")
    assert "a guess: " in next(item.why for item in guess.fit if item.what == "Round the foot")
    assert "from shoe size EU 38: its length may be anything from 23.5 cm" in " ".join(guess.warnings)
    half = planned(foot={"length_cm": 24, "shoe_size": shoe | {"guessed": ["length_cm"]}})
    assert "foot.ball_circumference_cm" not in half.estimated
    assert "round its ball" not in " ".join(half.warnings)
    assert half.rounds() == planned(foot={"length_cm": 24}).rounds(), "a guess is planned as a measurement is"


def test_a_shoe_size_that_is_none_is_refused_in_words() -> None:
    with pytest.raises(CannotKnitError, match="allowed: EU 17 to 53"):
        planned(foot={"shoe_size": {"system": "EU", "size": 99}})
