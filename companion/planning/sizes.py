"""The finished sock's sizes, from what its sections have left and a gauge."""

from __future__ import annotations

from .document import Sizes
from .fit import Fabric
from .sections.base import Progress


def sizes_of(finished: Progress, fabric: Fabric) -> Sizes:
    """Sizes in cm of a finished sock, unstretched, to a tenth of a millimetre."""
    leg, foot = finished.pieces["leg"], finished.pieces["foot"]
    return Sizes(
        leg_stitches=leg,
        foot_stitches=foot,
        leg_cm=round(fabric.width(leg), 2),
        foot_circumference_cm=round(fabric.width(foot), 2),
        foot_length_cm=round(fabric.height(finished.foot_rounds), 2),
        heel_pass_cm=round(finished.heel_pass_cm, 2),
    )
