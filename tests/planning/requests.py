"""Sensible plan requests over the whole range: feet from a toddler's to a very large man's, 14 to 48 stitches."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import product
from typing import Any, TypeVar

from hypothesis import strategies as st

from tests.conftest import at_first, fully

Other = TypeVar("Other")

RIBS = ("k1 p1", "k1tbl p1", "k2 p2", "k3 p1", "k3 p3", "k2 p1", "k4 p2", "k1tbl p1 k1 p1", "k5 p1", "k7 p5")

EDGES = ("any stretchy", "twisted", "folded hem", "picot hem", "tubular")
TUBULAR_RIBS = ("k1 p1", "k1tbl p1", "k2 p2")

DIRECTIONS = ("cuff-down", "toe-up")
HEELS = ("flap", "short-row", "short-row with gusset", "afterthought", "strong")
TOES = ("wedge", "short-row", "round", "star", "left foot", "right foot")
TURNS = ("round", "square", "V")
FLAPS = ("slipped", "offset slipped", "plain")
SHORT_ROWS = ("double stitch", "wrap and turn", "shadow wrap", "yarn over")
SOLES = ("plain", "slipped", "offset slipped", "garter", "purl", "ribbed arch")
TOE_STARTS = ("figure-eight", "Turkish", "pinhole")
FOOT_PATTERNS = ("plain", "instep follows the leg", "instep follows the leg, sole in checks")
ARRANGEMENTS = ("double-pointed", "long circular", "two short circulars", "flexible double-pointed", "short circular")
EVERY_CONSTRUCTION = tuple(
    {"direction": direction, "heel": heel, "toe": toe}
    for direction, heel, toe in product(DIRECTIONS, HEELS, TOES)
    if toe != "right foot"
)
"""Every one but those that are the mirror image of another."""


def _places(one: dict[str, str]) -> tuple[int, int, int]:
    return DIRECTIONS.index(one["direction"]), HEELS.index(one["heel"]), TOES.index(one["toe"])


def _once(one: dict[str, str]) -> bool:
    direction, heel, toe = _places(one)
    return (2 * direction + heel - toe) % 5 == 0


EACH_ONCE = tuple(filter(_once, EVERY_CONSTRUCTION))
"""A fifth of them: every heel and every toe once from the cuff down and once from the toe up."""

CONSTRUCTIONS = EACH_ONCE if at_first() else tuple(one for one in EVERY_CONSTRUCTION if sum(_places(one)) % 2 == 0)
"""Half of them, in which every direction, heel and toe meets every other; at first every heel and toe once a way."""

HEELS_AND_TOES = CONSTRUCTIONS if fully() else EACH_ONCE
"""For what heel and toe show each by itself, whatever the other is: each once a way, unless everything is tried."""


def alternately(*choices: Iterable[Any]) -> list[tuple[Any, ...]]:
    """Half of all combinations of three or more choices, in which any two of them meet."""
    every = product(*map(enumerate, choices))
    return [tuple(chosen for _, chosen in each) for each in every if sum(place for place, _ in each) % 2 == 0]


def each_with(others: Sequence[Other]) -> list[tuple[dict[str, str], Other]]:
    """Every construction with one of up to five others, in which all of these meet each direction, heel and toe.

    As letters lie in a Latin square, whose rows are heels and whose columns are toes. With everything to be tried it
    is every construction with all of them.
    """
    if fully():
        return [*product(CONSTRUCTIONS, others)]
    places = (HEELS.index(one["heel"]) + 2 * TOES.index(one["toe"]) for one in CONSTRUCTIONS)
    return [(one, others[place % len(HEELS) % len(others)]) for one, place in zip(CONSTRUCTIONS, places, strict=True)]


def names(construction: dict[str, str]) -> str:
    """A construction as the name of a check."""
    return ", ".join(construction.values())


def tenths(low: float, high: float) -> st.SearchStrategy[float]:
    """Numbers as they are read off a tape, to a tenth."""
    return st.integers(round(low * 10), round(high * 10)).map(lambda value: value / 10)


@st.composite
def constructions(draw: st.DrawFn) -> dict[str, Any]:
    """Any direction with any heel and any toe, a heel flap with any turn, fabric and edge, short rows by any way."""
    chosen: dict[str, Any] = dict(draw(st.sampled_from(EVERY_CONSTRUCTION)))
    if chosen["heel"] in ("flap", "strong"):
        chosen["turn"] = draw(st.sampled_from(TURNS))
        chosen["flap"] = draw(st.sampled_from(FLAPS))
        chosen["garter_edge"] = draw(st.booleans())
    if chosen["toe"] == "left foot" and draw(st.booleans()):
        chosen["toe"] = "right foot"
    chosen["short_rows"] = draw(st.sampled_from(SHORT_ROWS))
    chosen["sole"] = draw(st.sampled_from(SOLES))
    chosen["sole_from_heel"] = draw(st.booleans())
    chosen["rounds_between"] = draw(st.integers(0, 2))
    chosen["toe_start"] = draw(st.sampled_from(TOE_STARTS if chosen["toe"] in ("round", "star") else TOE_STARTS[:-1]))
    return chosen


@st.composite
def feet(draw: st.DrawFn) -> dict[str, Any]:
    """A foot whose parts are as like each other as real ones: 0.85 to 1.35 times as long as round."""
    length = draw(tenths(11, 33))
    ball = round(length / draw(tenths(8.5, 13.5)) * 10, 1)
    ball = min(max(ball, 11.0), 32.0)
    foot: dict[str, Any] = {"ball_circumference_cm": ball, "length_cm": length}
    if draw(st.booleans()):
        foot["ankle_circumference_cm"] = round(ball * draw(tenths(8.5, 11)) / 10, 1)
    if draw(st.booleans()):
        foot["heel_diagonal_cm"] = round(ball * draw(st.integers(124, 150)) / 100, 1)
    if draw(st.booleans()):
        foot["leg_circumference_cm"] = round(ball * draw(tenths(9, 15)) / 10, 1)
    return foot


@st.composite
def charts(draw: st.DrawFn) -> dict[str, Any]:
    """A chart of two to four yarns, small and large; one stitch wide it is stripes."""
    width = draw(st.integers(1, 12))
    cells = draw(st.sampled_from(("AB", "ABC", "ABCD")))
    row = st.text(alphabet=cells, min_size=width, max_size=width)
    return {"width": width, "rows": draw(st.lists(row, min_size=1, max_size=9)), "swap": draw(st.booleans())}


def foot_patterns(chart: dict[str, Any] | None) -> st.SearchStrategy[str]:
    """What may become of the leg's chart on the foot."""
    return st.sampled_from(FOOT_PATTERNS if chart else ("plain",))


def parts() -> st.SearchStrategy[dict[str, str]]:
    """Yarns of their own for cuff, heel and toe, for some of them or for none."""
    own = {part: st.sampled_from("ABCD") for part in ("cuff", "heel", "toe")}
    return st.just({}) | st.fixed_dictionaries({}, optional=own)


def threads() -> st.SearchStrategy[dict[str, Any]]:
    """A reinforcing thread for heel, toe or both, with its thickness or without; or none."""
    wanted = {"heel": st.booleans(), "toe": st.booleans(), "metres_per_100g": st.none() | tenths(200, 6000)}
    return st.just({}) | st.fixed_dictionaries(wanted)


def cuffs(shortest: float, longest: float) -> st.SearchStrategy[dict[str, Any]]:
    """A cuff in any ribbing, with an edge that this ribbing can have."""

    def with_an_edge(rib: str) -> st.SearchStrategy[dict[str, Any]]:
        edges = EDGES if rib in TUBULAR_RIBS else EDGES[:-1]
        length = tenths(shortest, longest)
        return st.fixed_dictionaries({"rib": st.just(rib), "length_cm": length, "edge": st.sampled_from(edges)})

    return st.sampled_from(RIBS).flatmap(with_an_edge)


@st.composite
def legs(draw: st.DrawFn, direction: str) -> dict[str, Any]:
    """A leg of some length, or from the toe up one that goes on until half of the yarn is gone."""
    leg: dict[str, Any] = {"length_cm": draw(tenths(2, 30))}
    if direction == "toe-up" and not draw(st.integers(0, 3)):
        leg["until"] = "half the yarn"
    return leg


def needles() -> st.SearchStrategy[dict[str, Any]]:
    """Any arrangement, for one sock or for two at a time."""
    return st.fixed_dictionaries({"arrangement": st.sampled_from(ARRANGEMENTS), "two_at_a_time": st.booleans()})


PLAIN_OR_COLOURFUL: st.SearchStrategy[dict[str, Any] | None] = st.none() | charts()


@st.composite
def requests(draw: st.DrawFn, chart: st.SearchStrategy[dict[str, Any] | None] = PLAIN_OR_COLOURFUL) -> dict[str, Any]:
    """A plan request as parsed JSON, with a chart as it is drawn."""
    drawn = draw(chart)
    construction = draw(constructions())
    foot_pattern = draw(foot_patterns(drawn))
    if drawn and foot_pattern != "plain" and any(len(set(row)) > 1 for row in drawn["rows"]):
        construction["sole"] = "plain"
    stitches = draw(tenths(14, 48))
    rounds = draw(st.none() | st.integers(115, 165).map(lambda ratio: round(stitches * ratio / 100, 1)))
    return {
        "schema": 1,
        "title": "A pair",
        "foot": draw(feet()),
        "gauge": {"stitches_per_10cm": stitches, "rounds_per_10cm": rounds, "basis": "swatch"},
        "ease": {"circumference_percent": draw(tenths(0, 15)), "length_cm": draw(tenths(0, 2))},
        "construction": construction,
        "cuff": draw(cuffs(1, 8)),
        "leg": {**draw(legs(construction["direction"])), "chart": drawn},
        "foot_pattern": foot_pattern,
        "yarns": [{"key": key, "grams": draw(st.integers(30, 120))} for key in "ABCD"],
        "parts": draw(parts()),
        "reinforcing_thread": draw(threads()),
        "needles": draw(needles()),
    }


@st.composite
def anything_allowed(draw: st.DrawFn) -> dict[str, Any]:
    """A request at and between the limits of every entry, however unlikely the foot."""
    stitches = draw(tenths(14, 60))
    rounds = draw(st.none() | st.integers(100, 190).map(lambda ratio: round(stitches * ratio / 100, 1)))
    if rounds is not None:
        rounds = min(max(rounds, 16.0, stitches), 100.0, stitches * 1.9)
    optional = {
        "ankle_circumference_cm": draw(st.none() | tenths(9, 40)),
        "heel_diagonal_cm": draw(st.none() | tenths(12, 50)),
        "leg_circumference_cm": draw(st.none() | tenths(9, 60)),
    }
    return {
        "foot": {"ball_circumference_cm": draw(tenths(9, 35)), "length_cm": draw(tenths(8, 36)), **optional},
        "gauge": {"stitches_per_10cm": stitches, "rounds_per_10cm": rounds},
        "ease": {"circumference_percent": draw(tenths(-5, 25)), "length_cm": draw(tenths(-1, 4))},
        "construction": draw(constructions()),
        "cuff": draw(cuffs(0.5, 10)),
        "leg": {"length_cm": draw(tenths(1, 20)), "chart": draw(st.none() | charts())},
        "yarns": [{"key": key} for key in "ABCD"],
        "parts": draw(parts()),
        "reinforcing_thread": draw(threads()),
    }
