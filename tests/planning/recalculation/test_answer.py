"""The answer of a check in a few lines, on the page and in the terminal."""

from __future__ import annotations

import re
from typing import Any, NamedTuple, get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning import Plan, PlanRequest, make_plan, read_check, recalculate
from companion.planning.recalculation.answer import Answer, about_time, answer_of, gauge_shown
from companion.planning.recalculation.misfits import Misfit
from companion.planning.units import Unit

MOST_WORDS = 60
"""Before the first button of a phone's first screen (ours: about fifteen seconds of reading)."""

CONSTRUCTIONS = [
    {},
    {"direction": "toe-up", "heel": "flap"},
    {"direction": "toe-up", "heel": "short-row"},
    {"heel": "short-row with gusset", "toe": "short-row"},
    {"heel": "afterthought", "toe": "round"},
]


def planned(rib: str = "k2 p2", **construction: str) -> Plan:
    """A sock of 32 stitches and 44 rounds over 10 cm."""
    data: dict[str, Any] = {
        "schema": 1,
        "title": "Wednesday socks",
        "foot": {"ball_circumference_cm": 23.5, "length_cm": 24.5},
        "gauge": {"stitches_per_10cm": 32, "rounds_per_10cm": 44, "basis": "swatch"},
        "construction": construction,
        "cuff": {"rib": rib},
    }
    return make_plan(PlanRequest.model_validate(data))


class Counted(NamedTuple):
    """Stitches and rounds over 10 cm at as many spots; None where they were not counted."""

    stitches: float | None
    rounds: float | None = None
    spots: int = 4


LOOSE = Counted(28.5, 40)


def answered(plan: Plan, done: int, counted: Counted, unit: Unit = "cm", pace: float = 1.0) -> Answer:
    found = (("stitches", counted.stitches), ("rounds", counted.rounds))
    spots = {what: [{"count": n, "over_cm": 10}] * counted.spots for what, n in found if n}
    check, faults = read_check(spots)
    assert check, faults
    return answer_of(recalculate(plan, done, [check], pace), plan, done, unit)


def words(answer: Answer) -> int:
    """Words that stand before the first button; a sign alone is none, "8 3/8" is one."""
    way = answer.recommended
    lines = [answer.verdict, answer.reason]
    lines += [way.option.title, "recommended", way.counts, way.sizes, way.price] if way else []
    said = re.sub(r"(?<=\d) (?=\d/\d)", "", " ".join(lines))
    return sum(any(sign.isalnum() for sign in word) for word in said.split())


def test_the_answer_names_the_misfit_the_numbers_and_the_way() -> None:
    """At 28.5 stitches 68 are 23.9 cm round; asked for are 23.5 cm less 10 %, 21.2 cm."""
    answer = answered(planned(), 40, LOOSE)
    assert answer.verdict == "Looser than planned: the foot would be 2.7 cm too wide."
    assert answer.reason == "28.5 stitches and 40 rounds over 10 cm, planned 32 and 44. Wanted: 21.2 cm."
    assert answer.recommended
    assert answer.recommended.option.title == "Change the leg here"
    assert answer.recommended.counts == "Leg and foot 68 → 60 stitches."
    assert answer.recommended.sizes == "Leg and foot 21.1 cm round, 23.5 cm long."
    assert answer.recommended.price == "Nothing is ripped."
    assert answer.misfit
    assert answer.misfit.sum("cm") == "23.9 cm less 21.2 cm: the foot is 2.7 cm too wide."


def test_as_planned_says_where_to_check_again() -> None:
    """The leg has 62 rounds, and its end is the last place before the heel."""
    answer = answered(planned(), 40, Counted(32, 44))
    assert answer.verdict == "As planned. Knit on; check again at round 62 of the leg."
    assert answer.again == "Round 62 of the leg is its last, and the next part can still be made to fit."
    assert answer.recommended is None
    assert [way.option.key for way in answer.others] == ["leave"]


def test_as_planned_names_the_size_that_the_ribbing_has_made_of_the_one_asked_for() -> None:
    """Ribs of 10 stitches: 70 are nearest to 67.7 and 21.9 cm round; asked for are 23.5 cm less 10 %, 21.2 cm."""
    answer = answered(planned(rib="k5 p5"), 40, Counted(32, 44))
    assert answer.verdict.startswith("As planned.")
    assert answer.reason.endswith("planned 32 and 44. Wanted: foot 21.2 cm; planned wider, to suit the repeats.")


def test_what_was_not_counted_is_said_and_its_sizes_are_about_so() -> None:
    answer = answered(planned(), 40, Counted(29))
    assert ", rounds not counted." in answer.reason
    assert answer.recommended
    assert re.search(r", about [\d.]+ cm long\.$", answer.recommended.sizes)


def test_ripping_has_its_price_first_in_rounds_stitches_and_hours() -> None:
    [way] = [way for way in answered(planned(), 40, LOOSE, pace=3.0).others if way.option.key == "rip"]
    assert way.price == "40 rounds ripped: 2,720 stitches, about 2¼ h."
    assert way.lines[0] == way.price


def test_a_finished_sock_is_left() -> None:
    plan = planned()
    answer = answered(plan, plan.count, LOOSE)
    assert answer.verdict == "This sock is finished. Its gauge is the one to plan the next sock with."
    assert answer.recommended is None


@pytest.mark.parametrize(
    ("sizes", "says"),
    [
        ((23.86, 21.2, False), {"cm": "2.7 cm too wide", "in": "1 in too wide"}),
        ((20.0, 21.2, False), {"cm": "1.2 cm too narrow", "in": "1/2 in too narrow"}),
        ((25.8, 23.5, True), {"cm": "2.3 cm too long", "in": "7/8 in too long"}),
    ],
)
def test_a_misfit_is_the_difference_of_the_two_lengths_as_they_are_read(
    sizes: tuple[float, float, bool], says: dict[Unit, str]
) -> None:
    """In inches 9 3/8 and 8 3/8, 7 7/8 and 8 3/8, 10 1/8 and 9 1/4."""
    is_cm, asked_cm, along = sizes
    misfit = Misfit("foot", along, is_cm, asked_cm, comes=True)
    for unit in get_args(Unit):
        assert misfit.in_words(unit) == says[unit]


@pytest.mark.parametrize(
    ("seconds", "says"),
    [(20, "about 1 min"), (2060, "about 35 min"), (3600, "about 1 h"), (4500, "about 1¼ h"), (9900, "about 2¾ h")],
)
def test_a_time_is_about_as_long_as_one_can_know(seconds: float, says: str) -> None:
    assert about_time(seconds) == says


def test_a_gauge_is_read_over_the_length_of_its_tape() -> None:
    """4 in are 10.16 cm."""
    assert gauge_shown(32.0, "cm") == "32"
    assert gauge_shown(28.5, "in") == "29"


@given(
    construction=st.sampled_from(CONSTRUCTIONS),
    place=st.floats(0, 1),
    counted=st.builds(
        Counted,
        stitches=st.integers(272, 368).map(lambda tenths: tenths / 10),
        rounds=st.none() | st.integers(374, 506).map(lambda tenths: tenths / 10),
        spots=st.sampled_from([1, 4]),
    ),
    unit=st.sampled_from(get_args(Unit)),
)
def test_the_answer_is_short_and_in_one_unit(
    construction: dict[str, str], place: float, counted: Counted, unit: Unit
) -> None:
    plan = planned(**construction)
    answer = answered(plan, round(place * plan.count), counted, unit)
    assert words(answer) <= MOST_WORDS
    said = " ".join([answer.verdict, answer.reason, *(f"{way.counts} {way.sizes}" for way in answer.others)])
    assert not re.search(r"\d (cm)\b" if unit == "in" else r"\d in\b", said)


def test_before_a_change_three_more_places_are_asked_for() -> None:
    answer = answered(planned(), 40, LOOSE._replace(spots=1))
    assert answer.verdict == "Perhaps looser than planned: three more places, then we know."
    assert answer.recommended is None


def test_where_there_is_no_fabric_to_count_on_the_round_is_named() -> None:
    """In the cuff there is none; 4 cm of leg are 18 rounds."""
    answer = answered(planned(), 5, LOOSE._replace(spots=1))
    assert answer.verdict == "Perhaps looser than planned: knit on to round 18 of the leg, and check again there."
