"""An independent knitter: works a plan document stitch by stitch on two needles, or says why it cannot.

A needle is a stack of stitches whose last entry lies at the tip. The left needle's tip is worked next; what
is made goes to the right needle's tip. `turn` lets the needles change hands, so that a row reaches only what
lies there.
"""

from collections import Counter, deque
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from itertools import chain, groupby, repeat
from typing import Any

from tests.written_plan import CABLES, OPS, KnittingError, Place, WrittenRound, crossing, written_rounds

__all__ = ["Knitted", "KnittingError", "Place", "Stitch", "WorkedRound", "knit"]

SLIPS = frozenset({"sl", "slwyif"})
SIDES_BEFORE = {"round": (None, "round", "WS"), "RS": (None, "round", "WS"), "WS": ("RS",)}
ENDING_OPS = frozenset({"bo", "graft", "draw", "turn", "sew"})
PICK_UPS = frozenset({"pu", "pup"})
DOUBLE_OPS = frozenset({"kds", "pds"})
MARKS = {"wrap": frozenset({"kw", "pw"}), "twin": frozenset({"ktw", "ptw"})}
CLOSING_OPS = DOUBLE_OPS.union(*MARKS.values())
WITH_A_YARN_OVER = frozenset({"k2tog", "k3tog", "ssp", "sssp"})
RAISED = frozenset({"m1l", "m1r", "m1p", "yo"})
ONE_INTO_ONE = frozenset(op for op, counts in OPS.items() if counts == (1, 1)) - CLOSING_OPS - {"join"}
LOWER_LOOP = "lower loop"


@dataclass(eq=False, slots=True)
class Stitch:
    """One loop: the op and the round (from 1) that made it, and the stitches that it was made from.

    The loop below a provisionally cast-on stitch, which a holder keeps, has that stitch as its parent. Nothing
    changes a stitch once it is made: it is not frozen because a sock has ten thousand, and that takes twice the time.
    """

    op: str
    round: int
    flat: bool
    parents: tuple["Stitch", ...] = field(default=(), repr=False)


@dataclass(frozen=True)
class WorkedRound:
    """A round as it was knitted: the new stitches in the order of making, and all live ones as they then lie.

    `live` runs from the first to the last that the next round will meet, behind those out of its reach;
    `grafted` holds the pairs that a graft joined.
    """

    written: WrittenRound
    made: tuple[Stitch, ...]
    live: tuple[Stitch, ...]
    grafted: tuple[tuple[Stitch, Stitch], ...]


@dataclass(frozen=True)
class Knitted:
    """A whole sock: its rounds in order, and the most stitches on needles."""

    rounds: tuple[WorkedRound, ...]
    max_stitches: int

    @cached_property
    def ops(self) -> Counter[str]:
        """How often each op was worked."""
        return Counter(chain.from_iterable(worked.written.ops for worked in self.rounds))

    def section(self, key: str) -> tuple[WorkedRound, ...]:
        """The rounds of the section (or sections) with this key, none when there is no such section."""
        return tuple(worked for worked in self.rounds if worked.written.place.section == key)

    def sections(self) -> dict[str, tuple[WorkedRound, ...]]:
        """Each section's rounds by its key, in the order of knitting."""
        return {key: self.section(key) for key in dict.fromkeys(r.written.place.section for r in self.rounds)}


def knit(document: Mapping[str, Any]) -> Knitted:
    """Knit the whole plan; raises KnittingError at the first thing that cannot be done or does not add up."""
    needles = _Needles()
    rounds = tuple(needles.work(written) for written in written_rounds(document))
    place = rounds[-1].written.place
    if needles.count():
        raise KnittingError(place, f"the sock ends here with {needles.count()} stitches still live")
    if needles.resting():
        raise KnittingError(place, f"the sock ends here with {needles.resting()} stitches still on a holder")
    return Knitted(rounds, max(max(r.written.before, r.written.after) for r in rounds))


class _Needles:
    """The state between two ops: both needles, the holders, and the edge loops that can be picked up."""

    def __init__(self) -> None:
        self.left: list[Stitch] = []
        self.right: list[Stitch] = []
        self.holders: list[deque[Stitch]] = []
        self.loops: Counter[str] = Counter()
        self.first_edge: deque[Stitch] = deque()
        self.provisional = False
        self.marked: dict[Stitch, str] = {}
        self.flat_since: int | None = None
        self.last_side: str | None = None
        self.made: list[Stitch] = []
        self.grafted: list[tuple[Stitch, Stitch]] = []

    def count(self) -> int:
        return len(self.left) + len(self.right)

    def resting(self) -> int:
        return sum(map(len, self.holders))

    def work(self, written: WrittenRound) -> WorkedRound:
        """Work one round or row and check every number that the plan gives for it."""
        self._begin(written)
        started_at_edge = not self._in_flat_part(self.right)
        for one_into_one, run in groupby(written.ops, ONE_INTO_ONE.__contains__):
            ops = tuple(run)
            if one_into_one and self._nothing_is_marked(len(ops)):
                self._work_unmarked(ops, written)
            else:
                for op in ops:
                    self._work_op(op, written)
        if started_at_edge and not self._in_flat_part(self.left):
            self._keep_edge_loop(written)
        self._end(written)
        _check_kind(written)
        live = (*self.right, *reversed(self.left))
        return WorkedRound(written, tuple(self.made), live, tuple(self.grafted))

    def _begin(self, written: WrittenRound) -> None:
        place, side = written.place, written.side
        if self.last_side not in SIDES_BEFORE[side]:
            raise KnittingError(place, f"side {side} cannot follow {self.last_side or 'nothing at all'}")
        if written.before != self.count():
            raise KnittingError(place, f"begins with {written.before} stitches, but {self.count()} are on the needles")
        if side == "round":
            self._begin_round(written)
        elif "turn" in written.ops[:-1] or written.ops[-1] != "turn":
            raise KnittingError(place, "a row ends with its only turn")
        elif set(written.ops[:-2]) & MARKS.keys():
            raise KnittingError(place, "a stitch gets a wrap or a twin right before the turn")
        elif "graft" in written.kinds_of_ops:
            raise KnittingError(place, "the two halves of a round are grafted, not a row")
        elif self.flat_since is None:
            # A loop lies in the gap at either end of a flat part, besides the chains of its edges.
            self.flat_since = place.number
            self.loops["left"] = self.loops["right"] = 1
        self.provisional = self._casts_on_provisionally(written)
        if "co" in written.kinds_of_ops and not self.provisional and (self.count() or self.resting()):
            # Stitches cast on inside the fabric have a lower edge too, with a gap at either end.
            self.loops["cast-on"] += written.ops.count("co") + 2
        if "rest" in written.kinds_of_ops:
            self.holders.append(deque())
        self.made, self.grafted = [], []

    def _casts_on_provisionally(self, written: WrittenRound) -> bool:
        """Whether a holder gets a loop below each stitch that is cast on, besides the stitches laid on it."""
        ops = written.ops
        if "co" not in written.kinds_of_ops:
            return False
        from_nowhere = written.resting - self.resting() - ops.count("rest") + ops.count("resume")
        return from_nowhere == ops.count("co")

    def _begin_round(self, written: WrittenRound) -> None:
        place = written.place
        self.flat_since = None
        if self.right:
            raise KnittingError(place, f"a round cannot begin: {len(self.right)} stitches are on the right needle")
        if written.kinds_of_ops & {"turn", *MARKS}:
            raise KnittingError(place, "a round has no turn")
        if "graft" in written.kinds_of_ops and (len(written.kinds_of_ops) > 1 or self.count() % 2):
            raise KnittingError(place, f"two equal halves are grafted and nothing else: {self.count()} are live")

    def _nothing_is_marked(self, stitches: int) -> bool:
        """Whether so many stitches are there at the left tip, none of which a turn has changed."""
        there = self.left[-stitches:]
        return len(there) == stitches and not self.marked and "ds" not in {stitch.op for stitch in there}

    def _work_unmarked(self, ops: tuple[str, ...], written: WrittenRound) -> None:
        """The same as `_work_op` does for each op, without its questions: nearly every stitch is worked so."""
        flat, parents = written.side != "round", zip(reversed(self.left), strict=False)
        new = list(map(Stitch, ops, repeat(written.place.number), repeat(flat), parents))
        del self.left[-len(ops) :]
        self.made += new
        self.right += new

    def _work_op(self, op: str, written: WrittenRound) -> None:
        takes, makes = OPS[op]
        if len(self.left) < takes:
            have = len(self.left)
            raise KnittingError(written.place, f"{op} takes {takes} from the left needle, which holds {have}")
        on_right_side = written.side != "WS"
        if op == "rest":
            self._rest(on_right_side)
        elif op == "resume":
            self._resume(on_right_side, written.place)
        elif op in CABLES:
            self._cross(op, written)
        elif op == "graft":
            # The halves lie face to face: the first of the front meets the last of the back.
            self.grafted.append((self.left.pop(), self.left.pop(0)))
            self._check_marks(op, self.grafted[-1], written.place)
        elif op in MARKS:
            self._mark(op, written.place)
        else:
            if op in RAISED and not self.count():
                raise KnittingError(written.place, f"{op} raises a strand beside a stitch, and there is none")
            if op in PICK_UPS:
                self._take_edge_loop(on_right_side, written.place)
            taken = tuple(self.left.pop() for _ in range(takes)) + self._first_edge_loops(op, written.place)
            self._check_marks(op, taken, written.place)
            new = [Stitch(op, written.place.number, written.side != "round", taken) for _ in range(makes)]
            if op == "yo" and written.side != "round":
                self.marked[new[0]] = op
            self.made += new
            self.right += new

    def _cross(self, cable: str, written: WrittenRound) -> None:
        """Work a cable: the stitches that come first wait on a cable needle until the others are worked."""
        if written.side == "WS":
            raise KnittingError(written.place, f"{cable} is written as the right side shows it; this is the other one")
        waits, ops = crossing(cable)
        waiting = [self.left.pop() for _ in range(waits)]
        order = [self.left.pop() for _ in range(len(ops) - waits)] + waiting
        self._check_marks(cable, tuple(order), written.place)
        new = [
            Stitch(op, written.place.number, written.side != "round", (each,))
            for op, each in zip(ops, order, strict=True)
        ]
        self.made += new
        self.right += new

    def _mark(self, mark: str, place: Place) -> None:
        """Lay a wrap round the stitch at the left tip, or draw a twin beside it: one way for all turns beside it."""
        if not self.left:
            raise KnittingError(place, f"{mark}: no stitch is left beyond the turn")
        if self.marked.setdefault(self.left[-1], mark) != mark:
            raise KnittingError(place, f"{mark}: the stitch has a {self.marked[self.left[-1]]} already")

    def _check_marks(self, op: str, taken: tuple[Stitch, ...], place: Place) -> None:
        """What a turn has marked is worked as such and nothing else is: a gap would stay, or a loop be left over."""
        for stitch in taken:
            if (stitch.op == "ds") != (op in DOUBLE_OPS):
                was = "a double stitch" if stitch.op == "ds" else "not a double stitch"
                raise KnittingError(
                    place, f"{op} meets what is {was}; kds and pds are for double stitches, and only they"
                )
        found = [self.marked.pop(stitch, "") for stitch in taken]
        if "yo" in found:
            if op not in WITH_A_YARN_OVER or found[-1] or set(found[:-1]) != {"yo"}:
                raise KnittingError(place, f"{op} meets a yarn over of a turn, which goes with the stitch beyond it")
        elif any(found) != (op in CLOSING_OPS - DOUBLE_OPS) or any(op not in MARKS[mark] for mark in found if mark):
            raise KnittingError(place, f"{op} meets a stitch with {found[0] or 'neither wrap nor twin'}")

    def _rest(self, on_right_side: bool) -> None:
        """A holder keeps its stitches as they lie in the fabric, seen from the right side."""
        stitch, holder = self.left.pop(), self.holders[-1]
        if on_right_side:
            holder.append(stitch)
        else:
            holder.appendleft(stitch)

    def _resume(self, on_right_side: bool, place: Place) -> None:
        """The holder filled last is emptied first, its stitches in the order in which the hands meet them."""
        self.holders = [holder for holder in self.holders if holder]
        if not self.holders:
            raise KnittingError(place, "nothing is left on a holder to resume")
        holder = self.holders[-1]
        self.right.append(holder.popleft() if on_right_side else holder.pop())

    def _in_flat_part(self, needle: list[Stitch]) -> bool:
        """Whether the stitch at this needle's tip was already worked in the present run of rows."""
        return bool(needle) and self.flat_since is not None and needle[-1].round >= self.flat_since

    def _keep_edge_loop(self, written: WrittenRound) -> None:
        """A slipped first stitch makes a chain at the edge where the row began.

        Only rows over the whole width count, and none that change it: a turned heel slips stitches inside
        its edges.
        """
        if written.ops[0] in SLIPS and written.side != "round" and written.before == self.count():
            self.loops["right" if written.side == "RS" else "left"] += 1

    def _take_edge_loop(self, on_right_side: bool, place: Place) -> None:
        edge = self._edge_here(on_right_side)
        if not self.loops[edge]:
            edge = "cast-on"
        if not self.loops[edge]:
            raise KnittingError(place, "no edge loop is left here to pick up")
        self.loops[edge] -= 1

    def _first_edge_loops(self, op: str, place: Place) -> tuple[Stitch, ...]:
        """A hem is knitted together with the edge that the sock was cast on with, each stitch with the next loop."""
        if op != "join":
            return ()
        if not self.first_edge:
            raise KnittingError(place, "no loop of the cast-on edge is left here to knit together with")
        return (self.first_edge.popleft(),)

    def _edge_here(self, on_right_side: bool) -> str:
        """Which of the flat part's edges, seen from the right side, lies at the needles' tips."""

        def over_the_flat_part(stitch: Stitch) -> bool:
            return stitch.flat or any(parent.flat for parent in stitch.parents)

        behind = next((stitch for stitch in reversed(self.right) if stitch.op not in PICK_UPS), None)
        if behind:
            flat_behind = over_the_flat_part(behind)
        else:
            flat_behind = bool(self.left) and not over_the_flat_part(self.left[-1])
        return "left" if flat_behind == on_right_side else "right"

    def _keep_lower_loops(self, on_right_side: bool) -> None:
        """The loops below a provisional cast-on go to a holder in the order in which the fabric turned over has them.

        With the lower edge on top the stitch that was cast on last comes first, seen from the right side.
        """
        holder: deque[Stitch] = deque()
        for stitch in self.made:
            if stitch.op == "co":
                loop = Stitch(LOWER_LOOP, stitch.round, stitch.flat, (stitch,))
                (holder.appendleft if on_right_side else holder.append)(loop)
        self.holders.append(holder)

    def _end(self, written: WrittenRound) -> None:
        place = written.place
        if self.provisional:
            self._keep_lower_loops(written.side != "WS")
        elif not written.before:
            self.first_edge = deque(self.made)
        if "join" in written.kinds_of_ops and self.first_edge:
            raise KnittingError(place, f"{len(self.first_edge)} loops of the cast-on edge are not knitted in")
        if written.side == "round":
            if self.left:
                raise KnittingError(place, f"the round ends with {len(self.left)} stitches not worked")
            self.right.reverse()
        self.left, self.right = self.right, self.left
        self.last_side = written.side
        if written.after != self.count():
            raise KnittingError(place, f"ends with {written.after} stitches, but {self.count()} are on the needles")
        if written.resting != self.resting():
            raise KnittingError(place, f"{written.resting} stitches rest, but {self.resting()} are on holders")


def _check_kind(written: WrittenRound) -> None:
    kind, change = written.kind, written.after - written.before
    keeps_its_word = {
        "plain": change == 0,
        "increase": change > 0,
        "decrease": change < 0,
        "pick-up": bool(written.kinds_of_ops & {"resume", *PICK_UPS}),
        "finish": change < 0 and written.kinds_of_ops <= ENDING_OPS,
    }
    if not keeps_its_word.get(kind, True):
        raise KnittingError(
            written.place,
            f"kind {kind} does not fit what is worked, from {written.before} to {written.after} stitches",
        )
