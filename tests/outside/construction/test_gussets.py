"""Gussets as published patterns have them."""

from __future__ import annotations

from companion.planning import Plan
from companion.planning.construction.shaping import decrease_rhythm
from tests.planning.asking import planned, section


def sock_of_64() -> Plan:
    """64 stitches at 32 over 10 cm; the heel asks for 34 flap rows."""
    return planned(foot={"ball_circumference_cm": 22.2, "heel_diagonal_cm": 31})


def sock_of_60() -> Plan:
    """60 stitches at 32 over 10 cm; the heel asks for 32 flap rows."""
    return planned(foot={"ball_circumference_cm": 20.8, "length_cm": 24, "heel_diagonal_cm": 29.5})


def shaping(plan: Plan) -> tuple[int, int, int]:
    """Stitches before the first decrease, after the last, and the rounds that decrease."""
    rounds = section(plan, "gusset").rounds()
    decreasing = [item for item in rounds if item.kind == "decrease"]
    return decreasing[0].before, rounds[-1].after, len(decreasing)


def test_86_stitches_come_down_to_64_in_11_shaping_rounds() -> None:
    # yarnbecomewhatyouare.wordpress.com, 2011/11/16: 18 + 18 + 18 + 32 = 86 down to 64, two every other round.
    # Eleven shaping rounds are computed from that.
    assert shaping(sock_of_64()) == (86, 64, 11)


def test_82_stitches_come_down_to_60_in_11_shaping_rounds() -> None:
    # colourchoices.blogspot.com, basic sock pattern 1: 82 down to 60. Eleven is computed.
    assert shaping(sock_of_60()) == (82, 60, 11)


def test_the_decreases_come_every_other_round() -> None:
    # yarnbecomewhatyouare.wordpress.com, 2011/11/16.
    kinds = [item.kind for item in section(sock_of_64(), "gusset").rounds()]
    assert kinds == ["pick-up", "pick-up", *["decrease", "plain"] * 10, "decrease"]
    assert decrease_rhythm(11, 40) == (*(True, False) * 10, True)


def test_32_rows_give_16_stitches_and_one_in_the_corner() -> None:
    # osbornfiber.com, 2010/06/27: 32 rows, 16 picked up.
    # pinklemontwist.blogspot.com, 2006/06: one or two more in the corner.
    plan = sock_of_60()
    assert len(section(plan, "heel-flap").rounds()) == 32
    picked = [item.uses("pu") for item in section(plan, "gusset").rounds()[:2]]
    assert picked == [16 + 1, 16 + 1]
