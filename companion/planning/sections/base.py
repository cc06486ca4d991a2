"""What every section builder is given, and what it gives back."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal, TypeAlias

from ..choices import Counts
from ..document import Round
from ..fit import Fabric, Fit, nearest
from ..request import PlanRequest
from ..work import fabric_rounds

Beyond: TypeAlias = Callable[["Aim", int, int], int]
"""Rounds of the foot that lie beyond its plain part, over so many sole and instep stitches."""


@dataclass(frozen=True)
class Aim:
    """What the rest of the sock is to become; `leg_rounds` is the length of the leg."""

    fit: Fit
    counts: Counts
    request: PlanRequest
    beyond: Beyond
    leg_rounds: int

    @property
    def fabric(self) -> Fabric:
        """The gauge that the rest is worked out with."""
        return self.fit.fabric

    @property
    def foot_rounds(self) -> int:
        """Rounds from the back of the heel to the tip of the toe."""
        return nearest(self.fit.length_target * self.fabric.rounds)

    @property
    def toe_rounds(self) -> float:
        """Rounds that the toe should have; not yet a whole number."""
        return self.fit.toe_target * self.fabric.rounds

    def beyond_the_foot(self, sole: int, instep: int) -> int:
        """Rounds of the foot still to come after its plain part: the toe, or from the toe up gusset and heel."""
        return self.beyond(self, sole, instep)


@dataclass(frozen=True)
class Progress:
    """What a section needs to know of the ones before it.

    `live` stitches are on the needles, `foot_rounds` lie between the back of the heel and the needles,
    `heel_pass_cm` is the way round the heel that the foot goes through, and `pieces` are counts that a section
    leaves for later ones: "leg" and "foot" are the stitches of these tubes, others are the heel's own.
    """

    live: int = 0
    foot_rounds: int = 0
    heel_pass_cm: float = 0.0
    pieces: Mapping[str, int] = field(default_factory=dict)
    warnings: tuple[str, ...] = ()

    def after(self, rounds: tuple[Round, ...], *, on_foot: bool = False, **pieces: int) -> Progress:
        """The progress when these rounds have been knitted as well; `on_foot` when they lengthen the foot."""
        return replace(
            self,
            live=rounds[-1].after if rounds else self.live,
            foot_rounds=self.foot_rounds + (fabric_rounds(rounds) if on_foot else 0),
            pieces={**self.pieces, **pieces},
        )

    def warn(self, sentence: str) -> Progress:
        """The progress with one more warning for the knitter."""
        return replace(self, warnings=(*self.warnings, sentence))


@dataclass(frozen=True)
class Knitted:
    """The rounds of a section that are already on the needles; `closed` when a later section has begun."""

    rounds: tuple[Round, ...] = ()
    closed: bool = False


Built: TypeAlias = tuple[tuple[Round, ...], Progress]
Build: TypeAlias = Callable[[Aim, Progress, Knitted], Built]


@dataclass(frozen=True)
class Part:
    """A section of a construction: its key, its title on paper and screen, and how it is built.

    For a recalculation: `tube` is the tube whose count can be changed in this section by one evenly spread round;
    `reopens` says that the section, just finished, can still go on; `back_to` is the section that ripping back for
    another heel would lead to, and `narrowed_in` the one that ripping back for another foot count would lead into.
    `holder` says that it puts stitches on a holder or takes them from it. An `optional` section may have no round.
    """

    key: str
    title: str
    flat: bool
    build: Build
    tube: Literal["leg", "foot"] | None = None
    reopens: bool = False
    holder: bool = False
    back_to: str = ""
    narrowed_in: str = ""
    optional: bool = False
