"""A toe that is shaped to one foot is drawn a second time for those who knit from left to right."""

from __future__ import annotations

from functools import partial
from xml.etree import ElementTree as ET

import pytest

from companion.drawings.either_hand import for_either_hand
from companion.drawings.sock import sock_svg
from companion.drawings.sock_pair import sock_pair_svg
from companion.planning import make_plan
from tests.planning.asking import asked, planned
from tests.planning.requests import DIRECTIONS

DRAWN = partial(sock_svg, unit="cm")


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_the_left_handed_are_shown_the_toe_for_the_other_foot(direction: str) -> None:
    """The mirror image of a left sock is a right one."""
    left, right = (planned(construction={"direction": direction, "toe": toe}) for toe in ("left foot", "right foot"))
    [usual, other] = ET.fromstring(f"<div>{for_either_hand(DRAWN, left)}</div>")
    assert "the toe is for the left foot" in "".join(usual.itertext())
    assert [ET.tostring(each) for each in other] == [ET.tostring(ET.fromstring(DRAWN(right)))]


def test_both_socks_of_a_pair_change_places() -> None:
    request = asked(construction={"toe": "left foot"}, other_foot={"length_cm": 26})
    plans = make_plan(request), make_plan(request.for_the_other_foot())
    drawn = for_either_hand(partial(sock_pair_svg, unit="cm"), *plans)
    usual, other = drawn.split('<template data-mirrored="">')
    assert "Sock 1, left foot" in usual
    assert "Sock 1, right foot" in other
    assert "Sock 2, left foot" in other


def test_another_sock_is_drawn_once() -> None:
    plan = planned(construction={"toe": "star"})
    assert for_either_hand(DRAWN, plan) == DRAWN(plan)
