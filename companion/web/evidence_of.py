"""Everything that is known of a pair's gauge: what it was planned with, every check and every length of both socks."""

from __future__ import annotations

from collections.abc import Iterator

from ..kept_checks import checks_kept, is_miscount
from ..lengths import lengths_as_checks
from ..logbook import SOCKS, Sock, left_out
from ..planning.check import Check
from ..planning.evidence import Gauges, gauges_of
from ..planning.observed import Evidence, assumed
from .open_pair import OpenPair


def evidence_of(pair: OpenPair) -> list[Evidence]:
    """The assumption of the pair's first plan, the checks that count, in the order of the logbook, and lengths by tape.

    A later plan holds what the checks made of its gauge, and with it they would count twice.
    """
    first = pair.plan_of(pair.revisions[0])
    kept = checks_kept(pair.entries.values())
    checks = [one.check for one in kept if not one.left_out and not is_miscount(one.check, first)]
    return [assumed(first.request), *checks, *_lengths(pair)]


def _lengths(pair: OpenPair) -> Iterator[Check]:
    """The lengths by tape, each read by the plan of its sock."""
    slips = left_out(pair.entries.values())
    for sock in SOCKS:
        lengths = [entry for entry in pair.entries.values() if entry.kind == "length" and entry.sock == sock]
        taken = [entry for entry in lengths if entry.id not in slips]
        if taken:
            yield from lengths_as_checks(pair.plan(sock), taken)


def gauges_of_pair(pair: OpenPair, sock: Sock = 1) -> Gauges:
    """The estimate of all that is known, on the needle that a sock is knitted with now."""
    return gauges_of(evidence_of(pair), pair.plan(sock).request.needles.size_mm)
