"""Which sections make a sock, in which order."""

from __future__ import annotations

from .request import Construction
from .sections.base import Part
from .sections.cuff import CUFF
from .sections.foot import FOOT
from .sections.gusset import GUSSET
from .sections.heel_flap import HEEL_FLAP
from .sections.heel_turn import HEEL_TURN
from .sections.leg import LEG
from .sections.toe import TOE

PARTS: dict[tuple[str, str, str], tuple[Part, ...]] = {
    ("cuff-down", "flap", "wedge"): (CUFF, LEG, HEEL_FLAP, HEEL_TURN, GUSSET, FOOT, TOE),
}


def parts_of(construction: Construction) -> tuple[Part, ...]:
    """The section builders of a construction, in the order in which they are knitted."""
    return PARTS[construction.direction, construction.heel, construction.toe]
