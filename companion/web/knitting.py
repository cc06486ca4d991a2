"""A pair as the knit page takes it: every round in words, without the operations behind them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..logbook import SOCKS
from ..planning.document import Plan, Round
from ..planning.fit import nearest
from ..planning.request import ROUNDS_PER_STITCH
from ..planning.words import abbreviations, is_plain_knitting, round_lines
from ..planning.work import is_fabric
from .open_pair import OpenPair


def _instruction(item: Round) -> dict[str, Any]:
    return {
        "side": item.side,
        "kind": item.kind,
        "before": item.before,
        "after": item.after,
        "note": item.note,
        "gist": "knit" if is_plain_knitting(item) else None,
        "lines": round_lines(item),
    }


def _sections(plan: Plan) -> list[dict[str, Any]]:
    sections = []
    first = 0
    for section in plan.sections:
        count = len(section.rounds())
        sections.append(
            {"key": section.key, "title": section.title, "flat": section.flat, "first": first, "count": count}
        )
        first += count
    return sections


def _heights(plan: Plan, rounds_per_10cm: float) -> Iterator[float]:
    """How many rounds higher each round makes its section: 1, or less where short rows go to a tip and back."""
    for section in plan.sections:
        fabric = [is_fabric(item) for item in section.rounds()]
        high = nearest(section.length_cm * rounds_per_10cm / 10)
        share = round(high / max(1, sum(fabric)), 3)
        yield from (share if makes_fabric else 0 for makes_fabric in fabric)


def script(plan: Plan, revision: int, *, can_undo: bool) -> dict[str, Any]:
    """One sock round by round. Rounds that are alike share one instruction.

    `heights` has how many rounds longer each one makes the sock: 0 for a cast-on or grafting.
    """
    rounds = plan.rounds()
    unique = list(dict.fromkeys(rounds))
    index = {item: number for number, item in enumerate(unique)}
    gauge = plan.request.gauge
    rounds_per_10cm = gauge.rounds_per_10cm or gauge.stitches_per_10cm * ROUNDS_PER_STITCH
    return {
        "revision": revision,
        "rounds_per_10cm": rounds_per_10cm,
        "total": len(rounds),
        "can_undo": can_undo,
        "sections": _sections(plan),
        "instructions": [_instruction(item) for item in unique],
        "rounds": [index[item] for item in rounds],
        "meanings": abbreviations(plan),
        "heights": list(_heights(plan, rounds_per_10cm)),
    }


def knit_data(pair: OpenPair) -> dict[str, Any]:
    """Both socks of a pair: where they are, and the scripts they follow, one when they follow the same."""
    revisions = list(dict.fromkeys(pair.followed[sock] for sock in SOCKS))
    undoable = pair.undoable
    scripts = [script(pair.plan_of(revision), revision.number, can_undo=revision is undoable) for revision in revisions]
    return {
        "schema": 1,
        "title": pair.pair.title,
        "unit": pair.pair.unit,
        "cursor": pair.cursor,
        "clock": pair.clock,
        "socks": [
            {"sock": sock, "script": number, "round": min(pair.done[sock], scripts[number]["total"])}
            for sock in SOCKS
            for number in [revisions.index(pair.followed[sock])]
        ],
        "scripts": scripts,
    }
