"""By which plans sock two can be knitted, once sock one was changed. Pure."""

from __future__ import annotations

from collections.abc import Sequence

from ..planning.recalculation.as_knitted import fabrics_of
from ..planning.recalculation.second_sock_options import Match, matches_for
from .evidence import known_of
from .revisions import Revision
from .state import PairState


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
