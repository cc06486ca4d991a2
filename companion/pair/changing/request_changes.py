"""What a plan was asked for, by the names on its page, and what is different in another plan."""

from __future__ import annotations

from ...planning import Plan, PlanRequest
from ...planning.construction.construction_words import (
    construction_words,
    flap_words,
    short_row_words,
    sole_words,
    toe_start_words,
)
from ...planning.gauge.observations import per_10cm
from ...planning.recalculation.changes import Change, changes_between
from ...planning.units import both_needle_sizes, both_units


def _entries(request: PlanRequest) -> dict[str, str]:
    foot, gauge = request.foot, request.gauge
    measured = {
        "Ball of the foot": foot.ball_circumference_cm,
        "Length of your foot": foot.length_cm,
        "Heel diagonal": foot.heel_diagonal_cm,
        "Ankle": foot.ankle_circumference_cm,
        "Round the leg": foot.leg_circumference_cm,
    }
    return {
        **{name: both_units(cm) if cm else "" for name, cm in measured.items()},
        "Other foot": ", ".join(both_units(cm) for cm in request.other_foot.given().values() if cm),
        "Gauge, stitches": per_10cm(gauge.stitches_per_10cm),
        "Construction": construction_words(request.construction),
        "Heel flap": flap_words(request.construction),
        "Sole": sole_words(request.construction),
        "Cast-on of the toe": toe_start_words(request.construction),
        "Short rows": short_row_words(request.construction),
        "Ribbing": request.cuff.in_words,
        "Cuff length": both_units(request.cuff.length_cm),
        "Leg length": both_units(request.leg.length_cm),
        "Top of the foot": request.foot_pattern,
        "Yarn": ", ".join(yarn.name for yarn in request.yarns),
        **{f"Yarn of the {part}": key or request.yarns[0].key for part, key in request.parts},
        "Reinforcing thread": " and ".join(request.reinforcing_thread.parts),
        "Needles": f"{request.needles.arrangement}, {both_needle_sizes(request.needles.size_mm)}",
    }


def changes_asked(before: Plan, after: Plan, sums: tuple[str, str]) -> list[Change]:
    """What is different, in what was asked for first and then in the counts and sizes.

    `sums` say where the two values of an entry that was asked for come from.
    """
    old, new = _entries(before.request), _entries(after.request)
    asked = [
        Change(what=name, before=old[name] or "none", after=new[name] or "none", sums=sums)
        for name in new
        if old[name] != new[name]
    ]
    for what, entry in (("Chart", "chart"), ("Stitch pattern", "stitch_pattern")):
        if getattr(before.request.leg, entry) != getattr(after.request.leg, entry):
            asked.append(Change(what=what, before="as in your plan", after="another, or none", sums=sums))
    return [*asked, *changes_between(before, after, before.sizes, after.sizes)]
