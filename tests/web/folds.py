"""The numbers on a page, and those that open to the sum behind them."""

from __future__ import annotations

import re
from html.parser import HTMLParser

NUMBER = re.compile(r"(?<![\w.,/])\d+(?:,\d{3})*(?:\.\d+)?(?: \d/\d)?(?!\w)")
"""A number as pages have them: 1,250, 30.2, 8 1/4."""

RULES = frozenset({"4", "20", "1,000"})
"""Of the trade, and no sums: a check wants 4 cm of fabric; from about 20 cm up a leg comes to the calf; a rate is told
for 1,000 stitches."""

GIVEN = frozenset({"lead", "kept-checks", "weighings", "told"})
"""Classes of what repeats places, what was counted, measured and weighed, and what was accepted: no sums."""


class Folds(HTMLParser):
    """Reads the main part of a page: its numbers outside of any fold with the words round them, and its folds."""

    def __init__(self, page: str) -> None:
        """`page` is HTML."""
        super().__init__()
        self.outside: list[str] = []
        self.folds: list[str] = []
        self._open: list[tuple[str, bool, bool]] = []
        self.feed(page.partition("<main")[2].partition("</main>")[0].partition(">")[2])

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Notes whether what follows is in a fold with a sum, or is no number that was calculated."""
        if tag in {"input", "br", "img", "path", "rect", "circle", "line", "use"}:
            return
        classes = set((dict(attrs).get("class") or "").split())
        fold, given = (self._open[-1][1], self._open[-1][2]) if self._open else (False, False)
        if tag == "details" and classes & {"sum", "figure"}:
            fold = True
            self.folds.append("")
        elif tag in {"p", "h1", "h2", "h3", "li", "figcaption", "dt", "dd", "label"} and not fold:
            self.outside.append("")
        self._open.append((tag, fold, given or tag == "svg" or bool(classes & GIVEN)))

    def handle_endtag(self, tag: str) -> None:
        """Leaves the element."""
        while self._open and self._open.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        """Adds the words to where they are read."""
        _, fold, given = self._open[-1] if self._open else ("", False, False)
        words = data.replace("\u00a0", " ").replace("\u2060", "").replace("\u2011", "-")
        if given:
            return
        if fold:
            self.folds[-1] += words
        elif self.outside:
            self.outside[-1] += words

    def unexplained(self) -> list[str]:
        """Numbers outside of the folds that no fold has, each with its sentence."""
        known = RULES | {number for fold in self.folds for number in NUMBER.findall(fold)}
        return [
            f"{number} in “{' '.join(words.split())}”"
            for words in self.outside
            for number in NUMBER.findall(words)
            if number not in known
        ]
