"""Which sections make a sock, in which order, and what each of them is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import takewhile
from typing import NamedTuple

from ..plan.document import PartOfSock, Plan, Section
from ..request.construction import HEEL_WORDS, TOE_WORDS, Construction
from .sections.base import Part, RoundsAfterFoot, Tube
from .sections.cuff import CUFF, TOE_UP_CUFF
from .sections.foot import FOOT
from .sections.heels import short_row_heel, strong_heel, toe_up_heel
from .sections.heels.afterthought_heel import AFTERTHOUGHT_HEEL, HEEL_OPENING, height_of_the_heel
from .sections.heels.gusset import GUSSET, GUSSET_AFTER_SHORT_ROWS, GUSSET_TOWARDS_THE_LEG
from .sections.heels.heel_flap import HEEL_FLAP
from .sections.heels.heel_turn import HEEL_TURN
from .sections.heels.short_row_heel import GUSSET_BEFORE_SHORT_ROWS, SHORT_ROW_HEEL
from .sections.heels.strong_heel import STRONG_CUFF_DOWN, STRONG_TOE_UP
from .sections.heels.toe_up_heel import TOE_UP_FLAP, TOE_UP_GUSSET, TOE_UP_TURN
from .sections.leg import LEG
from .sections.toes import round_toe, short_row_toe, wedge_toe
from .sections.toes.toe_up_toes import (
    TOE_UP_LEFT,
    TOE_UP_RIGHT,
    TOE_UP_ROUND,
    TOE_UP_SHORT_ROW,
    TOE_UP_STAR,
    TOE_UP_WEDGE,
)


class HeelParts(NamedTuple):
    """The parts of a heel in the order of knitting: those between leg and foot, and those worked last."""

    between: tuple[Part, ...]
    last: tuple[Part, ...] = ()


@dataclass(frozen=True)
class Heel:
    """A heel: its name in a sentence, when it suits, and its parts in each direction.

    `rounds_after_foot` are the rounds of the foot that it takes from the toe up, with its gusset. `more_room` is what
    helps where a sock with it does not go on over the foot's heel (common practice, as is when it suits).
    """

    name: str
    suits: str
    more_room: str
    cuff_down: HeelParts
    toe_up: HeelParts
    rounds_after_foot: RoundsAfterFoot

    def parts(self, construction: Construction) -> HeelParts:
        """Its parts in the direction of a construction."""
        return self.toe_up if construction.direction == "toe-up" else self.cuff_down

    def every_part(self) -> tuple[Part, ...]:
        """Its parts in both directions."""
        return (*self.cuff_down.between, *self.cuff_down.last, *self.toe_up.between, *self.toe_up.last)

    def follows(self, entry: str) -> frozenset[str]:
        """The directions in which it follows an entry of the construction."""
        ways = {"cuff-down": self.cuff_down, "toe-up": self.toe_up}
        return frozenset(
            way for way, parts in ways.items() if any(entry in part.follows for part in (*parts.between, *parts.last))
        )


@dataclass(frozen=True)
class Toe:
    """A toe: its name in a sentence, when it suits, and its part in each direction.

    `rounds_after_foot` are the rounds of the foot that it takes from the cuff down.
    """

    name: str
    suits: str
    cuff_down: Part
    toe_up: Part
    rounds_after_foot: RoundsAfterFoot

    def follows(self, entry: str) -> frozenset[str]:
        """The directions in which it follows an entry of the construction."""
        ways = {"cuff-down": self.cuff_down, "toe-up": self.toe_up}
        return frozenset(way for way, part in ways.items() if entry in part.follows)


GUSSET_FITS = "A heel with a gusset has more room."

HEELS: dict[str, Heel] = {
    "flap": Heel(
        "heel flap",
        "With a gusset: roomy on a high instep, and it wears well.",
        more_room="Measure the heel diagonal again.",
        cuff_down=HeelParts((HEEL_FLAP, HEEL_TURN, GUSSET)),
        toe_up=HeelParts((TOE_UP_GUSSET, TOE_UP_TURN, TOE_UP_FLAP)),
        rounds_after_foot=toe_up_heel.height,
    ),
    "short-row": Heel(
        "short-row heel",
        "Sits close and is quick, with nothing to pick up; tight on a high instep.",
        more_room=GUSSET_FITS,
        cuff_down=HeelParts((SHORT_ROW_HEEL,)),
        toe_up=HeelParts((SHORT_ROW_HEEL,)),
        rounds_after_foot=short_row_heel.height_above_the_foot,
    ),
    "short-row with gusset": Heel(
        "short-row heel with gusset",
        "The same turn, with room for a high instep.",
        more_room="Measure the heel diagonal again, or take a heel flap.",
        cuff_down=HeelParts((GUSSET_BEFORE_SHORT_ROWS, SHORT_ROW_HEEL, GUSSET_AFTER_SHORT_ROWS)),
        toe_up=HeelParts((GUSSET_BEFORE_SHORT_ROWS, SHORT_ROW_HEEL, GUSSET_TOWARDS_THE_LEG)),
        rounds_after_foot=short_row_heel.height_with_gusset,
    ),
    "afterthought": Heel(
        "afterthought heel",
        "Knitted last: stripes run on unbroken, and a worn heel is easily knitted again.",
        more_room=GUSSET_FITS,
        cuff_down=HeelParts((HEEL_OPENING,), last=(AFTERTHOUGHT_HEEL,)),
        toe_up=HeelParts((HEEL_OPENING,), last=(AFTERTHOUGHT_HEEL,)),
        rounds_after_foot=height_of_the_heel,
    ),
    "strong": Heel(
        "strong heel",
        "The gusset grows beside the heel and the turn takes it up: roomy, with nothing to pick up.",
        more_room="Measure the heel diagonal again.",
        cuff_down=HeelParts(STRONG_CUFF_DOWN),
        toe_up=HeelParts(STRONG_TOE_UP),
        rounds_after_foot=strong_heel.height,
    ),
}
"""The heels by the words that a request asks for them with. A new one is an entry here, and nothing elsewhere."""

TOES: dict[str, Toe] = {
    "wedge": Toe(
        "wedge toe",
        "Narrows at both sides; suits most feet.",
        cuff_down=wedge_toe.WEDGE_TOE,
        toe_up=TOE_UP_WEDGE,
        rounds_after_foot=wedge_toe.WEDGE.height,
    ),
    "short-row": Toe(
        "short-row toe",
        "A broad tip; goes with a short-row heel.",
        cuff_down=short_row_toe.SHORT_ROW_TOE,
        toe_up=TOE_UP_SHORT_ROW,
        rounds_after_foot=short_row_toe.height,
    ),
    "round": Toe(
        "round toe",
        "Narrows evenly all round to a small tip, for pointed toes.",
        cuff_down=round_toe.ROUND_TOE,
        toe_up=TOE_UP_ROUND,
        rounds_after_foot=round_toe.ROUND.height,
    ),
    "star": Toe(
        "star toe",
        "Four lines of decreases meet in a point; for longer middle toes, with nothing to graft.",
        cuff_down=round_toe.STAR_TOE,
        toe_up=TOE_UP_STAR,
        rounds_after_foot=round_toe.STAR.height,
    ),
    "left foot": Toe(
        "toe shaped to the left foot",
        "Straight along the big toe, slanted along the others; sock two is for the right foot.",
        cuff_down=wedge_toe.LEFT_TOE,
        toe_up=TOE_UP_LEFT,
        rounds_after_foot=wedge_toe.LEFT.height,
    ),
    "right foot": Toe(
        "toe shaped to the right foot",
        "The same, with the right sock knitted first.",
        cuff_down=wedge_toe.RIGHT_TOE,
        toe_up=TOE_UP_RIGHT,
        rounds_after_foot=wedge_toe.RIGHT.height,
    ),
}
"""The toes by the words that a request asks for them with."""

HEEL_WORDS.words = HEELS
TOE_WORDS.words = TOES

TUBES: Mapping[Tube, Part] = {"leg": LEG, "foot": FOOT}
"""The parts that every sock has between its heel and its ends."""


def heel_of(construction: Construction) -> HeelParts:
    """The parts of the heel of a construction."""
    return HEELS[construction.heel].parts(construction)


def parts_of(construction: Construction) -> tuple[Part, ...]:
    """The parts of a construction, in the order in which they are knitted."""
    heel, toe = heel_of(construction), TOES[construction.toe]
    if construction.direction == "toe-up":
        return (toe.toe_up, FOOT, *heel.between, LEG, TOE_UP_CUFF, *heel.last)
    return (CUFF, LEG, *heel.between, FOOT, toe.cuff_down, *heel.last)


def rounds_after_foot_of(construction: Construction) -> RoundsAfterFoot:
    """How many rounds of the foot come after its plain part."""
    if construction.direction == "toe-up":
        return HEELS[construction.heel].rounds_after_foot
    return TOES[construction.toe].rounds_after_foot


def built(plan: Plan) -> Iterator[tuple[Section, Part]]:
    """Each section of a plan, with the part that it is."""
    parts = {part.key: part for part in parts_of(plan.request.construction)}
    for section in plan.sections:
        yield section, parts[section.key]


def depth_of(construction: Construction) -> Part | None:
    """The part that makes the heel as deep as the foot asks for; None where the heel's stitches alone decide."""
    return next((part for part in parts_of(construction) if part.deepens), None)


class Beside(NamedTuple):
    """The keys of the parts between leg and heel, and of those between heel and foot."""

    on_leg: frozenset[str]
    on_foot: frozenset[str]


def beside_the_heel(construction: Construction) -> Beside:
    """What a heel has on either side of where it turns."""
    down = heel_of(construction).between
    if construction.direction == "toe-up":
        down = down[::-1]
    on_leg, on_foot = (takewhile(lambda part: not part.turns, way) for way in (down, down[::-1]))
    return Beside(frozenset(part.key for part in on_leg), frozenset(part.key for part in on_foot))


def parts_by_key() -> dict[str, PartOfSock]:
    """The part of the sock that each section belongs to, by the section's key, in all constructions."""
    heels = [part for heel in HEELS.values() for part in heel.every_part()]
    toes = [part for toe in TOES.values() for part in (toe.cuff_down, toe.toe_up)]
    return {part.key: part.of for part in (CUFF, LEG, *heels, FOOT, *toes)}
