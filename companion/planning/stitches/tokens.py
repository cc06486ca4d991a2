"""The words of a stitch pattern's row, one by one, each with its place in what was typed."""

from __future__ import annotations

import re
from typing import Literal, NamedTuple, TypeAlias

from .operations import CABLES, OpName

Kind: TypeAlias = Literal["stitch", "counted", "number", "word", "sign", "end"]

NAMED: dict[str, OpName] = {
    "k2tog": "k2tog", "ssk": "ssk", "skp": "skp", "skpo": "skp", "p2tog": "p2tog", "ssp": "ssp", "k3tog": "k3tog",
    "sssk": "sssk", "s2kpo": "s2kpo", "s2kp2": "s2kpo", "s2kp": "s2kpo", "cdd": "s2kpo", "sk2p": "sk2p",
    "sk2po": "sk2p", "m1l": "m1l", "m1r": "m1r", "m1p": "m1p", "m1": "m1l", "yo": "yo", "yf": "yo", "yfwd": "yo",
    "yon": "yo", "yrn": "yo", "kfb": "kfb", "pfb": "pfb", "ktbl": "ktbl", "ptbl": "ptbl",
    "rt": "1/1 RC", "lt": "1/1 LC", "c2b": "1/1 RC", "c2f": "1/1 LC", "c3b": "2/1 RC", "c3f": "2/1 LC",
    "c4b": "2/2 RC", "c4f": "2/2 LC", "c6b": "3/3 RC", "c6f": "3/3 LC", "t2b": "1/1 RPC", "t2f": "1/1 LPC",
    "t3b": "2/1 RPC", "t3f": "2/1 LPC", "t4b": "2/2 RPC", "t4f": "2/2 LPC",
}  # fmt: skip
"""Stitches by what they are called in patterns; several names are in use for some of them (common practice)."""

COUNTED: dict[str, OpName] = {"k": "k", "knit": "k", "p": "p", "purl": "p", "sl": "sl", "slip": "sl"}
"""Stitches whose number follows their name."""

_CABLES = {name.replace(" ", "").lower(): name for name in CABLES}
_CABLE = r"\d+/\d+\s*[rl]p?c\b"
_NAME = "|".join(sorted(NAMED, key=len, reverse=True))
_WORD = re.compile(
    rf"\s*(?:(?P<cable>{_CABLE})|(?P<stitch>(?:{_NAME})(?![a-z]))|(?P<counted>(?:knit|purl|slip|sl|k|p)(?![a-z]|2sso))"
    r"|(?P<number>\d+)|(?P<word>p2sso|[a-z]+\d*)|(?P<sign>\S))"
)


class Token(NamedTuple):
    """A word, its number where it is one, and where it begins in the row."""

    kind: Kind
    text: str
    at: int
    name: OpName | None = None


def tokens_of(row: str) -> list[Token]:
    """The words of a row in any case, up to one that stands for its end."""
    text = _plain(row)
    found = []
    at = 0
    while match := _WORD.match(text, at):
        begins = match.start(match.lastgroup or 0)
        found.append(_token(match.lastgroup or "", match[match.lastgroup or 0], begins))
        at = match.end()
    return [*found, Token("end", "", len(row))]


_SIGNS = str.maketrans({"\u00d7": "x", "\u2013": "-", "\u2014": "-", "\u2026": ".", "{": "[", "}": "]"})


def _plain(row: str) -> str:
    """The row in small letters, each sign in its usual form and at its place."""
    return "".join(small if len(small := each.lower()) == 1 else each for each in row).translate(_SIGNS)


def _token(kind: str, text: str, at: int) -> Token:
    if kind == "cable":
        name = _CABLES.get("".join(text.split()))
        return Token("stitch" if name else "word", text, at, name)
    if kind == "stitch":
        return Token("stitch", text, at, NAMED[text])
    if kind == "counted":
        return Token("counted", text, at, COUNTED[text])
    return Token("number" if kind == "number" else "sign" if kind == "sign" else "word", text, at)
