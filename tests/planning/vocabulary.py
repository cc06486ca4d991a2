"""A request for each word that a sock can be asked for with, beside the usual one."""

from __future__ import annotations

from typing import Any

from companion.planning.fit.leg_heights import ADULTS_FOOT_CM, HEIGHTS, lengths_of
from tests.planning.requests import DIRECTIONS, EDGES, FLAPS, HEELS, SHORT_ROWS, SOLES, TOE_STARTS, TOES, TURNS

_UP: dict[str, Any] = {"direction": "toe-up"}
_OWN: dict[str, Any] = {"yarns": [{"key": "A"}, {"key": "B"}]}


def _constructions() -> dict[str, dict[str, Any]]:
    """The words of a construction, in each direction that follows them."""
    both: dict[str, dict[str, Any]] = {
        **{f"{heel} heel": {"heel": heel} for heel in HEELS[1:]},
        **{f"{toe} toe": {"toe": toe} for toe in TOES[1:]},
        **{f"{turn} turn": {"turn": turn} for turn in TURNS[1:]},
        **{f"{sole} sole": {"sole": sole} for sole in SOLES[1:]},
        "padded from the heel on": {"sole": "slipped", "sole_from_heel": True},
        **{f"{way}, short rows": {"heel": "short-row", "short_rows": way} for way in SHORT_ROWS[1:]},
        **{f"{rounds} rounds between": {"heel": "short-row", "rounds_between": rounds} for rounds in (1, 2)},
    }
    return {
        "toe-up": _UP,
        **{f"{name}, {way}": {**words, "direction": way} for name, words in both.items() for way in DIRECTIONS},
        **{f"{flap} flap": {"flap": flap} for flap in FLAPS[1:]},
        **{f"{flap} back of a strong heel": {"heel": "strong", "flap": flap} for flap in FLAPS[1:]},
        "garter edge": {"garter_edge": True},
        **{f"{start} cast-on": {**_UP, "toe": "star", "toe_start": start} for start in TOE_STARTS[1:]},
    }


def _heights() -> dict[str, dict[str, Any]]:
    """The heights by name but for the usual one."""
    lengths = {name: lengths_of(name, ADULTS_FOOT_CM) for name in HEIGHTS if name != "crew"}
    return {name: {"leg": {"length_cm": leg}, "cuff": {"length_cm": cuff}} for name, (leg, cuff) in lengths.items()}


VOCABULARY: dict[str, dict[str, Any]] = {
    **{name: {"construction": words} for name, words in _constructions().items()},
    **{
        f"{edge}, {way}": {"cuff": {"rib": "k1 p1", "edge": edge}, "construction": {"direction": way}}
        for edge in EDGES[1:]
        for way in DIRECTIONS
    },
    **_heights(),
    **{f"{part} in B": {**_OWN, "parts": {part: "B"}} for part in ("cuff", "heel", "toe")},
    **{f"{part} with a thread": {"reinforcing_thread": {part: True}} for part in ("heel", "toe")},
    "thread of known length": {"reinforcing_thread": {"toe": True, "metres_per_100g": 500}},
    "self-striping": {"yarns": [{"key": "A", "colour_repeat_metres": 9.5}]},
}
"""The sections of a request for each word, by what it is called here."""
