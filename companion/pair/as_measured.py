"""What was knitted before a change keeps the gauge that was measured on it, and with it its length and width. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ..planning import Plan
from ..planning.fit.targets import fit_of
from ..planning.gauge.estimate import gauges_of
from ..planning.gauge.observations import assumed
from ..planning.gauge.parts import gauges_on
from ..planning.recalculation.as_knitted import fabrics_of, sizes_as_knitted
from .evidence import evidence_of
from .logbook import Sock
from .state import PairState


def rounds_measured(pair: PairState, sock: Sock) -> Mapping[str, float]:
    """Rounds over 10 cm of each section that was finished before the plan of its sock was changed, by its key.

    None where nothing was changed, or nothing counted: the rounds then are those of the plan.
    """
    revision, plan = pair.followed[sock], pair.plan(sock)
    if not revision.done:
        return {}
    evidence, needle = evidence_of(pair, sock), plan.request.needles.size_mm
    newest = gauges_of(evidence, needle)
    if not newest.rounds.counted:
        return {}
    finished = [(section.key, span) for section, span in plan.spans() if span.stop <= revision.done]
    return {key: gauges_on(span, evidence, newest, needle).rounds.per_10cm for key, span in finished}


def plan_as_measured(pair: PairState, sock: Sock) -> Plan:
    """The plan of a sock to be looked at: with the lengths and sizes that its finished parts were measured to have."""
    plan, own = pair.plan(sock), rounds_measured(pair, sock)
    if not own:
        return plan
    done, planned = pair.followed[sock].done, 10 * fit_of(plan.request).fabric.rounds
    sections = (
        replace(section, length_cm=section.length_cm * planned / own.get(section.key, planned))
        for section in plan.sections
    )
    fabrics = fabrics_of(plan, done, evidence_of(pair, sock), gauges_of([assumed(plan.request)]))
    sizes = sizes_as_knitted(plan.sizes, plan, done, fabrics)
    return plan.model_copy(update={"sections": tuple(sections), "sizes": sizes})
