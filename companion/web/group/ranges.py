"""The feet and gauges that a leader asks for in the address of a size grid or a graded pattern."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from flask import request

from ...forms.base import refusal
from ...planning import Fault
from ...planning.request.foot import Foot
from ...planning.request.plan_request import Gauge
from ...planning.request.size_range import (
    CIRCUMFERENCES,
    GAUGES,
    MOST_FEET,
    MOST_SIZES,
    read_feet,
    read_gauges,
    typed_list,
)
from ...planning.units import Unit
from ..request_args import unit_asked

LONGEST = 300
"""Characters of a typed list; twenty numbers take less."""

MOST_CELLS = 60
"""Feet times gauges of one grid: as many plans, which others wait for (ours)."""

FEW_SIZES: dict[Unit, tuple[str, ...]] = {"cm": ("20", "22", "24", "26"), "in": ("8", "8 1/2", "9 1/2", "10")}
"""Four sizes of grown feet, for a graded pattern until others are asked for (ours)."""


LABELS = {"circumferences": "Round the ball", "lengths": "Foot length", "gauges": "Gauge"}
"""What the form calls them."""


@dataclass(frozen=True)
class Ranges:
    """What was asked for: as typed, to be shown again, and as read. With faults the usual ranges take its place."""

    unit: Unit
    typed: dict[str, str]
    feet: tuple[Foot, ...]
    gauges: tuple[Gauge, ...]
    faults: list[str]


def _asked(name: str, usual: Sequence[str]) -> tuple[str, ...]:
    return typed_list(request.args.get(name, "")[:LONGEST]) or tuple(usual)


def _describe_fault(fault: Fault) -> str:
    return f"{LABELS[fault.where]}: {refusal(fault.given, fault.message)}"


def ranges_asked(*, few: bool) -> Ranges:
    """The ranges in the address: `few` sizes at one gauge for a pattern, or many at several for a grid."""
    unit = unit_asked("cm")
    sizes, gauges = (FEW_SIZES[unit], ("30",)) if few else (CIRCUMFERENCES[unit], GAUGES)
    asked = {
        "circumferences": _asked("circumferences", sizes),
        "lengths": _asked("lengths", ()),
        "gauges": _asked("gauges", gauges)[: 1 if few else None],
    }
    most = MOST_SIZES if few else MOST_FEET
    feet, feet_faults = read_feet(asked["circumferences"], asked["lengths"], unit, most)
    found, gauge_faults = read_gauges(asked["gauges"], unit)
    faults = [_describe_fault(fault) for fault in (*feet_faults, *gauge_faults)]
    if len(feet) * len(found) > MOST_CELLS:
        faults.append(
            f"These are {len(feet)} feet by {len(found)} gauges. At most {MOST_CELLS} sizes are allowed in one grid. "
            "Ask for a part of them at a time."
        )
    if faults:
        feet, _ = read_feet(sizes, (), unit)
        found, _ = read_gauges(gauges, unit)
    return Ranges(unit, {name: ", ".join(words) for name, words in asked.items()}, feet, found, faults)
