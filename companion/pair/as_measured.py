"""A changed plan with the measured gauge of what was knitted before: its length and width stay. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ..planning import Plan
from ..planning.construction.constructions import built
from ..planning.construction.sections.leg import LEG
from ..planning.fit.targets import fit_of
from ..planning.gauge.observations import assumed
from ..planning.gauge.parts import gauges_on
from ..planning.recalculation.as_knitted import fabrics_of, sizes_as_knitted
from ..planning.recalculation.by_fabric import Known
from .evidence import evidence_of, known_of
from .logbook import Sock
from .state import PairState


def rounds_measured(pair: PairState, sock: Sock) -> Mapping[str, float]:
    """Rounds over 10 cm of each section that was finished before the plan of its sock was changed, by its key.

    None where nothing was changed, or nothing counted: the rounds then are those of the plan.
    """
    revision, plan = pair.followed[sock], pair.plan(sock)
    if not revision.done:
        return {}
    known, needle = known_of(pair, sock), plan.request.needles.size_mm
    if not known.plain.rounds.counted:
        return {}
    finished = [(section.key, span) for section, span in plan.spans() if span.stop <= revision.done]
    of_leg, of_others = (known.of_leg, known.leg), (known.of_plain, known.plain)
    return {
        key: gauges_on(span, *(of_leg if key == LEG.key else of_others), needle).rounds.per_10cm
        for key, span in finished
    }


def plan_as_measured(pair: PairState, sock: Sock) -> Plan:
    """The plan of a sock to be looked at: with the lengths and sizes that its finished parts were measured to have."""
    plan, own = pair.plan(sock), rounds_measured(pair, sock)
    if not own:
        return plan
    done, fit = pair.followed[sock].done, fit_of(plan.request)
    planned = {section.key: 10 * fit.rounds_of(part.of) for section, part in built(plan)}
    sections = (
        replace(section, length_cm=section.length_cm * planned[section.key] / own[section.key])
        if section.key in own
        else section
        for section in plan.sections
    )
    as_planned = Known(plan, [assumed(plan.request)], done)
    fabrics = fabrics_of(Known(plan, evidence_of(pair, sock), done), as_planned)
    sizes = sizes_as_knitted(plan.sizes, plan, done, fabrics)
    return plan.model_copy(update={"sections": tuple(sections), "sizes": sizes})
