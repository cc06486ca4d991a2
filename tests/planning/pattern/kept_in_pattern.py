"""Checks rounds of a leg that only say "in pattern" against the rule given with that: independent of the program.

All round, whole repeats go round the front and the middle of the back is knitted. A panel stays where it is, and every
other stitch is in its column, counted from the panel.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import accumulate, groupby

from companion.planning import Plan
from tests.planning.pattern.laid_out import Kept
from tests.planning.patterned import takes

PURLED = {"p", "ptbl", "p2tog", "ssp", "m1p"}


def check_kept(kept: Kept, names: list[str], plan: Plan, row: Sequence[str]) -> None:
    """A round that is not written out: what is shaped in it, and that the rule of the pattern gives the rest."""
    pattern = plan.request.leg.stitch_pattern
    assert pattern
    shaped = _shaped(kept, names)
    if pattern.placement:
        _check_panels(names, shaped, plan, row)
    elif shaped:
        sides = (names[: shaped[0]], row), (names[shaped[-1] + 1 :][::-1], row[::-1])
        for side, repeat in sides:
            assert any(set(side[in_pattern(side, repeat, start) :]) <= {"k"} for start in range(len(row)))
    else:
        over = sum(map(takes, names)) % pattern.width
        assert any(goes_round(names, row, over, start) for start in range(len(row)))


def _shaped(kept: Kept, names: Sequence[str]) -> list[int]:
    """The places of the operations that are named between the stitches in pattern."""
    taken = [*accumulate(map(takes, names), initial=0)]
    places: list[int] = []
    stitches = 0
    for counted, pieces in groupby(kept, lambda piece: isinstance(piece, int)):
        if counted:
            stitches += sum(piece for piece in pieces if isinstance(piece, int))
            continue
        named = [piece for piece in pieces if not isinstance(piece, int)]
        # What adds a stitch takes none, so that one of the pattern beside it lies at as many stitches.
        place = next(
            at
            for at in range(len(names) - len(named) + 1)
            if taken[at] == stitches and all(names[at + on] in piece for on, piece in enumerate(named))
        )
        places += range(place, place + len(named))
        stitches = taken[place + len(named)]
    assert not kept or stitches == taken[-1]
    return places


def _check_panels(names: Sequence[str], shaped: Sequence[int], plan: Plan, row: Sequence[str]) -> None:
    """The panels lie on the middle of the front, and of the back where there are two, with their columns between."""
    pattern = plan.request.leg.stitch_pattern
    assert pattern
    assert pattern.placement
    taken = [*accumulate(map(takes, names), initial=0)]
    leg = plan.sizes.leg_stitches
    front = leg - (leg // 2 if plan.request.construction.direction == "toe-up" else leg // 4 * 2)
    behind, wide = taken[-1] - front, sum(map(takes, row))
    begins = [(behind - wide) // 2] if pattern.placement.on == "front and back" else []
    places = [
        next(at for at in range(len(names)) if taken[at] == stitches and [*names[at : at + len(row)]] == [*row])
        for stitches in [*begins, behind + (front - wide) // 2]
    ]
    around = [(at + places[-1] + len(row)) % len(names) for at in range(len(names) - len(row))]
    others = [around.index(place) for place in places[:-1]]
    sides = [around[: others[0]], around[others[0] + len(row) :]] if others else [around]
    for side in sides:
        _check_columns([names[at] for at in side], [side.index(at) for at in shaped if at in side], beside(plan))


def _check_columns(side: Sequence[str], shaped: Sequence[int], columns: Sequence[str]) -> None:
    """The stitches from one panel to the next: those before a pair of changes go outward, those after it inward."""
    last = len(side) - 1
    for at, name in enumerate(side):
        if len(shaped) > 1 and shaped[0] <= at <= shaped[-1]:
            continue
        away = min(at, last - at) if len(shaped) < 2 else at if at < shaped[0] else last - at
        wanted = columns[away % len(columns)]
        assert (name in PURLED) == (wanted in PURLED) if at in shaped else name == wanted


def beside(plan: Plan) -> list[str]:
    """The columns beside a panel, outwards, from what was asked for."""
    pattern = plan.request.leg.stitch_pattern
    assert pattern
    assert pattern.placement
    text = {"plain": "k1", "purl": "p1"}.get(pattern.placement.beside, pattern.placement.beside)
    found = re.findall(r"([kp])(\d+)(tbl)?", text)
    return [kind + through for kind, count, through in found for _ in range(int(count))]


def in_pattern(names: Sequence[str], row: Sequence[str], start: int) -> int:
    """How many operations are those of a row over and over, from one of its own on."""
    return next((at for at, name in enumerate(names) if name != row[(start + at) % len(row)]), len(names))


def goes_round(names: list[str], row: Sequence[str], over: int, start: int) -> bool:
    """Whether a round is all repeats that begin so, but for so many knit stitches in one place."""
    first = in_pattern(names, row, start)
    last = in_pattern(names[::-1], row[::-1], -start % len(row))
    places = range(max(0, len(names) - over - last), min(first, len(names) - over) + 1)
    return any(set(names[place : place + over]) <= {"k"} for place in places)
