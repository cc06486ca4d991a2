"""A part in another colour: where the colour before still shows in its first round, and is it said only there."""

from __future__ import annotations

from typing import Any

import pytest

from companion.planning import make_plan
from companion.planning.fabric.colour_edge import ABOVE_THE_HEEL, BUMPS, SLIPPED
from tests.planning.asking import FOLLOWS, asked

TWO = [{"key": "A"}, {"key": "B", "name": "rust"}]
RIB = {"leg": {"length_cm": 12, "stitch_pattern": {"name": "k3 p1 rib"}}, **FOLLOWS}

ONE_COUNT = {"foot": {"ball_circumference_cm": 22.2, "length_cm": 24}}
"""A foot whose leg needs no round that changes the count, and begins in pattern above the heel."""


def told(**changes: Any) -> list[tuple[str, int, str]]:
    """The sections and rounds (from 0) at which something of the colour before is said."""
    plan = make_plan(asked(yarns=TWO, **changes))
    return [
        (section.key, number, said)
        for section in plan.sections
        for number, item in enumerate(section.rounds())
        for said in (ABOVE_THE_HEEL, BUMPS, SLIPPED)
        if said in (item.note or "")
    ]


@pytest.mark.parametrize(
    ("parts", "others", "expected"),
    [
        ({"heel": "B"}, {}, [("heel-flap", 0, SLIPPED)]),
        ({"heel": "B"}, {"construction": {"flap": "plain"}}, []),
        ({"heel": "B"}, {"construction": {"heel": "short-row"}}, []),
        ({"heel": "B"}, {"construction": {"heel": "short-row"}, **RIB}, []),
        ({"heel": "B"}, RIB, [("heel-flap", 0, SLIPPED)]),
        ({"cuff": "B"}, {}, []),
        ({"cuff": "B"}, RIB, [("leg", 0, BUMPS)]),
        ({"toe": "B"}, {"construction": {"direction": "toe-up"}}, []),
        ({"toe": "B"}, {"construction": {"direction": "toe-up"}, **RIB}, [("foot", 0, BUMPS)]),
        ({"cuff": "B"}, {"construction": {"direction": "toe-up"}, **RIB}, []),
        ({"heel": "B"}, {"construction": {"direction": "toe-up"}}, []),
        (
            {"heel": "B"},
            {"construction": {"direction": "toe-up"}, **RIB, **ONE_COUNT},
            [("leg", 0, ABOVE_THE_HEEL)],
        ),
        ({"heel": "B"}, {"construction": {"direction": "toe-up", "heel": "short-row"}, **RIB, **ONE_COUNT}, []),
        ({}, RIB, []),
    ],
)
def test_it_is_said_where_old_stitches_lie_under_purls_or_are_slipped(
    parts: dict[str, str], others: dict[str, Any], expected: list[tuple[str, int, str]]
) -> None:
    assert told(parts=parts, **others) == expected
