"""The words of a stitch pattern's row, one by one, each with its place in what was typed."""

from __future__ import annotations

import re
from typing import Literal, NamedTuple, TypeAlias, get_args

from .operations import CABLES, OpName

Kind: TypeAlias = Literal["stitch", "counted", "number", "word", "sign", "end"]

NAMED: dict[str, OpName] = {
    "k2tog": "k2tog", "ssk": "ssk", "skp": "skp", "skpo": "skp", "p2tog": "p2tog", "ssp": "ssp", "k3tog": "k3tog",
    "p3tog": "p3tog", "sssk": "sssk", "sssp": "sssp", "s2kpo": "s2kpo", "s2kp2": "s2kpo", "s2kp": "s2kpo",
    "cdd": "s2kpo", "sk2p": "sk2p", "sk2po": "sk2p", "m1l": "m1l", "m1r": "m1r", "m1p": "m1p", "m1": "m1l", "yo": "yo",
    "yf": "yo", "yfwd": "yo", "yon": "yo", "yrn": "yo", "kfb": "kfb", "pfb": "pfb", "ktbl": "ktbl", "ptbl": "ptbl",
    "rt": "1/1 RC", "lt": "1/1 LC", "c2b": "1/1 RC", "c2f": "1/1 LC", "c3b": "2/1 RC", "c3f": "2/1 LC", "c4b": "2/2 RC",
    "c4f": "2/2 LC", "c6b": "3/3 RC", "c6f": "3/3 LC", "t2b": "1/1 RPC", "t2f": "1/1 LPC", "t3b": "2/1 RPC",
    "t3f": "2/1 LPC", "t4b": "2/2 RPC", "t4f": "2/2 LPC",
}  # fmt: skip
"""Stitches by what they are called in patterns; several names are in use for some of them (common practice)."""

COUNTED: dict[str, OpName] = {"k": "k", "knit": "k", "p": "p", "purl": "p", "sl": "sl", "slip": "sl"}
"""Stitches whose number follows their name."""

_APART = r"(?:[\s,;-]|and\b)*"
_OVER = r"pass\s+(?:the\s+)?(?:{})\s+over"
_KNITWISE = r"(?:k(?:nit)?[\s-]*w(?:ise)?|as\s+if\s+to\s+knit)"
_SL1 = rf"(?:slip|sl|s)\s*1(?:\s*(?:st|stitch))?(?:\s*{_KNITWISE})?"
_SL2 = rf"(?:slip|sl|s)\s*2(?:\s*(?:sts|stitches))?(?:\s*tog(?:ether)?)?(?:\s*{_KNITWISE})?"
_PSSO = rf"(?:psso|{_OVER.format('sl(?:ipped)? st(?:itch)?')})"
_P2SSO = rf"(?:p2sso|{_OVER.format('(?:2 |two )?sl(?:ipped)? (?:sts|stitches)')})"
_TOGETHER = r"tog(?:ether)?(?![a-z])"
_TOGETHER_TBL = r"tog(?:ether)?[\s-]*(?:tbl|through\s+(?:the\s+)?back\s+loops?)(?![a-z])"

_WRITTEN_OUT: dict[str, OpName] = {
    rf"{_SL1}{_APART}k(?:nit)?\s*1{_APART}{_PSSO}": "skp",
    rf"{_SL1}{_APART}k\s*2\s*tog(?:ether)?{_APART}{_PSSO}": "sk2p",
    rf"{_SL2}{_APART}k(?:nit)?\s*1{_APART}{_P2SSO}": "s2kpo",
    rf"k(?:nit)?\s*(?:2|two)\s*{_TOGETHER_TBL}": "ssk",
    rf"k(?:nit)?\s*(?:3|three)\s*{_TOGETHER_TBL}": "sssk",
    rf"p(?:url)?\s*(?:2|two)\s*{_TOGETHER_TBL}": "ssp",
    rf"p(?:url)?\s*(?:3|three)\s*{_TOGETHER_TBL}": "sssp",
    rf"k(?:nit)?\s*(?:2|two)\s*{_TOGETHER}": "k2tog",
    rf"k(?:nit)?\s*(?:3|three)\s*{_TOGETHER}": "k3tog",
    rf"p(?:url)?\s*(?:2|two)\s*{_TOGETHER}": "p2tog",
    rf"p(?:url)?\s*(?:3|three)\s*{_TOGETHER}": "p3tog",
    r"k1?f\s*[&/]?\s*b(?![a-z])": "kfb",
    r"y/o(?![a-z])": "yo",
}
"""Stitches that patterns also spell out: "sl1, k2tog, psso". Through the back loops two together lean as an ssk."""

_SAID = {
    "tbl": r"-?\s*(?:tbl|through\s+(?:the\s+)?back\s+loops?)(?![a-z])",
    "wyif": r"(?:wyif|with\s+(?:the\s+)?yarn\s+in\s+front)(?![a-z])",
    "wyib": r"(?:wyib|with\s+(?:the\s+)?yarn\s+in\s+back)(?![a-z])",
    "pwise": r"(?:p(?:url)?-?wise|pw|as\s+if\s+to\s+purl)(?![a-z])|(?<=sl1)p(?![a-z]|\s*\d)",
    "kwise": rf"{_KNITWISE}(?![a-z])|(?<=sl1)k(?![a-z]|\s*\d)",
    "round": r"(?:rounds?|rnds?|rds?)(?![a-z])\.?|r(?=\d)",
    "row": r"rows?(?![a-z])\.?",
    "rs": r"(?:rs|right[\s-]*sides?)(?:\s+facing)?(?![a-z])",
    "ws": r"(?:ws|wrong[\s-]*sides?)(?:\s+facing)?(?![a-z])",
    "st": r"(?:sts?|stitch|stitches)(?![a-z])",
    "repeat": r"rep(?:eat)?(?![a-z])\.?",
    "following": r"foll(?:owing|g)?(?![a-z])\.?",
    "even": r"even(?:-?\s?numbered)?(?![a-z])",
    "odd": r"odd(?:-?\s?numbered)?(?![a-z])",
    "other": r"(?:other|second|alternate|alt)(?![a-z])",
}
"""Words that are said in several ways, by the one that stands for them."""

_NUMBERS = {word: str(number) for number, word in enumerate(("one", "two", "three", "four", "five", "six"), start=1)}
_CABLES = {name.replace(" ", "").lower(): name for name in CABLES}
_NAME = "|".join(sorted(NAMED, key=len, reverse=True))
_WORD = re.compile(
    r"\s*(?:(?P<cable>\d+/\d+(?:/\d+)?\s*[rl][kp]?c\b|(?:cr?|t)\d+[bflr](?![a-z]))"
    + "".join(rf"|(?P<written{number}>{way})" for number, way in enumerate(_WRITTEN_OUT))
    + "".join(rf"|(?P<{word}>{way})" for word, way in _SAID.items())
    + rf"|(?P<stitch>(?:{_NAME})(?![a-z]))|(?P<counted>(?:knit|purl|slip|sl|k|p)(?![a-z]|2sso))"
    rf"|(?P<number>\d+(?:(?:st|nd|rd|th)(?![a-z]))?|(?:{'|'.join(_NUMBERS)})(?![a-z]))"
    r"|(?P<word>p2sso|x(?=\d)|[a-z]+\d*)|(?P<sign>\S))"
)
_WORKED = {f"written{number}": name for number, name in enumerate(_WRITTEN_OUT.values())}
_KINDS: dict[str, Kind] = {each: each for each in get_args(Kind)}

_SUM = re.compile(r"[\s,;.]*[(\[=\u2013-]\s*\d+\s*(?:sts?|stitches)\s*[)\].\s]*$")
"""The stitches at the end of a row, as patterns count them there: "(64 sts)"."""


class Token(NamedTuple):
    """A word, its number where it is one, and where it begins in the row."""

    kind: Kind
    text: str
    at: int
    name: OpName | None = None


def tokens_of(row: str) -> list[Token]:
    """The words of a row in any case, up to one that stands for its end; a sum of stitches there is passed over."""
    text = _SUM.sub("", _plain(row))
    found = []
    at = 0
    while match := _WORD.match(text, at):
        group = match.lastgroup or ""
        found.append(_token(group, match[group], match.start(group)))
        at = match.end()
    return [*found, Token("end", "", len(row))]


_SIGNS = str.maketrans({"\u00d7": "x", "\u2013": "-", "\u2014": "-", "\u2026": ".", "{": "[", "}": "]"})


def _plain(row: str) -> str:
    """The row in small letters, each sign in its usual form and at its place."""
    return "".join(small if len(small := each.lower()) == 1 else each for each in row).translate(_SIGNS)


def _token(group: str, text: str, at: int) -> Token:
    """A word of one of the groups above."""
    if group.startswith("written"):
        return Token("stitch", text, at, _WORKED[group])
    if group == "cable":
        name = _CABLES.get("".join(text.split())) or NAMED.get(text)
        return Token("stitch", text, at, name) if name else Token("word", "cable", at)
    if group in _SAID:
        return Token("word", group, at)
    kind = _KINDS[group]
    number = _NUMBERS.get(text) or text.rstrip("stndrh")
    return Token(kind, number if kind == "number" else text, at, {**NAMED, **COUNTED}.get(text))
