"""What is said of stitches on needles, for each kind of needle: sentences with room for the counts.

How each kind of needle is used is common practice.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, TypeAlias

from ..request.plan_request import Arrangement

Moment: TypeAlias = Literal[
    "cast on", "tip", "provisional", "round", "rows", "more rows", "pick up", "after rows", "opening"
]
"""What a section begins with: a cast-on at the cuff, round the tip, or one whose loops wait; a round; rows, or rows
after rows; stitches picked up along a flap; a round after rows; the opening of an afterthought heel."""


@dataclass(frozen=True)
class NeedleWords:
    """Sentences by moment; {lower} and {upper} count the halves, {one} to {four} the stitches on four needles.

    `to_the_heel` and `to_the_instep` come first where {moved} stitches change halves; `closed` is said of a section
    that ends with a closed tip, and `grafted` where that is grafted; `crowded` of rows that are too many for one
    needle, and `two` of socks knitted two at a time.
    """

    at: Mapping[Moment, str]
    to_the_heel: str
    to_the_instep: str
    closed: str = ""
    grafted: str = ""
    crowded: str = ""
    two: str = "Two at a time: each sock has its own needles and its own ball."


FOUR = "{one}, {two}, {three} and {four} stitches on needles 1 to 4"

DOUBLE_POINTED = NeedleWords(
    at={
        "cast on": f"{FOUR}. The round begins with needle 1. "
        "Needles 1 and 2 will be the heel, needles 3 and 4 the instep.",
        "tip": "{lower} stitches on needle 1 for the sole, {upper} on needle 3 for the instep. The round begins with "
        "needle 1. When they crowd, needle 2 takes half of the sole, and needle 4 half of the instep.",
        "provisional": "{lower} stitches on needle 1, worked in rows. "
        "The loops that the waste yarn keeps will go on needles 3 and 4.",
        "round": f"{FOUR}. The round begins with needle 1.",
        "rows": "Slip the stitches of needle 2 onto needle 1, where the rows are worked: it has {lower}, "
        "while {three} and {four} wait on needles 3 and 4.",
        "more rows": "The rows go on there: {lower} stitches on needle 1, "
        "while {three} and {four} wait on needles 3 and 4.",
        "pick up": "{lower} stitches of the heel on needle 1; {three} and {four} on needles 3 and 4. When both edges "
        "are picked up, share the sole between needles 1 and 2; the round begins with needle 1.",
        "after rows": f"Share the stitches of needle 1 with needle 2. {FOUR}. The round begins with needle 1.",
        "opening": f"When all are picked up: {FOUR}, two for each edge. The round begins with needle 1. "
        "For the grafting, each half goes on one.",
    },
    to_the_heel="First move {moved} from the beginning of needle 3 to the end of needle 2.",
    to_the_instep="First move {moved} from the end of needle 2 to the beginning of needle 3.",
    grafted="For the grafting, each half goes on one needle.",
    crowded="If they crowd it, let the outer ones wait on a needle of their own.",
)  # fmt: skip


def _in_halves(first: str, second: str, begins: str, way: str, two: str) -> NeedleWords:
    """The words for needles that hold the stitches in two halves; `way` is how they are used."""
    spread = f"{{lower}} stitches on {first}, {{upper}} on {second}"
    begins = f"The round begins with {begins}."
    return NeedleWords(
        at={
            "cast on": f"{spread}. {begins} {first[0].upper()}{first[1:]} will be the heel, {second} the instep. {way}",
            "tip": f"{{lower}} stitches on {first} for the sole, {{upper}} on {second} for the instep. {begins} {way}",
            "provisional": f"{{lower}} stitches on {first}, worked in rows. "
            f"The loops that the waste yarn keeps will go on {second}. {way}",
            "round": f"{spread}. {begins}",
            "rows": f"The rows are worked on {first}, which has {{lower}} stitches; the {{upper}} on {second} wait.",
            "more rows": f"The rows go on there: {{lower}} stitches on {first}, while the {{upper}} on {second} wait.",
            "pick up": f"{spread}. The stitches picked up at both edges join the {{lower}}. From then on "
            f"{begins[0].lower()}{begins[1:]}",
            "after rows": f"{spread}. {begins}",
            "opening": f"When all are picked up: {spread}, one for each edge. {begins}",
        },
        to_the_heel=f"First move {{moved}} from the beginning of {second} to the end of {first}.",
        to_the_instep=f"First move {{moved}} from the end of {first} to the beginning of {second}.",
        two=two,
    )  # fmt: skip


MARKED = "{total} stitches, with a marker where the round begins and another after {lower}"
THEN_ROUND = "When the stitches reach round, change to the short circular needle, with a marker where each half begins."

SHORT_CIRCULAR = NeedleWords(
    at={
        "cast on": f"{MARKED}. The first part will be the heel, the second the instep.",
        "tip": f"Begin on double-pointed needles. {DOUBLE_POINTED.at['tip']} {THEN_ROUND}",
        "provisional": f"Begin on double-pointed needles. {DOUBLE_POINTED.at['provisional']} {THEN_ROUND}",
        "round": f"{MARKED}.",
        "rows": "Take the {lower} stitches up to the second marker on two double-pointed needles, and work the rows "
        "there; the other {upper} wait on the short circular one.",
        "more rows": "The rows go on there: {lower} stitches; the other {upper} wait on the short circular needle.",
        "pick up": "{lower} stitches of the heel, and {upper} on the short circular needle, which takes them all and "
        "those picked up. Then mark where the sole begins, for the round begins there, and where the instep begins.",
        "after rows": f"All on the short circular needle. {MARKED}.",
        "opening": f"On double-pointed needles, for a short circular one is too wide. {DOUBLE_POINTED.at['opening']}",
    },
    to_the_heel="First move the second marker {moved} on.",
    to_the_instep="First move the second marker {moved} back.",
    closed="When the stitches no longer reach round, change to double-pointed needles.",
    grafted="For the grafting, each half goes on one.",
)  # fmt: skip

NOTES: Mapping[Arrangement, NeedleWords] = {
    "double-pointed": DOUBLE_POINTED,
    "long circular": _in_halves(
        "the first half of the needle",
        "the second half",
        "the first half",
        "Between the halves the cable is drawn out in a loop.",
        "Two at a time: both socks lie side by side, each with its own ball. "
        "Knit the first halves of both, turn, then the second halves of both.",
    ),
    "two short circulars": _in_halves(
        "needle 1",
        "needle 2",
        "needle 1",
        "Each needle knits its own stitches with its own other tip.",
        "Two at a time: both socks lie side by side, each with its own ball. "
        "Knit needle 1 of both, turn, then needle 2 of both.",
    ),
    "flexible double-pointed": _in_halves(
        "needle 1",
        "needle 2",
        "needle 1",
        "The third needle knits them, one after the other.",
        DOUBLE_POINTED.two,
    ),
    "short circular": SHORT_CIRCULAR,
}
