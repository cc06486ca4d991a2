"""What is different between two plans for the same sock, in words and numbers."""

from __future__ import annotations

from collections.abc import Iterator

from .document import Plan, Section, Sizes, Value
from .units import both_units


class Change(Value):
    """One number of the plan before and after."""

    what: str
    before: str
    after: str


def _section_rows(section: Section) -> str:
    count = len(section.rounds())
    return f"{count} {'rows' if section.flat else 'rounds'}"


def _shaping(section: Section) -> str:
    count = sum(item.kind in ("increase", "decrease") for item in section.rounds())
    return f"{count} shaping rounds"


def _facts(plan: Plan, sizes: Sizes) -> Iterator[tuple[str, str]]:
    yield "Needle", f"{plan.request.needles.size_mm:g} mm"
    yield "Leg stitches", f"{sizes.leg_stitches}"
    yield "Foot stitches", f"{sizes.foot_stitches}"
    for section in plan.sections:
        yield section.title, _section_rows(section)
        if section.key in ("gusset", "toe"):
            yield f"{section.title} shaping", _shaping(section)
    yield "Round the leg", both_units(sizes.leg_cm)
    yield "Round the foot", both_units(sizes.foot_circumference_cm)
    yield "Foot, heel to toe", both_units(sizes.foot_length_cm)
    for need in plan.yarn:
        yield f"Yarn {need.key} for the pair", f"{need.grams_a_pair:.0f} g"


def changes_between(before: Plan, after: Plan, before_sizes: Sizes, after_sizes: Sizes) -> tuple[Change, ...]:
    """Every fact that differs; `before_sizes` are the old plan's sizes at the gauge of the new one."""
    old = dict(_facts(before, before_sizes))
    return tuple(
        Change(what=what, before=old[what], after=value)
        for what, value in _facts(after, after_sizes)
        if old.get(what, value) != value
    )
