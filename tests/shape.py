"""The shape of a knitted sock, measured on its stitches: how wide, how long, and whether it mirrors."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from tests.knitter import CLOSING_OPS, PICK_UPS, SLIPS, Knitted, Stitch, WorkedRound

LEANS_LEFT = frozenset({"ssk", "sssk", "m1l"})
LEANS_RIGHT = frozenset({"k2tog", "k3tog", "m1r"})
WITHOUT_HEIGHT = SLIPS | {"ds"}
UNDER_THE_HEEL = ("heel-turn", "heel-opening", "heel")
HEEL = frozenset({"heel-flap", "heel-turn", "heel"})
GUSSET = frozenset({"gusset-increases", "gusset"})

Rounds = Sequence[WorkedRound]
Sections = Mapping[str, Rounds]


@dataclass(frozen=True)
class Shape:
    """Lengths in cm of the fabric lying unstretched; `..._mirrored` is left against right.

    `leg_cm` is the narrowest of the leg once it has its own count, `top_cm` below the cuff.
    """

    cuff_length_cm: float
    leg_length_cm: float
    leg_cm: float
    top_cm: float
    heel_pass_cm: float
    foot_cm: float
    foot_length_cm: float
    heel_mirrored: bool
    gusset_mirrored: bool
    toe_mirrored: bool


@dataclass(frozen=True)
class Tape:
    """Stitches and rounds in a cm."""

    stitches: float
    rounds: float

    def across(self, stitches: float) -> float:
        return stitches / self.stitches

    def up(self, rounds: float) -> float:
        return rounds / self.rounds

    def through_a_cup(self, across: float, opening: int, middle: int, rounds: int) -> float:
        """The way `across` some stitches, down one slope of a cup, across its middle, and up the other slope."""
        slope = math.hypot(self.across(opening - middle) / 2, self.up(rounds))
        return self.across(across + middle) + 2 * slope


@dataclass(frozen=True)
class Pattern:
    """The fabric of a leg in pattern, `follows` says whether the instep of the foot has it as well.

    Either has it all over, or in panels of so many stitches: those `on_leg`, and those `on_instep`. All over a leg it
    is in whole repeats so wide, and what is over is plain.
    """

    tape: Tape
    follows: bool = False
    on_leg: int | None = None
    on_instep: int | None = None
    repeat: int = 1

    def wide(self, plain: Tape, stitches: int, panels: int | None) -> float:
        """The plain stitches that are as wide as so many, all in pattern or those of the panels."""
        return stitches + (plain.stitches / self.tape.stitches - 1) * (stitches if panels is None else panels)


Wide = Callable[[int], float]
"""The plain stitches that are as wide as so many on the instep."""


def shape(knitted: Knitted, stitches_per_cm: float, rounds_per_cm: float, pattern: Pattern | None = None) -> Shape:
    """Measure a sock, knitted from either end, with any of the heels; raises ValueError if a section is missing.

    The heel pass goes across the instep and round the heel: across what a heel turn left and along both edges of
    the flap; or down the slopes of short rows, or of a heel worked in rounds, and across its middle. The foot's
    length is taken along the middle of the sole, where every row counts from the back of the heel to the tip.
    """
    sections = knitted.sections()
    under = next((key for key in UNDER_THE_HEEL if key in sections), "heel")
    grown = "gusset-increases" in sections
    beside = {"gusset-increases"} if grown else {"heel-flap", "gusset"}
    needed = {"cuff", "leg", "toe", under} | (beside if under == "heel-turn" else set())
    missing = needed - set(sections)
    if missing:
        raise ValueError(f"cannot measure a sock without {', '.join(sorted(missing))}")
    tape = Tape(stitches_per_cm, rounds_per_cm)
    up = pattern.tape if pattern and pattern.on_leg is None else tape

    def around_leg(stitches: int) -> float:
        if not pattern:
            return tape.across(stitches)
        whole = stitches // pattern.repeat * pattern.repeat if pattern.on_leg is None else pattern.on_leg
        return tape.across(pattern.wide(tape, stitches, whole))

    def wide(stitches: int) -> float:
        return pattern.wide(tape, stitches, pattern.on_instep) if pattern and pattern.follows else stitches

    leg = sections["leg"][:: -1 if _from_the_toe_up(sections) else 1]
    heel = [worked for key in sections if key in HEEL for worked in sections[key]]
    gusset = [worked for key in sections if key in GUSSET for worked in sections[key]]
    return Shape(
        cuff_length_cm=tape.up(_height_of_cuff(sections["cuff"])),
        leg_length_cm=up.up(_height(sections["leg"])),
        leg_cm=around_leg(min(len(item.live) for item in _of_its_own_count(sections["leg"]))),
        top_cm=around_leg(len(leg[0].live)),
        heel_pass_cm=_heel_pass(sections, under, tape, wide),
        foot_cm=tape.across(_as_plain(_end_of_the_foot(sections), wide)),
        foot_length_cm=tape.up(_rounds_along_the_sole(sections, under)),
        heel_mirrored=_rows_mirror(heel) and all(map(_folds, heel)),
        gusset_mirrored=all(map(_mirrors_somewhere, gusset)),
        toe_mirrored=_rows_mirror(sections["toe"]) and _toe_rounds_mirror(sections["toe"]),
    )


def _from_the_toe_up(sections: Sections) -> bool:
    order = list(sections)
    return order.index("toe") < order.index("cuff")


def _end_of_the_foot(sections: Sections) -> WorkedRound:
    """The last round of the foot's tube: on a very short foot there is nothing between its neighbours."""
    order = list(sections)
    if "foot" in sections:
        return sections["foot"][-1]
    return sections["toe" if _from_the_toe_up(sections) else order[order.index("toe") - 1]][-1]


def _as_plain(worked: WorkedRound, wide: Wide) -> float:
    """The stitches of a round of the foot, those of the instep as `wide` as so many of the sole."""
    return len(worked.live) - worked.written.instep + wide(worked.written.instep)


def _of_its_own_count(leg: Rounds) -> Rounds:
    """The leg without the rounds that bring it there from the count of cuff or foot.

    These change it evenly all round, in plain knitting, all leaning one way. Pairs for the calf are of two kinds, and
    the decreases of lace keep the count.
    """
    ways = [frozenset(worked.written.ops) - {"k"} for worked in leg]
    changes = [at for at, way in enumerate(ways) if way in ({"k2tog"}, {"m1l"})]
    return leg[changes[-1] :] if changes else leg


def _rounds_along_the_sole(sections: Sections, under: str) -> int:
    """What is knitted between heel and toe counts whole, and of short rows the half that lies on the sole.

    Of rounds between the halves half count, and a single one.

    A heel put in last lengthens the sole by its rounds, from the opening to where it is closed. The stitches over
    the waste yarn are knitted on what is knitted next: on the sole where that is the foot.
    """
    order, toe_up = list(sections), _from_the_toe_up(sections)
    begin, end = sorted((order.index(under), order.index("toe")))
    between = sum(_height(sections[key]) for key in order[begin + 1 : end])
    toe = _half(sections["toe"], first=not toe_up)
    if under == "heel":
        return between + toe + _half(sections["heel"], first=toe_up)
    if under == "heel-opening":
        opening = 0 if toe_up else _height(sections["heel-opening"])
        return opening + between + toe + _height(sections["heel"])
    if under == "heel-turn" and "heel-flap" not in sections and toe_up:
        # A turn that takes up the gusset goes up the back of the heel here, and from the cuff down along the sole.
        return between + toe
    return between + toe + _height(sections[under])


def _half(rounds: Rounds, *, first: bool) -> int:
    """The height of short rows from their first to the fold at the narrowest, or beyond it; of rounds, all of it."""
    fabric = [worked for worked in rounds if _has_height(worked)]
    if not _flat(fabric):
        return len(fabric)
    fold, between = fabric.index(_fold(fabric)) + 1, len(_between(fabric))
    return (fold if first else len(fabric) - fold - between) + (between + 1) // 2


def _flat(rounds: Rounds) -> list[WorkedRound]:
    return [worked for worked in rounds if worked.written.side != "round"]


def _between(rounds: Rounds) -> list[WorkedRound]:
    """The rounds between two runs of rows: over all stitches, between the halves of short rows."""
    numbers = [worked.written.place.number for worked in _flat(rounds)]
    inside = range(min(numbers), max(numbers))
    return [worked for worked in rounds if worked.written.side == "round" and worked.written.place.number in inside]


def _fold(rounds: Rounds) -> WorkedRound:
    """The row at which short rows begin to widen: the last one before rounds between the halves, or the narrowest."""
    rows, between = _flat(rounds), _between(rounds)
    if between:
        return [worked for worked in rows if worked.written.place.number < _number(between)][-1]
    return min(rows, key=_loops)


def _heel_pass(sections: Sections, under: str, tape: Tape, wide: Wide) -> float:
    """The way round the heel, where those of the instep are as `wide` as so many of the heel.

    Where the gusset grew beside the heel it is the round before the turn, the widest of all.
    """
    if under == "heel-turn":
        grown = sections.get("gusset-increases")
        return tape.across(_as_plain(grown[-1], wide)) if grown else _through_a_flap(sections, tape, wide)
    if under == "heel-opening":
        return _through_rounds(sections["heel-opening"][0], sections["heel"], tape, wide)
    return _through_short_rows(sections["heel"], tape, wide)


def _through_a_flap(sections: Sections, tape: Tape, wide: Wide) -> float:
    turn, flap = sections["heel-turn"], sections["heel-flap"]
    begin, end = min(turn, flap, key=_number)[0], max(turn, flap, key=_number)[-1]
    instep = sum(stitch.round < begin.written.place.number for stitch in end.live)
    turned = len(end.live) - instep if end is turn[-1] else min(map(_unturned, turn))
    return tape.across(wide(instep) + turned) + 2 * tape.up(_height(flap))


def _through_rounds(opening: WorkedRound, heel: Rounds, tape: Tape, wide: Wide) -> float:
    instep = sum(stitch.op != "co" for stitch in opening.made)
    half, grafted = len(heel[0].live) // 2, len(heel[-1].grafted)
    return tape.through_a_cup(wide(instep), half, grafted, _height(heel))


def _through_short_rows(heel: Rounds, tape: Tape, wide: Wide) -> float:
    _, _, *shaping = _flat(heel)
    fold = _fold(shaping + _between(heel))
    # The first of them leaves one stitch: the one slipped to make it double, or the one beyond its turn.
    opening = _loops(shaping[0]) + 1
    around = _as_plain(heel[-1], wide) - opening
    high = shaping.index(fold) + 1
    # Before rounds the last row goes on across what waits; it begins with one stitch fewer than the one before.
    middle = _loops(shaping[high - 2]) - 1 if _between(heel) else _loops(fold)
    return tape.through_a_cup(around, opening, middle, high)


def _number(rounds: Rounds) -> int:
    return rounds[0].written.place.number


def _new(worked: WorkedRound) -> list[Stitch]:
    """The stitches that were drawn through others: none cast on, and none that only changed needles."""
    return [stitch for stitch in worked.made if stitch.parents and stitch.op not in WITHOUT_HEIGHT]


def _loops(worked: WorkedRound) -> int:
    return len(_new(worked))


def _unturned(worked: WorkedRound) -> int:
    """The stitches of a row that close no gap of a turn."""
    return sum(not _closes_a_gap(stitch) for stitch in _new(worked))


def _closes_a_gap(stitch: Stitch) -> bool:
    return stitch.op in CLOSING_OPS or any(parent.op == "yo" and parent.flat for parent in stitch.parents)


def _has_height(worked: WorkedRound) -> bool:
    """Whether fabric grew: a cast-on, bind-off or graft and a row only slipped add nothing to the height.

    Loops that are picked up are knitted, and add as much as any stitch.
    """
    return bool(_new(worked)) or any(stitch.op in PICK_UPS for stitch in worked.made)


def _height(rounds: Rounds) -> int:
    return sum(map(_has_height, rounds))


def _height_of_cuff(cuff: Rounds) -> float:
    """Its rounds, those that slip stitches as a part of one, without what lies folded inside.

    A hem is folded half-way between the rounds that are joined; one that is sewn down, at the last round that is not
    knit stitches, and what comes after that lies inside.
    """
    worked_in_parts = [SLIPS.isdisjoint(worked.written.ops) or _loops(worked) / len(worked.made) for worked in cuff]
    high = sum(part for part, worked in zip(worked_in_parts, cuff, strict=True) if _has_height(worked))
    joined = next((number for number, worked in enumerate(cuff) if "join" in worked.written.ops), None)
    if joined is not None:
        return high - joined / 2
    if "sew" in cuff[-1].written.ops:
        inside = next(n for n, worked in enumerate(reversed(cuff[:-1])) if set(worked.written.ops) != {"k"})
        return high - inside - 1 / 2
    return high


def _rows_mirror(rounds: Rounds) -> bool:
    """Whether the part worked flat is alike on both sides of its middle, but for the pair of rows that one side leads.

    Each stitch at its end is compared with its counterpart: how many stitches it has grown from, and through how
    many rows.
    """
    rows = _flat(rounds)
    if not rows:
        return True
    since = _number(rows)
    ends = [stitch for stitch in rows[-1].live if _is_from_rows(stitch, since) and stitch.op != "yo"]
    grown = [(_roots(stitch, since), _rows_below(stitch, since)) for stitch in ends]
    return all(
        one == other and abs(high - low) <= 2 for (one, high), (other, low) in zip(grown, reversed(grown), strict=True)
    )


def _is_from_rows(stitch: Stitch, since: int) -> bool:
    """Whether it was worked in rows, itself or what it grew from: rounds between them go on over other stitches too."""
    return stitch.round >= since and (stitch.flat or any(_is_from_rows(parent, since) for parent in stitch.parents))


def _roots(stitch: Stitch, since: int) -> int:
    if stitch.round < since:
        return 1
    return sum(_roots(parent, since) for parent in stitch.parents)


def _rows_below(stitch: Stitch, since: int) -> int:
    if stitch.round < since:
        return 0
    return (stitch.op != "ds") + max((_rows_below(p, since) for p in stitch.parents), default=0)


def _leans(worked: WorkedRound) -> list[int]:
    """Where a round is shaped: -1 leans left, 1 leans right, 0 is no shaping."""
    return [
        0 if _closes_a_gap(stitch) else (stitch.op in LEANS_RIGHT) - (stitch.op in LEANS_LEFT) for stitch in worked.made
    ]


def _mirrors(leans: list[int], axis: int) -> bool:
    """Whether all shaping faces some of the other lean across the axis that brings stitch i to axis - i.

    The axis half - 1 folds the sole on itself and the instep on itself, as a toe must for its graft.
    """
    return all(leans[(axis - i) % len(leans)] == -lean for i, lean in enumerate(leans))


def _mirrors_somewhere(worked: WorkedRound) -> bool:
    leans = _leans(worked)
    return not any(leans) or worked.written.side != "round" or any(_mirrors(leans, axis) for axis in range(len(leans)))


def _folds(worked: WorkedRound) -> bool:
    """Shaping at four places folds the sole on itself and the instep on itself; at two it only evens the halves."""
    leans = _leans(worked)
    return _mirrors(leans, len(leans) // 2 - 1) if sum(map(abs, leans)) == 4 else _mirrors_somewhere(worked)


def _toe_rounds_mirror(toe: Rounds) -> bool:
    """A toe whose shaping all leans one way has no halves: it is spread evenly round about instead."""
    shaped = [worked for worked in toe if worked.written.side == "round" and any(_leans(worked))]
    both_ways = len({lean for worked in shaped for lean in _leans(worked) if lean}) == 2
    return all(map(_folds if both_ways else _is_even, shaped))


def _is_even(worked: WorkedRound) -> bool:
    """Whether the distances between the shaped stitches, once round, differ by one at most."""
    places = [at for at, lean in enumerate(_leans(worked)) if lean]
    distances = [there - here for here, there in zip(places, [*places[1:], places[0] + len(worked.made)], strict=True)]
    return max(distances) - min(distances) <= 1
