"""A size grid: what one design becomes on feet of several sizes at several gauges, all made by the planner."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ..construction.constructions import beside_the_heel, built
from ..construction.planner import make_plan
from ..construction.sections.foot import FOOT
from ..faults import CannotKnitError
from ..plan.document import Plan, Section
from ..request.foot import Foot
from ..request.plan_request import ROUNDS_PER_STITCH, Gauge, PlanRequest
from ..request.size_range import LENGTH_TO_BALL, over
from ..units import WEIGHTS, YARN_LENGTHS, Unit, show_number, show_weight, show_yarn_length
from ..yarn.requirement import metres_of_the_pair
from .tables import Group, Table

NOT_KNITTED = "–"


@dataclass(frozen=True)
class Cell:
    """One foot at one gauge: its plan, or in short why there is none."""

    plan: Plan | None
    why: str = ""


@dataclass(frozen=True)
class Grid:
    """Cells by circumference of the ball (cm) and by gauge, each row a foot and each column a gauge."""

    design: PlanRequest
    feet: tuple[Foot, ...]
    gauges: tuple[Gauge, ...]
    cells: tuple[tuple[Cell, ...], ...]


def cell_for(design: PlanRequest, foot: Foot, gauge: Gauge) -> Cell:
    """The design's plan for a foot at a gauge, or why it cannot be knitted."""
    try:
        request = PlanRequest.model_validate({**dict(design), "foot": foot, "other_foot": {}, "gauge": gauge})
        return Cell(make_plan(request))
    except CannotKnitError as error:
        few = error.fault.where == "gauge.stitches_per_10cm"
        return Cell(None, "too few stitches" if few else "does not make a sock")


def grid_of(design: PlanRequest, feet: Sequence[Foot], gauges: Sequence[Gauge]) -> Grid:
    """The design on every foot at every gauge; its own foot and gauge are not looked at."""
    cells = tuple(tuple(cell_for(design, foot, gauge) for gauge in gauges) for foot in feet)
    return Grid(design, tuple(feet), tuple(gauges), cells)


@dataclass(frozen=True)
class Measure:
    """Something to read off a plan; None where a sock has no such thing."""

    title: str
    read: Callable[[Plan], str | None]


def _repeats(plan: Plan) -> str | None:
    """Whole repeats of a stitch pattern that goes all round the leg."""
    pattern = plan.request.leg.stitch_pattern
    if pattern is None or pattern.placement or pattern.width == 1:
        return None
    return str(plan.sizes.leg_stitches // pattern.width)


def _rows_of_the_flap(plan: Plan) -> str | None:
    flaps = (section.count for section, part in built(plan) if part.flap and not part.widest_before)
    return str(sum(flaps) or "") or None


def _between_heel_and_toe(plan: Plan) -> str | None:
    beside = beside_the_heel(plan.request.construction).on_foot
    return str(sum(section.count for section, part in built(plan) if part is FOOT or part.key in beside) or "") or None


def _gusset(plan: Plan) -> list[Section]:
    return [section for section, part in built(plan) if part.of == "gusset"]


def _widest(plan: Plan) -> str | None:
    """Stitches at the widest of a gusset."""
    found = [item.after for section in _gusset(plan) for item in section.rounds()]
    return str(max(found)) if found else None


def _high(plan: Plan, unit: Unit) -> str | None:
    """Height of a gusset."""
    found = [section.length_cm for section in _gusset(plan)]
    return show_number(sum(found), unit) if found else None


def _yarn_length(number: int, unit: Unit) -> Callable[[Plan], str]:
    return lambda plan: show_yarn_length(metres_of_the_pair(plan, number), unit)


def _weight(number: int, unit: Unit) -> Callable[[Plan], str]:
    return lambda plan: show_weight(plan.yarn[number].grams_a_pair, unit, 0)


def _thread(plan: Plan, unit: Unit) -> str | None:
    """Reinforcing thread of the pair."""
    need = plan.reinforcing_thread
    return show_yarn_length(need.metres_a_pair, unit) if need else None


def _over_the_heel(plan: Plan) -> str:
    return plan.fit[0].verdict


def _measures(design: PlanRequest, unit: Unit) -> list[Measure]:
    begun = "cast on, for the toe" if design.construction.direction == "toe-up" else "cast on"
    found = [
        Measure(f"Stitches to {begun}", lambda plan: str(plan.rounds()[0].after)),
        Measure("Stitches round the leg", lambda plan: str(plan.sizes.leg_stitches)),
        Measure("Repeats of the stitch pattern round the leg", _repeats),
        Measure("Stitches round the foot", lambda plan: str(plan.sizes.foot_stitches)),
        Measure("Rows of the heel flap", _rows_of_the_flap),
        Measure("Stitches at the widest of the gusset", _widest),
        Measure(f"Length of the gusset, {unit}", lambda plan: _high(plan, unit)),
        Measure("Rounds between heel and toe", _between_heel_and_toe),
        Measure(f"Finished sock round the leg, {unit}", lambda plan: show_number(plan.sizes.leg_cm, unit)),
        Measure(
            f"Finished sock round the foot, {unit}", lambda plan: show_number(plan.sizes.foot_circumference_cm, unit)
        ),
        Measure(f"Finished sock from heel to toe, {unit}", lambda plan: show_number(plan.sizes.foot_length_cm, unit)),
    ]
    for number, yarn in enumerate(design.yarns):
        named = f"Yarn {yarn.key} for the pair" if len(design.yarns) > 1 else "Yarn for the pair"
        found.append(Measure(f"{named}, {YARN_LENGTHS[unit]}", _yarn_length(number, unit)))
        found.append(Measure(f"{named}, {WEIGHTS[unit]} with a tenth in hand", _weight(number, unit)))
    thread = f"Reinforcing thread for the pair, {YARN_LENGTHS[unit]}"
    found.append(Measure(thread, lambda plan: _thread(plan, unit)))
    return [*found, Measure("Over the heel", _over_the_heel)]


def figures_of(plan: Plan, unit: Unit) -> list[tuple[str, str]]:
    """What a grid says of one plan: each measure that its sock has, with its value."""
    read = ((measure.title, measure.read(plan)) for measure in _measures(plan.request, unit))
    return [(title, value) for title, value in read if value]


def _group(grid: Grid, measure: Measure, unit: Unit, *, reasons: bool) -> Group | None:
    """The rows of one measure; None when no sock has it. Why a cell is empty is said where `reasons` are wanted."""
    read = [[measure.read(cell.plan) if cell.plan else None for cell in row] for row in grid.cells]
    if not reasons and not any(any(row) for row in read):
        return None
    rows = []
    for foot, cells, values in zip(grid.feet, grid.cells, read, strict=True):
        cells_shown = [
            value or (cell.why if reasons else "") or NOT_KNITTED for cell, value in zip(cells, values, strict=True)
        ]
        rows.append((show_number(foot.ball_circumference_cm, unit), show_number(foot.length_cm, unit), *cells_shown))
    return Group(measure.title, tuple(rows))


def gauge_words(gauge: Gauge, unit: Unit) -> str:
    """Stitches and rounds over 10 cm or 4 in, with a multiplication sign between them."""
    factor = over(unit).cm / 10
    rounds = gauge.rounds_per_10cm or gauge.stitches_per_10cm * ROUNDS_PER_STITCH
    return f"{round(gauge.stitches_per_10cm * factor, 1):g} × {round(rounds * factor, 1):g}"


def table_of(grid: Grid, unit: Unit) -> Table:
    """The grid as a table: a group of rows for each measure, a row for each foot, a column for each gauge."""
    measures = _measures(grid.design, unit)
    groups = [_group(grid, measure, unit, reasons=number < 2) for number, measure in enumerate(measures)]
    begun, leg, *others = (group for group in groups if group)
    if begun.rows == leg.rows:
        others = [Group(f"{begun.title} and round the leg", begun.rows), *others]
    else:
        others = [begun, leg, *others]
    notes = [
        f"Where no other length is given, a foot is taken to be {LENGTH_TO_BALL:g} times as long as round, as the "
        "middle one of 6,068 measured adult feet is. Heel and ankle are estimated. Measure the foot that "
        "is to wear the sock."
    ]
    if any(NOT_KNITTED in row for group in others for row in group.rows):
        notes.append(f"{NOT_KNITTED} means that there is none.")
    return Table(
        caption=f"{grid.design.title}: sizes by foot and gauge (stitches × rounds over {over(unit).words})",
        columns=(
            f"Round the ball, {unit}",
            f"Foot length, {unit}",
            *(gauge_words(gauge, unit) for gauge in grid.gauges),
        ),
        groups=tuple(others),
        notes=tuple(notes),
    )
