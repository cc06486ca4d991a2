"""What a colour chart asks of the hands: which yarns a round carries, and where they lie behind the fabric."""

from __future__ import annotations

from dataclasses import dataclass

from ..fit.targets import Fabric
from ..request.plan_request import Chart, PlanRequest

LONGEST_FLOAT_STITCHES = 5
LONGEST_FLOAT_CM = 2.5
"""A yarn that lies behind more stitches than this, or further than this, catches toes (common practice)."""


@dataclass(frozen=True)
class Float:
    """A yarn that lies behind so many stitches of a row (counted from 1)."""

    row: int
    yarn: str
    stitches: int


def worked(row: str) -> str:
    """A row of the chart in the order in which it is knitted: from its right end."""
    return row[::-1]


def yarns_of(row: str) -> str:
    """The yarns of a row, each once, in the order in which they are taken up."""
    return "".join(dict.fromkeys(worked(row)))


def floats_of(row: str) -> dict[str, int]:
    """The most stitches that each yarn of a row lies behind, across the join of the repeat too."""
    around = row + row
    return {yarn: max(map(len, around[around.index(yarn) :].split(yarn)[:-1])) for yarn in yarns_of(row)}


def long_floats(chart: Chart, fabric: Fabric) -> tuple[Float, ...]:
    """The floats of a chart that should be caught on their way."""
    return tuple(
        Float(number, yarn, stitches)
        for number, row in enumerate(chart.rows, start=1)
        for yarn, stitches in floats_of(row).items()
        if stitches > LONGEST_FLOAT_STITCHES or fabric.width(stitches) > LONGEST_FLOAT_CM
    )


def swapped(chart: Chart) -> Chart:
    """The chart of the second sock, which exchanges yarns A and B."""
    return chart.model_copy(update={"rows": tuple(row.translate(EXCHANGE) for row in chart.rows)})


EXCHANGE = str.maketrans("AB", "BA")


def swaps(request: PlanRequest) -> bool:
    """Whether the second sock exchanges yarns A and B."""
    return request.leg.chart is not None and request.leg.chart.swap
