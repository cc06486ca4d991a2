"""How much yarn a sock takes."""

from __future__ import annotations

import math
from collections.abc import Sequence

from .document import Round, YarnNeed
from .fit import Fabric
from .request import Yarn
from .work import all_ops, loops, uses

MUNDEN_WET_RELAXED = 21.6
"""ks of plain knitting after a wash: stitches per area = ks / (loop length squared).

D. L. Munden, J. Textile Inst. 50 (1959) T448; wet-relaxed value.
"""

IN_HAND = 1.10
"""Yarn to have for each metre that the model asks for (ours)."""

TAIL_CM = 15
"""A tail that can be woven in (common practice)."""

TIMES_THE_WIDTH = 3
"""Long-tail cast-on, bind-off and grafting take about three times their width (common practice)."""


def loop_length(fabric: Fabric) -> float:
    """Yarn in one stitch, in cm, from Munden's relation."""
    return math.sqrt(MUNDEN_WET_RELAXED / (fabric.stitches * fabric.rounds))


def metres(rounds: Sequence[Round], fabric: Fabric) -> float:
    """Metres of yarn in these rounds, with a tail at both ends."""
    drawn = sum(loops(all_ops(item)) for item in rounds)
    edges = sum(uses(all_ops(item), name) for item in rounds for name in ("co", "bo", "graft"))
    edge_cm = TIMES_THE_WIDTH * fabric.width(edges)
    return ((drawn - edges) * loop_length(fabric) + edge_cm + 2 * TAIL_CM) / 100


def yarn_needs(yarns: Sequence[Yarn], rounds: Sequence[Round], fabric: Fabric) -> tuple[YarnNeed, ...]:
    """What a pair takes of each yarn; the grams have a tenth in hand."""
    a_sock = metres(rounds, fabric)
    needs = []
    for yarn in yarns:
        grams = 2 * a_sock * IN_HAND / yarn.metres_per_100g * 100
        needs.append(
            YarnNeed(
                key=yarn.key,
                metres_a_sock=round(a_sock, 1),
                grams_a_pair=round(grams, 1),
                enough=grams <= yarn.grams,
            )
        )
    return tuple(needs)
