"""What a pair has taught of a knitter's own gauge: with this yarn, on this needle, from all checks. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from ..planning import CannotKnitError, Check, Plan, PlanRequest
from ..planning.gauge.decision import is_open
from ..planning.gauge.estimate import Estimate
from ..planning.gauge.observations import GIVE_OR_TAKE
from ..planning.recalculation.by_fabric import Known, planned_gauge
from ..planning.recalculation.recalculate import measured_request
from .evidence import evidence_of, known_of
from .logbook import SOCKS, Entry, standing
from .remarks import Remark
from .revisions import first_plan
from .state import PairState


def gauges_learned(pair: PairState) -> tuple[Known, int] | None:
    """The estimate from all that is known, and from how many checks; None before any check that counts."""
    if not any(entry.kind in ("check", "length") for entry in pair.entries):
        return None  # and no plan has to be read for it
    evidence = evidence_of(pair)
    checks = sum(isinstance(item, Check) for item in evidence)
    if not checks:
        return None
    return known_of(pair, evidence=evidence), checks


def undecided(pair: PairState, known: Known) -> bool:
    """Whether a sock still goes on by a plan that has another gauge than was found, by as much as may be felt.

    Nothing is open once the knitter has decided to knit on as it is, until she counts or measures again.
    """
    if _is_decided(pair):
        return False
    return _is_open(known, (pair.plan(sock) for sock in SOCKS if pair.done[sock] < pair.plan(sock).count))


def decided(pair: PairState, known: Known) -> bool:
    """Whether another gauge was found than was assumed at first, and the knitter has changed her plan or knits on."""
    if not _is_open(known, [pair.plan_of(first_plan(pair.revisions))]):
        return False
    return _is_decided(pair) or not _is_open(known, map(pair.plan, SOCKS))


def _is_open(known: Known, plans: Iterable[Plan]) -> bool:
    return any(
        is_open(known.plain, planned_gauge(plan))
        or (known.pattern is not None and is_open(known.leg, planned_gauge(plan, in_pattern=True)))
        for plan in plans
    )


def _is_decided(pair: PairState) -> bool:
    kinds: tuple[Remark, ...] = ("check", "length", "decision")
    said = (entry for kind in kinds for entry in standing(pair.entries, kind))
    newest = max(said, key=Entry.order, default=None)
    return newest is not None and newest.kind == "decision"


def learned_from(pair: PairState) -> dict[str, Any] | None:
    """The gauge for the browser to keep, over 10 cm; what was never counted is left out."""
    found = gauges_learned(pair)
    if found is None:
        return None
    known, checks = found
    gauges = known.plain
    if not gauges.stitches.counted:
        return None
    request = pair.plan(1).request
    return {
        "yarn": request.yarns[0].name,
        "needle_mm": request.needles.size_mm,
        "checks": checks,
        "at": max(entry.at for entry in pair.entries if entry.kind in ("check", "length")),
        "stitches": _describe_gauge(gauges.stitches),
        "rounds": _describe_gauge(gauges.rounds) if gauges.rounds.counted else None,
    }


def _describe_gauge(found: Estimate) -> dict[str, float]:
    return {"per_10cm": round(found.per_10cm, 2), "give_or_take": round(GIVE_OR_TAKE * found.deviation, 2)}


def next_request(pair: PairState) -> tuple[PlanRequest, int]:
    """What the next pair can be planned from: this one's foot, yarn and needles, with the gauge learned of it.

    And from how many checks that gauge is; 0 where it is still the first plan's.
    """
    request = pair.plan(1).request
    found = gauges_learned(pair)
    if found is None:
        return request, 0
    try:
        known, checks = found
        return measured_request(request, known.plain, known.leg if known.pattern_was_counted else None), checks
    except CannotKnitError:
        return request, 0
