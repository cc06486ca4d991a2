"""Self-striping yarn: how high a repeat is, where sock two begins, and whether the yarn is enough for a match."""

from __future__ import annotations

import pytest

from companion.planning import Plan
from companion.planning.pattern.rounds_text import to_finish, written_pattern
from tests.planning.asking import asked, planned, section, worked_out_again
from tests.planning.requests import DIRECTIONS

AT_THE_BEGINNING = "Begin where a colour begins, and write down which: sock two begins at the same one."


def striped(metres: float, grams: float = 100, **more: object) -> Plan:
    """A plan in a yarn with this repeat."""
    return planned(yarns=[{"key": "A", "colour_repeat_metres": metres, "grams": grams}], **more)


def told(plan: Plan) -> str:
    (found,) = [each for each in plan.warnings if "comes back to the same colour" in each]
    return found


def test_the_height_of_a_repeat_is_that_of_its_rounds_by_hand() -> None:
    """68 stitches of 1.239 cm (Munden) are 84.2 cm a round: 12 m are 14 rounds, at 44 over 10 cm 3.2 cm."""
    plan = striped(12)
    assert plan.sizes.leg_stitches == 68
    assert "every 12 m (13.1 yd), on the leg about every 14 rounds, 3.2 cm (1 1/4 in)." in told(plan)


@pytest.mark.parametrize(("metres", "both"), [(9.5, "9.5 m (10.4 yd)"), (11.8872, "11.9 m (13 yd)")])
def test_a_repeat_is_told_as_it_was_measured_in_either_unit(metres: float, both: str) -> None:
    """A yard is 0.9144 m (international agreement of 1959)."""
    assert f"every {both}, on the leg" in told(striped(metres))
    assert f"at most {both}." in told(striped(metres))


def test_sock_two_begins_where_the_repeat_does_and_the_metres_are_told_only_where_they_are_sure() -> None:
    short, long = striped(12), striped(60)
    a_sock = long.yarn[0].metres_a_sock
    assert "at most 12 m (13.1 yd)." in told(short)
    assert "by the stitches" not in told(short)
    assert f"at most 60 m (65.6 yd), by the stitches about {180 - a_sock:.0f} m" in told(long)


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_the_first_round_of_either_sock_says_where_to_begin(direction: str) -> None:
    plan = striped(12, construction={"direction": direction})
    first, *others = plan.rounds()
    assert str(first.note).endswith(AT_THE_BEGINNING)
    assert not any(AT_THE_BEGINNING in str(item.note) for item in others)
    for done in (0, 1, 5, 60):
        assert worked_out_again(plan, done).rounds() == plan.rounds()
    assert "Wind off the yarn to the colour that this sock began with" in written_pattern(plan, "cm")


@pytest.mark.parametrize(("direction", "part", "then"), [("cuff-down", "cuff", "leg"), ("toe-up", "toe", "foot")])
def test_a_sock_that_begins_in_another_yarn_says_it_where_the_striping_one_is_joined(
    direction: str, part: str, then: str
) -> None:
    yarns = [{"key": "A", "colour_repeat_metres": 12}, {"key": "B"}]
    plan = planned(yarns=yarns, parts={part: "B"}, construction={"direction": direction})
    (said,) = [item for item in plan.rounds() if AT_THE_BEGINNING in str(item.note)]
    assert said is section(plan, then).rounds()[0]
    assert f"Join yarn A here. {AT_THE_BEGINNING}" in str(said.note)
    for done in (0, 1, section(plan, part).count, section(plan, part).count + 1):
        assert worked_out_again(plan, done).rounds() == plan.rounds()


def test_what_is_said_of_sock_two_heeds_its_foot_and_an_exchange_of_colours() -> None:
    """Each of them alone is said as before; here a sock of all three."""
    stripes = {"width": 1, "rows": ["A", "B"], "swap": True}
    yarns = [{"key": "A", "colour_repeat_metres": 12}, {"key": "B", "colour_repeat_metres": 12}]
    plan = planned(yarns=yarns, leg={"chart": stripes}, other_foot={"length_cm": 26})
    assert to_finish(plan).startswith(
        "Wind off the yarn to the colour that this sock began with, and knit the other sock by its own numbers, "
        "for the other foot, with yarns A and B exchanged throughout."
    )


def test_a_match_for_which_the_yarn_may_be_too_short_is_told_before_the_cast_on() -> None:
    assert "begin sock two as it comes" not in told(striped(12))
    pair = 2 * striped(12).yarn[0].metres_a_sock
    scarce = striped(60, grams=85)
    assert f"more than the {85 * 4.2 - pair:.0f} m" in told(scarce)
    assert scarce.yarn[0].enough


def test_a_yarn_of_one_colour_changes_nothing() -> None:
    assert "colour_repeat_metres" not in asked(yarns=[{"key": "A"}]).model_dump_json()
    plain = planned()
    assert [item.work for item in striped(12).rounds()] == [item.work for item in plain.rounds()]
    assert not any("same colour" in each for each in plain.warnings)
