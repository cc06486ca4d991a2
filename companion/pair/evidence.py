"""Everything that is known of a pair's gauge: the first plan, every check and every length of both socks. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..planning import Check
from ..planning.gauge.observations import Evidence, assumed
from ..planning.recalculation.by_fabric import Known
from .checking.checks import checks_kept, is_miscount, where_counted
from .lengths import lengths_as_checks
from .logbook import SOCKS, Sock, standing
from .revisions import first_plan
from .state import PairState


def evidence_of(pair: PairState, sock: Sock = 1) -> list[Evidence]:
    """The assumption of the pair's first plan, the checks that count, in the order of the logbook, and lengths by tape.

    Those made on one `sock` say after how many of its rounds.

    A later plan holds what the checks made of its gauge, and with it they would count twice.
    """
    first = pair.plan_of(first_plan(pair.revisions))
    kept = checks_kept(pair.entries)
    checks = [
        check.model_copy(update={"sock_round": one.round if one.sock == sock else None})
        for one in kept
        if not is_miscount(check := where_counted(one, pair.plan(one.sock)), first)
    ]
    return [assumed(first.request), *checks, *_lengths(pair)]


def _lengths(pair: PairState) -> Iterator[Check]:
    """The lengths by tape, each read by the plan of its sock."""
    lengths = standing(pair.entries, "length")
    for sock in SOCKS:
        if taken := [entry for entry in lengths if entry.sock == sock]:
            yield from lengths_as_checks(pair.plan(sock), taken)


def known_of(pair: PairState, sock: Sock = 1, evidence: Sequence[Evidence] | None = None) -> Known:
    """The same by the fabrics of a sock, on the needle that it is knitted with now."""
    position = pair.position(sock)
    return Known(position.plan, evidence_of(pair, sock) if evidence is None else evidence, position.done)
