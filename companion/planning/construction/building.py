"""Building a sock part by part: each part's rounds, with pattern, sole, yarns and thread laid over them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache, partial

from ..fabric.as_begun import as_begun
from ..fabric.own_yarn import OwnYarn
from ..fabric.painter import Painter, Rounds
from ..fabric.reinforced import with_thread_notes
from ..fabric.sole import AlongTheFoot, with_sole, with_sole_in_gusset
from ..fabric.stripes import stripes_of
from ..fabric.texture import Texture
from ..fabric.yarn_joins import YarnJoins, YarnSection
from ..fit.halves import front_of
from ..plan.document import Round
from ..plan.rounds import map_unique
from ..yarn.colour_repeat import begun_at_a_colour, stripes_itself
from .in_pattern import in_pattern
from .sections.base import Aim, Knitted, Part, Progress
from .sections.foot import FOOT
from .sections.leg import LEG


@dataclass(frozen=True)
class Piece:
    """A part as it is built: its rounds, and how many rounds high it is."""

    part: Part
    rounds: tuple[Round, ...]
    height: int


def build(parts: Sequence[Part], aim: Aim, knitted: Mapping[str, Rounds]) -> tuple[list[Piece], Progress]:
    """The parts in the order of knitting, each beginning with its rounds that are `knitted`, and what came of them."""
    sock = _Building(parts, aim, knitted)
    for number in range(len(parts)):
        sock.add(number)
    return sock.pieces, sock.progress


def progress_of(parts: Sequence[Part], aim: Aim, knitted: Mapping[str, Rounds]) -> Progress:
    """What came of a sock all of whose rounds are `knitted`: nothing is to be laid over them any more."""
    sock = _Building(parts, aim, knitted)
    for number in range(len(parts)):
        sock.built(number)
    return sock.progress


class _Building:
    """The parts that are built, and what the next one finds: yarns, pattern and stitches as the last one left them."""

    def __init__(self, parts: Sequence[Part], aim: Aim, knitted: Mapping[str, Rounds]) -> None:
        self.pieces: list[Piece] = []
        self.progress = Progress()
        self._parts, self._aim, self._request, self._knitted = parts, aim, aim.request, knitted
        self._begun = max((number for number, part in enumerate(parts) if knitted.get(part.key)), default=0)
        stitches = aim.request.leg.stitch_pattern
        straight = aim.counts.top == aim.counts.leg
        self._layer = Texture(stitches, aim.front, straight=straight) if stitches else Painter(aim.request, aim.front)
        self._stripes = stripes_of(aim.request)
        self._charted = self._striped = 0
        self._main = aim.request.yarns[0].key
        self._joins = YarnJoins(aim.request)
        self._attached: frozenset[str] = frozenset({self._main})
        self._to_begin_alike = stripes_itself(aim.request)
        self._threaded = False
        self._last: Round | None = None
        self._resting = 0

    def add(self, number: int) -> None:
        """Build the next part."""
        part, before = self._parts[number], self.progress
        knitted = self._knitted.get(part.key, ())
        rounds, own, done = self.built(number), part.own_yarn(self._request), len(knitted)
        rounds = self._with_sole(part, rounds, done, before)
        if part.shows_the_pattern(self._request):
            rounds = self._in_pattern(part, rounds, done)
        if own:
            hangs_here = self._main in self._attached and own.key not in self._attached
            rounds = own.lay(rounds, knitted, self._passed(part) if hangs_here else 0)
        rounds = self._with_yarns(number, own, rounds, done)
        if self._request.reinforcing_thread.parts:
            rounds = self._with_thread(part, rounds, done)
        self._last = rounds[-1] if rounds else self._last
        worked = next((item.chart_row for item in reversed(rounds) if item.chart_row), before.pattern_row)
        self.progress = replace(self.progress, pattern_row=worked)
        if self._resting and not part.holder:
            rounds = _beside(self._resting, rounds)
        self._resting = rounds[-1].resting if rounds else self._resting
        # An hourglass of short rows has twice as many rows as it is high.
        hourglass = any(item.kind == "short-row" for item in rounds)
        height = self.progress.foot_rounds - before.foot_rounds if hourglass else sum(part.adds_height(rounds))
        self.pieces.append(Piece(part, rounds, height))

    def built(self, number: int) -> Rounds:
        """The rounds of the next part as its builder makes them, with nothing laid over them."""
        part = self._parts[number]
        knitted, own = self._knitted.get(part.key, ()), part.own_yarn(self._request)
        as_built = own.taken_off(knitted) if own else knitted
        rounds, self.progress = part.build(self._aim, self.progress, Knitted(as_built, closed=number < self._begun))
        return rounds

    def _passed(self, part: Part) -> int:
        """Stitches that the first round of a part goes over on the way to where it begins."""
        return self.progress.counts.get(part.passes, 0)

    def _with_sole(self, part: Part, rounds: Rounds, done: int, before: Progress) -> Rounds:
        """The rounds of the foot with their sole, and those of a gusset where the sole begins at the heel."""
        construction = self._request.construction
        toe_up = construction.direction == "toe-up"
        if part is FOOT:
            along = AlongTheFoot(before.foot_rounds, self._aim.foot_rounds, from_the_toe=toe_up)
            from_heel = construction.sole_from_heel and self.pieces[-1].part.of == "gusset"
            return with_sole(rounds, done, construction.sole, along, self.pieces[-1].rounds if from_heel else ())
        if part.of == "gusset" and construction.sole_from_heel:
            of_the_foot = before.counts["sole"] if toe_up else self.progress.counts.get("sole", 0)
            on_foot = self.pieces[-1].rounds if toe_up else ()
            return with_sole_in_gusset(rounds, done, construction.sole, of_the_foot, on_foot)
        return rounds

    def _in_pattern(self, part: Part, rounds: Rounds, done: int) -> Rounds:
        lay = self._layer.lay
        if part is LEG:
            layer = self._layer.with_front(self._aim.front_over(rounds[-1].after))
            lay = partial(as_begun, layer, partial(front_of, request=self._request))
        rounds, self._charted = in_pattern(self._aim, part, rounds, done, partial(lay, last=self._charted))
        if self._stripes:
            rounds, self._striped = self._stripes.lay(rounds, done, self._striped)
        return rounds

    def _with_yarns(self, number: int, own: OwnYarn | None, rounds: Rounds, done: int) -> Rounds:
        """The rounds, with notes on where yarns are joined and cut, and where self-striping yarn begins alike."""
        later = any(part.shows_the_pattern(self._request) for part in self._parts[number + 1 :])
        section = YarnSection(rounds, own, self._last, later and not self._parts[number].charted)
        rounds, self._attached = self._joins.with_notes(section, done, self._attached)
        if self._to_begin_alike:
            rounds, self._to_begin_alike = begun_at_a_colour(rounds, done, self._main)
        return rounds

    def _with_thread(self, part: Part, rounds: Rounds, done: int) -> Rounds:
        holds = partial(part.holds_the_thread, self._request)
        rounds = with_thread_notes(rounds, done, self._passed(part), holds, there=self._threaded)
        self._threaded = holds(rounds[-1]) if rounds else self._threaded
        return rounds


def _beside(resting: int, rounds: Rounds) -> Rounds:
    """The rounds with so many stitches waiting on a holder, unless they say themselves how many."""
    return tuple(map_unique(rounds, lambda item: item if item.resting else _waiting(item, resting)))


@lru_cache(maxsize=4096)
def _waiting(item: Round, resting: int) -> Round:
    """A round with so many stitches on a holder, made once: plan after plan of a sock comes to the same one."""
    return replace(item, resting=resting)
