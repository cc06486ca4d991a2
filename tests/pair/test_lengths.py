"""Lengths by tape in the logbook: where they can be taken, and what they say of the gauge."""

from __future__ import annotations

from typing import Any

import pytest

from companion.pair.lengths import lengths_as_checks, stretch, taken_from
from companion.pair.logbook import Entry
from companion.pair.remarks import Since
from companion.planning import Plan, recalculate
from companion.planning.gauge.observations import assumed
from tests.knitter import knit
from tests.planning.asking import planned, section
from tests.planning.requests import HEELS_AND_TOES
from tests.shape import shape

from ..conftest import entry


def measured(number: int, cm: float, since: str, done: int, sock: int = 1) -> Entry:
    data = {"cm": cm, "from": since}
    return Entry.model_validate(entry(number, kind="length", round=done, sock=sock, data=data))


def place_in(plan: Plan, key: str, rounds: int) -> int:
    """The number of rounds done when so many of a section are."""
    keys = [each.key for each in plan.sections]
    return sum(len(each.rounds()) for each in plan.sections[: keys.index(key)]) + rounds


def made(direction: str = "cuff-down", heel: str = "flap", toe: str = "wedge") -> Plan:
    return planned(construction={"direction": direction, "heel": heel, "toe": toe})


def test_a_length_of_the_leg_is_a_check_of_its_rounds() -> None:
    plan = made()
    done = place_in(plan, "leg", 60)
    [check] = lengths_as_checks(plan, [measured(1, 14.5, "section", done)])
    # 60 rounds over 14.5 cm are 41.4 over 10 cm.
    [taped] = check.tape
    assert (taped.section, taped.rounds, taped.length_cm) == ("leg", 60, 14.5)
    assert check.round == done
    found = recalculate(plan, done, [assumed(plan.request), check])
    assert found.gauge.rounds_per_10cm == pytest.approx(41.4, abs=0.05)


def test_a_length_from_the_cast_on_has_the_cuff_in_it_and_not_the_cast_on_itself() -> None:
    plan = made()
    done = place_in(plan, "leg", 40)
    [check] = lengths_as_checks(plan, [measured(1, 13.2, "cast-on", done)])
    assert (check.tape[0].section, check.tape[0].rounds) == ("cuff and leg", done - 1)


def test_a_foot_is_measured_from_the_back_of_its_heel() -> None:
    plan = made()
    foot = len(section(plan, "foot").rounds())
    toe = section(plan, "toe").length_cm
    [check] = lengths_as_checks(plan, [measured(1, 19.0, "back of heel", place_in(plan, "foot", foot))])
    # A foot of 25 cm less 1 cm of ease and less the toe, at 4.4 rounds to the cm.
    assert check.tape[0].rounds == pytest.approx((24 - toe) * 4.4, abs=1)
    assert check.tape[0].section == "foot"


def test_a_length_on_sock_two_comes_after_the_rounds_of_sock_one() -> None:
    plan = made()
    done = place_in(plan, "leg", 60)
    [check] = lengths_as_checks(plan, [measured(1, 14.5, "section", done, sock=2)])
    assert check.round == len(plan.rounds()) + done


@pytest.mark.parametrize("edge", ["folded hem", "picot hem"])
def test_a_hem_is_measured_when_it_is_folded_up_and_not_before(edge: str) -> None:
    down, up = (planned(construction={"direction": way}, cuff={"edge": edge}) for way in ("cuff-down", "toe-up"))
    # Inside and outside are 9 rounds each, with the fold between them: 2 cm at 44 rounds over 10 cm.
    for done in (5, 10, 11, 20):
        assert stretch(down, place_in(down, "cuff", done), "cast-on") is None
    assert stretch(down, place_in(down, "cuff", 21), "cast-on") == ("cuff", 10)
    assert stretch(down, place_in(down, "cuff", 25), "section") == ("cuff", 14)
    assert stretch(up, place_in(up, "cuff", 18), "section") == ("cuff", 18)
    for done in (20, 28):
        assert stretch(up, place_in(up, "cuff", done), "section") is None


def test_of_two_lengths_of_one_stretch_the_newest_counts() -> None:
    plan = made()
    done = place_in(plan, "leg", 60)
    log = [measured(2, 14.5, "section", done), measured(1, 15.4, "section", done)]
    assert [check.tape[0].length_cm for check in lengths_as_checks(plan, log)] == [14.5]


def test_what_says_nothing_of_the_fabric_is_left_out() -> None:
    plan = made()
    leg = place_in(plan, "leg", 60)
    log = [
        Entry.model_validate(entry(1)),
        measured(2, 14.5, "back of heel", leg),
        measured(3, 1.5, "section", place_in(plan, "leg", 6)),
        measured(4, 9.9, "section", leg),  # 60 rounds are 6.1 to the cm: more than a third off 4.4
        measured(5, 14.5, "section", 0),
        measured(6, 14.5, "section", 4000),
        measured(7, 5, "section", place_in(plan, "heel-flap", 20)),
        measured(8, 14.5, "tip of toe", leg),
    ]
    assert lengths_as_checks(plan, log) == []
    assert lengths_as_checks(plan, [measured(9, 10.3, "section", leg)])


EXPECTED: dict[tuple[str, str], dict[str, tuple[Since, ...]]] = {
    ("cuff-down", "flap"): {
        "cuff": ("section", "cast-on"),
        "leg": ("section", "cast-on"),
        "heel-flap": (),
        "heel-turn": (),
        "gusset": ("back of heel",),
        "foot": ("section", "back of heel"),
        "toe": ("back of heel",),
    },
    ("cuff-down", "afterthought"): {"heel-opening": (), "foot": ("section",), "toe": (), "heel": ()},
    ("toe-up", "flap"): {
        "toe": ("tip of toe",),
        "foot": ("section", "tip of toe"),
        "gusset": ("tip of toe",),
        "heel-turn": (),
        "heel-flap": (),
        "leg": ("section",),
        "cuff": ("section",),
    },
    ("toe-up", "short-row with gusset"): {"gusset-increases": ("tip of toe",), "heel": (), "gusset": ()},
}


@pytest.mark.parametrize("construction", EXPECTED)
def test_a_tape_goes_along_what_is_straight(construction: tuple[str, str]) -> None:
    plan = made(*construction)
    found = {each.key: taken_from(plan, number) for number, each in enumerate(plan.sections)}
    assert EXPECTED[construction].items() <= found.items()


@pytest.mark.parametrize("construction", HEELS_AND_TOES, ids=lambda one: ", ".join(one.values()))
def test_the_whole_foot_is_as_high_as_the_knitted_one(construction: dict[str, str]) -> None:
    """What lies between back of heel or tip of toe and the end of the foot, against the stitches themselves."""
    plan = made(**construction)
    foot = shape(knit(plan.model_dump(mode="json")), stitches_per_cm=3.2, rounds_per_cm=4.4).foot_length_cm
    end = place_in(plan, "foot", len(section(plan, "foot").rounds()))
    since: Since = "back of heel" if construction["direction"] == "cuff-down" else "tip of toe"
    found = stretch(plan, end, since)
    if construction["direction"] == "cuff-down" and construction["heel"] == "afterthought":
        assert found is None
        return
    assert found
    rest: dict[str, Any] = {each.key: each.length_cm for each in plan.sections}
    beyond = rest["toe"] if since == "back of heel" else _heel_cm(plan, rest)
    assert found[1] / 4.4 == pytest.approx(foot - beyond, abs=0.25)


def _heel_cm(plan: Plan, cm: dict[str, float]) -> float:
    """The foot's part beyond its tube from the toe up."""
    match plan.request.construction.heel:
        case "flap":
            return cm["gusset"] + cm["heel-turn"]
        case "afterthought":
            return cm["heel"]
        case "strong":
            return cm["gusset-increases"]  # its turn lies up the back of the heel
        case _:
            return cm.get("gusset-increases", 0) + cm["heel"]
