"""The form of a plan document: sections, steps, rounds and ops read into plain records, not knitted.

Nothing here is shared with the program, so that a mistake in the program's own reading cannot hide itself.
"""

from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass, replace
from typing import Any

SIDES = ("round", "RS", "WS")
KINDS = ("plain", "setup", "increase", "decrease", "short-row", "pick-up", "finish")
ZONES = ("leg", "heel", "instep", "sole", "toe")

# Cables by the stitches that cross, those in front first, and the way they lean: "2/1 RPC" takes three.
CABLES = {
    f"{size} {lean}": sum(map(int, size.split("/")))
    for size in ("1/1", "2/1", "2/2", "3/1", "3/3")
    for lean in ("RC", "LC", "RPC", "LPC")
}


def crossing(cable: str) -> tuple[int, list[str]]:
    """How many stitches wait on the cable needle, and how those that pass and then those that waited are worked.

    For a right cross the stitches behind wait in back, for a left cross those in front wait in front.
    """
    size, lean = cable.split()
    front, behind = map(int, size.split("/"))
    ground = ["p" if "P" in lean else "k"] * behind
    return (behind, ["k"] * front + ground) if lean.startswith("R") else (front, ground + ["k"] * front)


# What each op takes from the left needle and how many stitches it makes.
OPS = (
    dict.fromkeys(
        ("k", "p", "ktbl", "ptbl", "sl", "slwyif", "ds", "kds", "pds", "kw", "pw", "ktw", "ptw", "join"), (1, 1)
    )
    | dict.fromkeys(("k2tog", "ssk", "skp", "p2tog", "ssp"), (2, 1))
    | dict.fromkeys(("k3tog", "p3tog", "sssk", "sssp", "s2kpo", "sk2p"), (3, 1))
    | dict.fromkeys(("m1l", "m1r", "m1p", "yo", "co", "pu", "pup", "resume"), (0, 1))
    | dict.fromkeys(("kfb", "pfb"), (1, 2))
    | dict.fromkeys(("bo", "rest", "draw", "sew"), (1, 0))
    | {"graft": (2, 0), "turn": (0, 0), "wrap": (0, 0), "twin": (0, 0)}
    | {name: (count, count) for name, count in CABLES.items()}
)


@dataclass(frozen=True)
class Place:
    """Where in the sock: the section's key, and the round from 1 through the whole sock (0: none yet)."""

    section: str
    number: int = 0

    def __str__(self) -> str:
        return f"round {self.number} ({self.section})" if self.number else f"section {self.section}"


class KnittingError(Exception):
    """A plan that cannot be knitted as it is written: where, and a sentence on why."""

    def __init__(self, place: Place, sentence: str) -> None:
        super().__init__(f"{place}: {sentence}")
        self.place = place
        self.sentence = sentence


@dataclass(frozen=True)
class WrittenRound:
    """One round or row of the document, its repeats written out; `ops` holds one entry a working of an op.

    `kinds_of_ops` names each of them once, and `instep` are the stitches that it makes on the instep.
    """

    place: Place
    side: str
    kind: str
    ops: tuple[str, ...]
    kinds_of_ops: frozenset[str]
    before: int
    after: int
    resting: int
    instep: int


def written_rounds(document: Mapping[str, Any]) -> Iterator[WrittenRound]:
    """Every round of the plan in the order of knitting; raises KnittingError at the first flaw of form."""
    number = 0
    for section in _list(document.get("sections"), "sections", Place("not begun")):
        place = _check_section(section, number)
        rows = False
        for step in section["steps"]:
            read: dict[int, WrittenRound] = {}  # a repeat comes back to the same rounds: each is read once
            times, inside = _repeat(step, "rounds", Place(place.section, number + 1))
            for data in inside * times:
                number += 1
                here, known = Place(place.section, number), read.get(id(data))
                written = read[id(data)] = replace(known, place=here) if known else _read_round(data, here)
                rows = rows or written.side != "round"
                yield written
        if rows != section["flat"]:
            raise KnittingError(place, f"flat is {section['flat']}, but rows are {'' if rows else 'not '}turned here")


def _check_section(section: Any, number: int) -> Place:
    key = section.get("key") if isinstance(section, Mapping) else None
    place = Place(key if isinstance(key, str) else f"after round {number}")
    _keys(section, place, {"key", "title", "flat", "length_cm", "steps"})
    _demand(isinstance(key, str) and isinstance(section["title"], str), place, "key and title are words")
    _demand(isinstance(section["flat"], bool), place, "flat is true or false")
    # A section may be empty: on a short foot the toe can follow the gusset at once.
    if not isinstance(section["steps"], list):  # all of them in words take longer than to read them
        raise KnittingError(place, f"steps is {section['steps']!r:.80}, not a list")
    length = section["length_cm"]
    _demand(length is None or _is_number(length), place, f"length_cm is {length!r}, not a length")
    return place


def _read_round(data: Any, place: Place) -> WrittenRound:
    _keys(data, place, {"side", "kind", "work", "before", "after", "resting"}, {"chart_row", "note"})
    side, kind, note, row = data["side"], data["kind"], data.get("note"), data.get("chart_row")
    _demand(side in SIDES, place, f"side {side!r} is none of {', '.join(SIDES)}")
    _demand(kind in KINDS, place, f"kind {kind!r} is none of {', '.join(KINDS)}")
    _demand(note is None or isinstance(note, str), place, f"the note {note!r} is not text")
    _demand(row is None or _is_count(row, 0), place, f"chart_row {row!r} is not a whole number from 0")
    for name in ("before", "after", "resting"):
        _demand(_is_count(data[name], 0), place, f"{name} is {data[name]!r}, not a number of stitches")
    ops: list[str] = []
    instep = 0
    for part in _list(data["work"], "work", place):
        _keys(part, place, {"zone", "ops"})
        _demand(part["zone"] in ZONES, place, f"zone {part['zone']!r} is none of {', '.join(ZONES)}")
        worked = tuple(_write_out(part["ops"], place))
        instep += sum(CABLES.get(op) or OPS[op][1] for op in worked) if part["zone"] == "instep" else 0
        ops.extend(worked)
    counts = data["before"], data["after"], data["resting"]
    return WrittenRound(place, side, kind, tuple(ops), frozenset(ops), *counts, instep)


def _write_out(ops: Any, place: Place) -> Iterator[str]:
    for op in _list(ops, "ops", place):
        if isinstance(op, dict) and "op" not in op:
            times, inside = _repeat(op, "ops", place)
            yield from (*_write_out(inside, place),) * times
            continue
        _keys(op, place, {"op"}, {"n", "yarn"})
        name, count, yarn = op["op"], op.get("n", 1), op.get("yarn", "A")
        if name not in OPS:
            raise KnittingError(place, f"nobody knows how to work {name!r}")
        if not _is_count(count, 1):
            raise KnittingError(place, f"{name} {count!r} times: a whole number from 1 is needed")
        if not isinstance(yarn, str) or not yarn:
            raise KnittingError(place, f"{yarn!r} is not the key of a yarn")
        yield from (name,) * count


def _repeat(repeat: Any, name: str, place: Place) -> tuple[int, list[Any]]:
    """How often a repeat `{"times": n, name: [...]}` is worked, and what it holds."""
    _keys(repeat, place, {"times", name})
    times, inside = repeat["times"], _list(repeat[name], name, place)
    _demand(_is_count(times, 1), place, f"a repeat of {times!r} times: a whole number from 1 is needed")
    return times, inside


def _keys(data: Any, place: Place, needed: Set[str], allowed: Set[str] = frozenset()) -> None:
    # Every op comes by here, and what is wrong takes longer to say than to find.
    if not isinstance(data, dict):
        raise KnittingError(place, f"{data!r} is not an object with keys")
    if missing := needed - data.keys():
        raise KnittingError(place, f"{', '.join(sorted(missing))} missing in {data!r:.80}")
    if unknown := data.keys() - needed - allowed:
        raise KnittingError(place, f"unknown key {', '.join(sorted(map(str, unknown)))}")


def _list(data: Any, name: str, place: Place) -> list[Any]:
    if not isinstance(data, list) or not data:
        raise KnittingError(place, f"{name} is {data!r:.80}, not a list with something in it")
    return data


def _is_count(value: Any, least: int) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and value >= least


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and value >= 0


def _demand(holds: bool, place: Place, sentence: str) -> None:
    if not holds:
        raise KnittingError(place, sentence)
