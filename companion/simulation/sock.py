"""A sock on a simulated knitter's needles, and how it measures when it is finished."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from ..planning import Plan
from ..planning.construction.constructions import beside_the_heel, built
from ..planning.construction.sections.foot import FOOT
from ..planning.fit.targets import fit_of
from .hands import Fabric, Hands

LEAST_CM = 4.0
"""The least plain fabric that anybody counts on (common practice: the first rounds of a tube still pull)."""


class Finished(NamedTuple):
    """The true size of a finished sock: each round of its plain foot, and its length from heel to toe, in cm."""

    around: Sequence[float]
    length: float

    @property
    def circumference(self) -> float:
        """Round the foot, the mean of its rounds."""
        return sum(self.around) / len(self.around)


@dataclass
class Sock:
    """A sock on the needles, with the true gauge of each of its rounds."""

    plan: Plan
    hands: Hands
    knitted: list[Fabric] = field(default_factory=list)
    knitted_ever: int = 0
    ripped: int = 0

    @property
    def done(self) -> int:
        """Rounds on the needles."""
        return len(self.knitted)

    def knit_to(self, done: int) -> None:
        """Knit on with the hands of the day."""
        while self.done < done:
            self.knitted.append(self.hands.at(self.knitted_ever))
            self.knitted_ever += 1

    def go_on_with(self, plan: Plan, done: int) -> None:
        """Take another plan, after ripping back to where it begins to differ."""
        self.ripped += sum(item.made for item in self.plan.rounds()[done : self.done])
        del self.knitted[done:]
        self.plan = plan

    def stitches_below(self) -> int:
        """Stitches round the newest plain fabric."""
        return self.plan.rounds()[self._newest().stop - 1].after

    def newest_fabric(self) -> Sequence[Fabric]:
        """The gauge of each round of the newest plain fabric that is high enough to count on, or else the highest."""
        newest = self._newest()
        return self.knitted[newest.start : newest.stop]

    def _newest(self) -> range:
        plain = [span for span in self._plain_fabric() if span]
        enough = [span for span in plain if len(span) >= self._least]
        return enough[-1] if enough else max(plain, key=len)

    @property
    def _least(self) -> int:
        return round(LEAST_CM * fit_of(self.plan.request).fabric.rounds)

    def _plain_fabric(self) -> Iterator[range]:
        """Where plain fabric lies on the needles; short rows have twice as many rows as they are high."""
        per_cm = fit_of(self.plan.request).fabric.rounds
        for section, part in built(self.plan):
            span = self.plan.span(section.key)
            # At the end of a sock nobody counts on the narrowing toe.
            if part.countable and not (part.of == "toe" and span.start):
                end = min(span.stop, self.done)
                yield range(end - min(round(section.length_cm * per_cm), end - span.start), end)

    def places(self) -> list[int]:
        """The rounds of leg, gusset and foot after which there is fabric of theirs to count on."""
        parts = [
            self.plan.span(section.key) for section, part in built(self.plan) if part.countable and part.of != "toe"
        ]
        return [done for span in parts for done in range(span.start + self._least, span.stop + 1)]

    def finished(self) -> Finished:
        """How the sock measures in truth, each round at the gauge that it was knitted with."""
        around: list[float] = []
        foot: list[Fabric] = []
        on_foot = beside_the_heel(self.plan.request.construction).on_foot
        for section, part in built(self.plan):
            span = self.plan.span(section.key)
            fabric = self.knitted[span.start : span.stop]
            if part is FOOT:
                around = [item.after / each.stitches * 10 for item, each in zip(section.rounds(), fabric, strict=True)]
            if part is FOOT or part.of == "toe" or section.key in on_foot or (part.turns and not part.flap):
                foot += fabric
        rounds = self.plan.sizes.foot_length_cm * fit_of(self.plan.request).fabric.rounds
        length = rounds * sum(10 / each.rounds for each in foot) / len(foot)
        return Finished(around or [self.plan.sizes.foot_stitches / self.knitted[-1].stitches * 10], length)
