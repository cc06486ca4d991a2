"""Stitches in a row, one after another and in brackets, each as often as it says.

    items    = { item [ "," | ";" | "." ] }
    item     = ( "[" items "]" | "(" items ")" [ "into" "double" "yo" ] | stitch ) [ times ]
    times    = "x" number | number "times" | "twice"
    stitch   = "k" [ number ] [ "tbl" ] | "sl" [ number ] [ yarn ] | yarn "sl" [ number ] | "k2tog" | "2/2 RC" | ...
    yarn     = "wyif" | "wyib"

The ways to write a stitch are in `tokens`.
"""

from __future__ import annotations

from typing import NamedTuple

from .labels import NOUNS
from .operations import CABLES, Names, OpName
from .sides import FROM_BEHIND
from .tokens import Token
from .words import ReadingError, Words

MOST_STITCHES = 60
"""Stitches of a repeat (ours): those of a colour chart."""

MOST_OPERATIONS = 2 * MOST_STITCHES
"""Operations of one row: between any two stitches there may be a yarn over."""

MOST_NESTED = 8
"""Brackets in brackets (ours)."""

CLOSING = {"[": "]", "(": ")"}
TIMES = {"once": 1, "twice": 2, "thrice": 3}
THROUGH: dict[OpName, OpName] = {"k": "ktbl", "p": "ptbl"}

EXAMPLE = "k2, p1, yo, k2tog, 2/2 RC or [k1, p1] x 3"
A_LINE = "a new line is expected for each round"
ONE_STAR = "one repeat in a row is expected"
DECREASES = "“sl1, k1, psso”, “sl1, k2tog, psso” or “sl2, k1, p2sso” is expected"
PURLWISE = "a slipped stitch is expected to be slipped purlwise, but in a decrease like “sl1, k1, psso”"
INTO_ONE = (
    "the next stitch is expected: several stitches worked into one are not read but kfb, pfb and into a double yo"
)
NO_BOBBLE = "a stitch is expected: bobbles are not read, so type k1 in their place"
NOT_FROM_BEHIND = (
    "a stitch is expected that the wrong side can work: type every row as a round, the way the outside shows it"
)

_SIZES = dict.fromkeys(name.split()[0] for name in CABLES)
A_CABLE = f"a cable of {', '.join(_SIZES)} stitches is expected, like 2/2 RC or C4F"

MEANT = {
    "psso": DECREASES, "p2sso": DECREASES, "pass": DECREASES, "kwise": PURLWISE, "*": ONE_STAR,
    **dict.fromkeys(("in", "into"), INTO_ONE), **dict.fromkeys(("bobble", "mb"), NO_BOBBLE),
    **dict.fromkeys(NOUNS, A_LINE), "cable": A_CABLE,
}  # fmt: skip
"""What is expected in place of words that patterns have and that are not read."""


class LastItem(NamedTuple):
    """Where an item begins, and whether it is a stitch without a number, or a bracket without one."""

    at: int = 0
    unnumbered: bool = False
    bracketed: bool = False


class Items:
    """Going through the stitches of a row, which is worked from the right side or from the wrong one.

    `knitwise` are the words that slip a stitch knitwise beside no decrease, which only an edge may have; `last` is the
    last item that stands in no bracket.
    """

    def __init__(self, words: Words, *, wrong_side: bool) -> None:
        self._words = words
        self._wrong_side = wrong_side
        self.knitwise: list[Token] = []
        self.last = LastItem()

    def read(self, deep: int = 0) -> list[Names]:
        """Items up to a bracket that closes, a star, or the end, inside so many brackets."""
        words = self._words
        items: list[Names] = []
        while self._sees_an_item():
            begins = words.here
            items.append(self._item(deep))
            if sum(map(len, items)) > MOST_OPERATIONS:
                raise _too_wide(words, begins)
            if not deep:
                closed = words.before
                self.last = LastItem(begins.at, closed.kind == "counted", closed.text in CLOSING.values())
            words.skips(",", ";", ".", "-")
        return items

    def _sees_an_item(self) -> bool:
        words = self._words
        if words.here.kind in ("stitch", "counted") or words.sees(*CLOSING):
            return True
        yarn_first = words.sees("wyif", "wyib") and words.ahead.text in ("sl", "slip")
        return yarn_first or words.sees("edge") or (words.here.kind == "number" and words.ahead.text == "edge")

    def _edge(self) -> Names:
        """Edge stitches, which nobody says how to work: "1 edge stitch"."""
        words = self._words
        number = words.number(MOST_STITCHES) if words.here.kind == "number" else 1
        words.skips("edge", "st")
        edge: Names = ("k",)
        return edge * number

    def _item(self, deep: int) -> Names:
        words = self._words
        begins = words.here
        if words.sees("edge") or words.ahead.text == "edge":
            return self._edge()
        names = self._group(deep + 1) if words.sees(*CLOSING) else self._stitch()
        self._into_yarn_overs()
        times = 1
        if words.sees(*TIMES):
            times = TIMES[words.word().text]
        elif words.takes("x"):
            times = words.number(MOST_OPERATIONS)
        elif words.here.kind == "number":
            times = words.number(MOST_OPERATIONS)
            if not words.takes("times", "x") and names != ("yo",):
                raise words.expected("“times” is expected after this number")
        if times * len(names) > MOST_OPERATIONS:
            raise _too_wide(words, begins)
        return names * times

    def _into_yarn_overs(self) -> None:
        """Passes over what says that stitches are worked into a double yarn over, which has two loops for them."""
        words = self._words
        into = words.here
        if words.takes("in", "into"):
            words.skips("the", "each", "double")
            if words.here.name != "yo":
                raise words.expected(INTO_ONE, into)
            words.word()

    def _group(self, deep: int) -> Names:
        words = self._words
        if deep > MOST_NESTED:
            raise words.expected(f"brackets in brackets are expected {MOST_NESTED} deep at most")
        closes = CLOSING[words.word().text]
        names: Names = sum(self.read(deep), ())
        if not names:
            raise words.expected(f"stitches are expected in the brackets, like {EXAMPLE}")
        if not words.takes(closes):
            raise words.expected(MEANT.get(words.here.text, f"“{closes}” is expected, or another stitch"))
        return names

    def _stitch(self) -> Names:
        words = self._words
        yarn = words.word().text if words.sees("wyif", "wyib") else ""
        token = words.word()
        assert token.name
        if self._wrong_side and token.name not in FROM_BEHIND:
            raise words.expected(NOT_FROM_BEHIND, token)
        if token.kind == "stitch":
            return (token.name,)
        if words.sees("-") and words.ahead.kind == "number":
            words.word()
        counted = words.here.kind == "number" and words.ahead.text != "times"
        number = words.number(MOST_STITCHES) if counted else 1
        if counted:
            words.takes("st")
        return (self._worked(token.name, yarn),) * number

    def _worked(self, name: OpName, yarn: str) -> OpName:
        """A counted stitch with what is said of it: through the back loop, or where the yarn is while it is slipped.

        Where that is not said the yarn lies on the wrong side (common practice), which is in front of who works there.
        """
        words = self._words
        if name in THROUGH and words.takes("tbl"):
            return THROUGH[name]
        if name != "sl":
            return name
        words.takes("pwise")
        if words.sees("kwise"):
            self.knitwise.append(words.word())
        yarn = words.word().text if words.sees("wyif", "wyib") else yarn
        return "slwyif" if yarn == "wyif" or (self._wrong_side and not yarn) else "sl"


def _too_wide(words: Words, at: Token) -> ReadingError:
    return words.expected(f"a repeat of {MOST_STITCHES} stitches at most is expected", at)
