"""By which plans sock two can be knitted, once sock one was changed. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ...drawings.fabric_preview import fabric_preview
from ...planning.recalculation.as_knitted import fabrics_of
from ...planning.recalculation.figures import PlanFigures
from ...planning.recalculation.second_sock_options import Match, matches_for
from ..evidence import known_of
from ..revisions import Revision
from ..state import PairState
from .accepted import Accepted


def changed_while_knitted(revisions: Sequence[Revision]) -> bool:
    """Whether a change of sock one was accepted after its cast-on."""
    return any(revision.sock == 1 and revision.done for revision in revisions)


def second_sock_chosen(revisions: Sequence[Revision]) -> bool:
    """Whether it was chosen how to knit sock two since sock one was last changed."""
    ones = [revision.number for revision in revisions if revision.sock == 1]
    return any(revision.sock == 2 and revision.number > max(ones) for revision in revisions)


def asks_for_second_sock(revisions: Sequence[Revision]) -> bool:
    """Whether the knit page asks how to knit sock two before its cast-on."""
    return changed_while_knitted(revisions) and not second_sock_chosen(revisions)


def _cast_on_by(revisions: Sequence[Revision]) -> Revision:
    """The revision that sock one was begun with: its newest before the first change while it was knitted."""
    own = [revision for revision in revisions if revision.sock == 1]
    first = next((number for number, revision in enumerate(own) if revision.done), len(own))
    return own[max(0, first - 1)]


def second_sock_options(pair: PairState) -> tuple[Match, ...]:
    """The plans that sock two can have; none where sock one was not changed."""
    if not changed_while_knitted(pair.revisions):
        return ()
    sock = pair.position(1)
    return matches_for(pair.plan_of(_cast_on_by(pair.revisions)), sock.plan, fabrics_of(known_of(pair)))


def second_sock_shown(pair: PairState) -> dict[str, Any]:
    """What the page of the choice says: each way with its sizes and what is different from sock one."""
    found = second_sock_options(pair)
    chosen = second_sock_chosen(pair.revisions)
    wanted = pair.plan(2).request
    anew = wanted.two_feet and not chosen
    best = "measured" if wanted.other_foot.given() else "knitted"
    return {
        "pair_title": pair.title,
        "unit": pair.unit,
        "begun": bool(pair.done[2]),
        "newest": pair.newest,
        "found": found,
        "previews": {match.key: fabric_preview(pair.plan(1), match.plan, 0) for match in found},
        "numbers": {match.key: PlanFigures(match.plan, match.sizes) for match in found},
        "advised": next((match.plan for match in found if anew and match.key == best), pair.plan(2)),
        "two_feet": wanted.two_feet,
        "chosen": chosen,
        "changed": [
            revision.summary.partition("\n")[0].partition(", ")[2]
            for revision in pair.revisions
            if revision.sock == 1 and revision.done
        ],
    }


def second_sock_taken(pair: PairState, key: str) -> Accepted | None:
    """The way to knit sock two that has this key; None where there is none, or sock two is begun."""
    match = next((one for one in second_sock_options(pair) if one.key == key), None)
    if match is None or pair.done[2]:
        return None
    return Accepted(
        sock=2,
        done=0,
        title=f"Sock 2, before its cast-on: {match.title}",
        plan=match.plan,
        changes=match.changes,
        option=f"sock two {match.key}",
    )
