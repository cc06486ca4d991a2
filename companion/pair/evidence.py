"""Everything that is known of a pair's gauge: the first plan, every check and every length of both socks. Pure."""

from __future__ import annotations

from collections.abc import Iterator

from ..planning import Check
from ..planning.gauge.estimate import Gauges, gauges_of
from ..planning.gauge.observations import Evidence, assumed
from .checks import checks_kept, is_miscount
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
        one.check.model_copy(update={"sock_round": one.round if one.sock == sock else None})
        for one in kept
        if not is_miscount(one.check, first)
    ]
    return [assumed(first.request), *checks, *_lengths(pair)]


def _lengths(pair: PairState) -> Iterator[Check]:
    """The lengths by tape, each read by the plan of its sock."""
    lengths = standing(pair.entries, "length")
    for sock in SOCKS:
        if taken := [entry for entry in lengths if entry.sock == sock]:
            yield from lengths_as_checks(pair.plan(sock), taken)


def gauges_of_pair(pair: PairState, sock: Sock = 1) -> Gauges:
    """The estimate of all that is known, on the needle that a sock is knitted with now."""
    return gauges_of(evidence_of(pair, sock), pair.plan(sock).request.needles.size_mm)
