"""What the constructions are called, and when each suits."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import NamedTuple

from ..request.construction import Construction
from .constructions import HEELS, TOES, Heel, Toe, parts_of


class Way(NamedTuple):
    """One way to make a part of the sock: its name in a sentence, and when it suits (common practice)."""

    name: str
    suits: str


WAYS: Mapping[str, Mapping[str, Way | Heel | Toe]] = {
    "direction": {
        "cuff-down": Way("cuff-down", "Cast on at the cuff, closed at the toe: the foot is fitted last."),
        "toe-up": Way("toe-up", "Tried on as it grows; the leg can go on until the yarn is used up."),
    },
    "heel": HEELS,
    "toe": TOES,
    "turn": {
        "round": Way("round turn", "A rounded cup; suits most heels."),
        "square": Way("square turn", "A band of one width under the heel; every row is alike."),
        "V": Way("V turn", "Comes to a point, for a slender heel."),
    },
    "flap": {
        "slipped": Way("slipped stitches", "Every second stitch slipped: thick, and it wears well."),
        "offset slipped": Way(
            "offset slipped stitches", "The same, moved by one each time: just as thick and more even."
        ),
        "plain": Way("plain knitting", "Thin, for close shoes or thick yarn."),
    },
    "sole": {
        "plain": Way("plain sole", "Knit like the instep: elastic, and it fits in any shoe."),
        "slipped": Way("padded sole", "Every second stitch slipped in every second round: thick, and it wears well."),
        "offset slipped": Way("offset padded sole", "The same, moved by one each time: just as thick and more even."),
        "garter": Way("garter sole", "Every second round purled: soft and thick, for boots and about the house."),
        "purl": Way("purl sole", "The smooth side lies against the foot, for tender soles."),
        "ribbed arch": Way("ribbed arch", "Plain but for ribbing under the arch, which draws the foot together."),
    },
    "short_rows": {
        "double stitch": Way(
            "double stitches", "The stitch at each turn is pulled up into two legs; quick, easily seen."
        ),
        "wrap and turn": Way("wrap and turn", "The yarn goes round the stitch beyond each turn, and is lifted later."),
        "shadow wrap": Way("shadow wraps", "A second loop is drawn beside the stitch beyond each turn; hardly seen."),
        "yarn over": Way("yarn overs", "Each row begins with a yarn over, which is later worked with the next stitch."),
    },
    "toe_start": {
        "figure-eight": Way("figure-eight cast-on", "Wound around two needles and drawn tight: no slip knot."),
        "Turkish": Way("Turkish cast-on", "Wound straight around two needles: quick and even."),
        "pinhole": Way("pinhole cast-on", "Looped into a ring that is drawn shut, for a round or a star toe."),
    },
    "leg_until": {
        "length": Way("for a length", "As long as you want it; the plan says whether the yarn is enough."),
        "half the yarn": Way(
            "until half the yarn is gone", "As long as half of the yarn at hand makes it, the cuff allowed for."
        ),
    },
}
"""By the fields of the plan form, and by their values in a request."""


ROUNDS_BETWEEN = {0: "none", 1: "one round", 2: "two rounds"}
"""Rounds between the halves of a short-row heel, in words."""


def _names(construction: Construction, *parts: str) -> list[str]:
    return [WAYS[part][getattr(construction, part)].name for part in parts]


def construction_words(construction: Construction, hidden: Collection[str] = ()) -> str:
    """A construction in a line: "cuff-down, heel flap, wedge toe", with "heel kept secret" where that is hidden."""
    parts = ("direction", "heel", "toe")
    return ", ".join(f"{part} kept secret" if part in hidden else _names(construction, part)[0] for part in parts)


def sole_words(construction: Construction) -> str:
    """The fabric of the sole: "padded sole, from the heel on"; empty for a plain one."""
    if construction.sole == "plain":
        return ""
    from_heel = construction.sole_from_heel and construction.sole != "ribbed arch"
    return ", ".join([*_names(construction, "sole"), *["from the heel on"] * from_heel])


def flap_words(construction: Construction) -> str:
    """How a heel flap is made: "round turn, slipped stitches, garter edge"; empty for other heels."""
    followed = _followed(construction)
    garter_edge = construction.garter_edge and "garter_edge" in followed
    made = [part for part in ("turn", "flap") if part in followed]
    return ", ".join(_names(construction, *made) + ["garter edge"] * garter_edge)


def short_row_words(construction: Construction) -> str:
    """How short rows are turned: "wrap and turn, two rounds between the halves of the heel"; empty without any."""
    followed = _followed(construction)
    words = _names(construction, "short_rows") if "short_rows" in followed else []
    if "rounds_between" in followed and construction.rounds_between:
        words.append(f"{ROUNDS_BETWEEN[construction.rounds_between]} between the halves of the heel")
    return ", ".join(words)


def toe_start_words(construction: Construction) -> str:
    """How a toe is cast on that begins the sock: "Turkish cast-on"; empty for another."""
    return ", ".join(_names(construction, "toe_start") if "toe_start" in _followed(construction) else [])


def _followed(construction: Construction) -> set[str]:
    """The entries that its parts follow."""
    return {entry for part in parts_of(construction) for entry in part.follows}
