"""What a builder of a section takes, and what it returns."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal, TypeAlias

from ...fabric.own_yarn import OwnYarn
from ...fit.halves import front_of
from ...fit.stitch_counts import Counts
from ...fit.targets import Fabric, Fit, nearest
from ...plan.document import PartOfSock, Round
from ...plan.rounds import fabric_rounds
from ...request.plan_request import PlanRequest

Tube: TypeAlias = Literal["leg", "foot"]
"""The two parts that have a stitch count of their own."""

RoundsAfterFoot: TypeAlias = Callable[["Aim", int, int], int]
"""Rounds of the foot that come after its plain part, over so many sole and instep stitches."""


@dataclass(frozen=True)
class Aim:
    """What the rest of the sock is to become; `leg_rounds` is the length of the leg.

    `longer_cm` is by how much the knitted part of the foot is longer than its rounds are at this gauge.
    """

    fit: Fit
    counts: Counts
    request: PlanRequest
    after_foot: RoundsAfterFoot
    leg_rounds: int
    longer_cm: float = 0.0

    @property
    def fabric(self) -> Fabric:
        """The gauge that the rest is calculated with."""
        return self.fit.fabric

    @property
    def front(self) -> int:
        """Stitches of the leg above the instep: half of them from the toe up, else what the heel leaves."""
        return front_of(self.counts.leg, self.request)

    def front_over(self, stitches: int) -> int:
        """Stitches of the front where the leg has so many; one that is shaped has the same all along."""
        return self.front if self.counts.top != self.counts.leg else front_of(stitches, self.request)

    @property
    def plain_before_toe(self) -> int:
        """Rounds of the foot next to the toe that are not in the pattern of the leg."""
        pattern = self.request.leg.stitch_pattern
        return nearest(pattern.ends_before_toe_cm * self.fabric.rounds) if pattern else 0

    @property
    def foot_rounds(self) -> int:
        """Rounds from the back of the heel to the tip of the toe."""
        return nearest((self.fit.length_target - self.longer_cm) * self.fabric.rounds)

    def foot_cm(self, rounds: int) -> float:
        """How long the foot is after so many rounds of it, what is knitted at its own gauge."""
        return self.fabric.height(rounds) + self.longer_cm

    @property
    def toe_rounds(self) -> float:
        """Rounds that the toe should have; not yet a whole number."""
        return self.fit.toe_target * self.fabric.rounds

    def rounds_after_foot(self, sole: int, instep: int) -> int:
        """Rounds of the foot still to come after its plain part: the toe, or from the toe up gusset and heel."""
        return self.after_foot(self, sole, instep)


@dataclass(frozen=True)
class Progress:
    """What a section needs to know of the ones before it.

    `live` stitches are on the needles, `foot_rounds` lie between the back of the heel and the needles,
    `heel_pass_cm` is the way round the heel that the foot goes through, and `counts` are counts that a section
    leaves for later ones: "leg" and "foot" are the stitches of these tubes, others are the heel's own. `to_mind` is
    what a section leaves to be done in the first round of the next one. `pattern_row` is the round of the leg's pattern
    that was worked last, 0 before the first.
    """

    live: int = 0
    foot_rounds: int = 0
    heel_pass_cm: float = 0.0
    counts: Mapping[str, int] = field(default_factory=dict)
    warnings: tuple[str, ...] = ()
    to_mind: str = ""
    pattern_row: int = 0

    @property
    def leg(self) -> int:
        """Stitches of the leg above the heel."""
        return self.counts["leg"]

    @property
    def foot(self) -> int:
        """Stitches of the foot."""
        return self.counts["foot"]

    def after(self, rounds: tuple[Round, ...], *, on_foot: bool = False, **counts: int) -> Progress:
        """The progress when these rounds have been knitted as well; `on_foot` when they lengthen the foot."""
        return replace(
            self,
            live=rounds[-1].after if rounds else self.live,
            foot_rounds=self.foot_rounds + (fabric_rounds(rounds) if on_foot else 0),
            counts={**self.counts, **counts},
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


def _each_of_fabric(rounds: Sequence[Round]) -> Sequence[bool]:
    return [item.is_fabric for item in rounds]


def _nothing(_request: PlanRequest) -> float | None:
    return None


@dataclass(frozen=True)
class Part:
    """A section of a construction: its key, its title on paper and screen, what it is, and how it is built.

    `of` is the part of the sock that it belongs to, and is the same wherever the key is. A `flat` section is worked in
    rows. An `optional` one may have no round, and a `holder` puts stitches on a holder or takes them from it.
    `asked` is the length in cm that a request asks of it, and `follows` names what it follows of the construction.

    A part of cuff, heel or toe may have a yarn of its own. `passes` names the count of the stitches before it that its
    first row works on the way there, in the yarn that is at hand.

    Its fabric: it is `charted` when it carries the pattern of the leg, there always and elsewhere where the instep
    follows the leg; `countable` when it is fabric enough for a gauge check, that a change of gauge shapes again; and a
    `flap` when its rows lie along the way round the heel, down one side and up the other. Where it is `widest_before`,
    the foot's heel goes through the round before it. `adds_height` tells which of its rounds make it higher.

    For a recalculation: `tube` is the tube whose count can be changed in this section by one evenly spread round;
    `reopens` says that the section, just finished, can still go on; `deepens` that here the heel becomes as deep as
    the foot asks for; `narrows` that here the stitches come down to the count of the foot, so that ripping back for
    another count leads here; and `back_to` is the section that ripping back for another heel leads to.
    """

    key: str
    title: str
    of: PartOfSock
    build: Build
    flat: bool = False
    optional: bool = False
    holder: bool = False
    passes: str = ""
    asked: Callable[[PlanRequest], float | None] = _nothing
    follows: tuple[str, ...] = ()
    charted: bool = False
    countable: bool = False
    flap: bool = False
    widest_before: bool = False
    adds_height: Callable[[Sequence[Round]], Sequence[bool]] = _each_of_fabric
    tube: Tube | None = None
    reopens: bool = False
    deepens: bool = False
    narrows: bool = False
    back_to: str = ""

    def shows_the_pattern(self, request: PlanRequest) -> bool:
        """Whether it is knitted in the pattern of a request's leg."""
        there = self.of == "leg" or request.instep_follows
        return request.leg.pattern is not None and self.charted and there

    def own_yarn(self, request: PlanRequest) -> OwnYarn | None:
        """The yarn that a request gives it; None where that is the main one, which every other part has.

        The rounds of a charted part go on round leg and foot and stay in their yarn; its rows are the heel's own.
        """
        if self.charted and not self.flat:
            return None
        yarn = next((key for part, key in request.parts.given().items() if part == self.of), None)
        if yarn is None or yarn == request.yarns[0].key:
            return None
        return OwnYarn(yarn, self.of, rows_only=self.charted, between=self.turns)

    def holds_the_thread(self, request: PlanRequest, item: Round) -> bool:
        """Whether a round of it is knitted with the reinforcing thread; what is cast on or closed is not."""
        its_own = item.side != "round" or not self.charted
        return its_own and self.of in request.reinforcing_thread.parts and item.is_fabric

    @property
    def turns(self) -> bool:
        """Whether the sock goes round the heel here, where no straight tape can follow it."""
        return self.of == "heel"

    @property
    def straight(self) -> bool:
        """Whether it is a tube from its first round to its last."""
        return self.of in {"cuff", "leg", "foot"}
