"""Which sections make a sock, in which order."""

from __future__ import annotations

from dataclasses import dataclass

from .request import Construction
from .sections import round_toe, short_row_heel, short_row_toe, toe_up_heel, wedge_toe
from .sections.afterthought_heel import AFTERTHOUGHT_HEEL, HEEL_OPENING, height_of_the_heel
from .sections.base import Beyond, Part
from .sections.cuff import CUFF
from .sections.foot import FOOT
from .sections.gusset import GUSSET, GUSSET_AFTER_SHORT_ROWS, GUSSET_TOWARDS_THE_LEG
from .sections.heel_flap import HEEL_FLAP
from .sections.heel_turn import HEEL_TURN
from .sections.leg import LEG
from .sections.short_row_heel import GUSSET_BEFORE_SHORT_ROWS, SHORT_ROW_HEEL
from .sections.toe_up_cuff import TOE_UP_CUFF
from .sections.toe_up_heel import TOE_UP_FLAP, TOE_UP_GUSSET, TOE_UP_TURN
from .sections.toe_up_toes import TOE_UP_ROUND, TOE_UP_SHORT_ROW, TOE_UP_WEDGE


@dataclass(frozen=True)
class Heel:
    """A heel: its parts between leg and foot, those worked last, and from the toe up the foot's rounds it takes."""

    parts: tuple[Part, ...]
    last: tuple[Part, ...] = ()
    beyond: Beyond | None = None


@dataclass(frozen=True)
class Toe:
    """A toe: its part, and from the cuff down the foot's rounds that it takes."""

    part: Part
    beyond: Beyond | None = None


CUFF_DOWN_HEELS = {
    "flap": Heel((HEEL_FLAP, HEEL_TURN, GUSSET)),
    "short-row": Heel((SHORT_ROW_HEEL,)),
    "short-row with gusset": Heel((GUSSET_BEFORE_SHORT_ROWS, SHORT_ROW_HEEL, GUSSET_AFTER_SHORT_ROWS)),
    "afterthought": Heel((HEEL_OPENING,), last=(AFTERTHOUGHT_HEEL,)),
}
CUFF_DOWN_TOES = {
    "wedge": Toe(wedge_toe.WEDGE_TOE, wedge_toe.height),
    "short-row": Toe(short_row_toe.SHORT_ROW_TOE, short_row_toe.height),
    "round": Toe(round_toe.ROUND_TOE, round_toe.height),
}
TOE_UP_HEELS = {
    "flap": Heel((TOE_UP_GUSSET, TOE_UP_TURN, TOE_UP_FLAP), beyond=toe_up_heel.height),
    "short-row": Heel((SHORT_ROW_HEEL,), beyond=short_row_heel.height_above_the_foot),
    "short-row with gusset": Heel(
        (GUSSET_BEFORE_SHORT_ROWS, SHORT_ROW_HEEL, GUSSET_TOWARDS_THE_LEG), beyond=short_row_heel.height_with_gusset
    ),
    "afterthought": Heel((HEEL_OPENING,), last=(AFTERTHOUGHT_HEEL,), beyond=height_of_the_heel),
}
TOE_UP_TOES = {"wedge": Toe(TOE_UP_WEDGE), "short-row": Toe(TOE_UP_SHORT_ROW), "round": Toe(TOE_UP_ROUND)}


def parts_of(construction: Construction) -> tuple[Part, ...]:
    """The section builders of a construction, in the order in which they are knitted."""
    if construction.direction == "toe-up":
        heel = TOE_UP_HEELS[construction.heel]
        return (TOE_UP_TOES[construction.toe].part, FOOT, *heel.parts, LEG, TOE_UP_CUFF, *heel.last)
    heel = CUFF_DOWN_HEELS[construction.heel]
    return (CUFF, LEG, *heel.parts, FOOT, CUFF_DOWN_TOES[construction.toe].part, *heel.last)


def beyond_of(construction: Construction) -> Beyond:
    """How many rounds of the foot lie beyond its plain part."""
    if construction.direction == "toe-up":
        beyond = TOE_UP_HEELS[construction.heel].beyond
    else:
        beyond = CUFF_DOWN_TOES[construction.toe].beyond
    assert beyond is not None
    return beyond
