"""What the scripts of the pages say, read from their source: all the texts that an expression may come to.

It knows as much of the language as these scripts have, as `.ci/check-scripts` formats them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from itertools import product
from pathlib import Path

SCRIPTS = Path(__file__).parents[1] / "static" / "js"

FILLED_IN = "7"
"""Stands for what is not known before the script runs."""

SPEAKING = re.compile(r"#?say|tell\w*|\w*Error|showNothing")
"""Functions and errors that say something to a knitter: in the first argument, `showNothing` in its last."""

LABELLED = {
    "actionButton": 0,
    "linkButton": 0,
    "openSheet": 0,
    "openPanel": 0,
    "keptSheet": 0,
    "group": 0,
    "choices": 1,
}
"""Functions that make a heading, a question or something to press, and which of their arguments has its words."""

LABELS = {"a", "button", "dt", "h2", "h3", "label", "legend", "summary"}
"""Elements whose words stand by themselves."""

TOKEN = re.compile(
    r"""(?P<space>\s+|//[^\n]*|/\*.*?\*/)
      | (?P<string>"(?:\\.|[^"\\])*"|'(?:\\.|[^'\\])*')
      | (?P<regex>(?<=[(,=:\[!&|?;]|\s)/(?![\s/])(?:\\.|\[(?:\\.|[^\]\\])*\]|[^/\\\n])+/[a-z]*)
      | (?P<word>[\w$\#]+)
      | (?P<sign>\?\?|\?\.|\|\||&&|=>|[=!<>]==?|.)""",
    re.DOTALL | re.VERBOSE,
)
IN_TEMPLATE = re.compile(r"`|\$\{|(?:\\.|(?!\$\{)[^`\\])+", re.DOTALL)

ENDS = {",", ")", "]", "}", ";", "?", ":", "+", "??", "||", "&&"}
CLOSED_BY = {"(": ")", "[": "]", "{": "}", "${": "}"}


@cache
def tokens_of(source: str) -> tuple[str, ...]:
    """The words, signs, strings and parts of templates, without comments. What a template has in it follows its ${."""
    return tuple(_each_token(source))


def _each_token(source: str) -> Iterator[str]:
    at, within = 0, [""]
    while at < len(source):
        found = (IN_TEMPLATE if within[-1] == "`" else TOKEN).match(source, at)
        assert found, source[at : at + 40]
        at, token = found.end(), found[0]
        if found.lastgroup == "space":
            continue
        if token in {"`", "${", "{"} and not (token == "`" == within[-1]):
            within.append(token)
        elif token == "`" or (token == "}" and within[-1] in {"${", "{"}):
            within.pop()
        yield token


class Script:
    """Reads expressions of a script, given the texts that names stand for."""

    def __init__(self, source: str, named: Mapping[str, list[str]]) -> None:
        self.tokens = [*tokens_of(source), "", "", ""]
        self.named = dict(named)
        self.at = 0

    def _next(self, ahead: int = 0) -> str:
        return self.tokens[self.at + ahead]

    def _take(self) -> str:
        self.at += 1
        return self.tokens[self.at - 1]

    def _skip(self) -> None:
        """One token, or all that stands in brackets or in a template."""
        if self._next() == "`":
            self._template()
        elif closed := CLOSED_BY.get(self._take()):
            while self._next() != closed:
                self._skip()
            self._take()

    def _choice(self) -> list[str]:
        """Of what is decided between, either; of what may be missing, also what stands in for it."""
        found = self._sum()
        while self._next() in {"??", "||", "&&"}:
            found = (found if self._take() != "&&" else []) + self._sum()
        if self._next() == "?":
            self._take()
            found = self._choice()
            self._take()
            found = found + self._choice()
        return found

    def _sum(self) -> list[str]:
        parts = [self._operand()]
        while self._next() == "+":
            self._take()
            parts.append(self._operand())
        return _joined(parts)

    def _operand(self) -> list[str]:
        token, found = self._next(), [FILLED_IN]
        if token.startswith(('"', "'")):
            found = [self._take()[1:-1]]
        elif token == "`":
            found = self._template()
        elif token == "(":
            found = (self._arguments() or [found])[0]
        elif token == "element" and self._next(1) == "(":
            self._take()
            found = _joined(self._arguments()[1:])
        elif token in self.named and self._next(1) in ENDS:
            found = self.named[self._take()]
        while self._next() not in ENDS:
            self._skip()
        return found

    def _template(self) -> list[str]:
        parts = []
        self._take()
        while (part := self._take()) != "`":
            parts.append(self._choice() if part == "${" else [part])
            if part == "${":
                self._take()
        return _joined(parts)

    def _arguments(self) -> list[list[str]]:
        found = []
        while self._take() != ")":
            if self._next() != ")":
                found.append(self._choice())
        return found

    def said(self) -> Iterator[tuple[str, str]]:
        """What is said and by what: a function, an error, the text of an element, a paragraph."""
        for at, token in enumerate(self.tokens[:-3]):
            after = self.tokens[at + 1]
            self.at = at + 1
            if token == "const" and self.tokens[at + 2] == "=":
                self.at = at + 3
                self.named[after] = [*self.named.get(after, []), *self._choice()]
            elif SPEAKING.fullmatch(token) and after == "(" and self.tokens[at - 1] != "function":
                yield from ((token, text) for text in (self._arguments() or [[]])[-1 if token == "showNothing" else 0])
            elif token == "textContent" and after == "=":
                self.at = at + 2
                yield from ((token, text) for text in self._choice())
            elif token == "element" and self.tokens[at + 2] == '"p"':
                yield from (("p", text) for text in _joined(self._arguments()[1:]))

    def labels(self) -> Iterator[str]:
        """What stands by itself: headings, what is pressed, followed or filled in, and the names of what is drawn."""
        for at, token in enumerate(self.tokens[:-3]):
            self.at = at + 1
            if self.tokens[at + 1] == "(" and self.tokens[at - 1] != "function":
                if token in LABELLED:
                    yield from (self._arguments()[LABELLED[token] :] or [[]])[0]
                elif token == "element" and self.tokens[at + 2][1:-1] in LABELS:
                    yield from _joined(self._arguments()[1:])
                elif token == "setAttribute" and self.tokens[at + 2] == '"aria-label"':
                    yield from self._arguments()[1]
            elif token == "alt" and self.tokens[at + 1] == "=":
                self.at = at + 2
                yield from self._choice()

    def written(self) -> Iterator[str]:
        """Every string, as it stands."""
        self.at = 0
        while token := self._next():
            if token == "`":
                yield from self._template()
            elif self._take().startswith('"'):
                yield token[1:-1]


def _joined(parts: list[list[str]]) -> list[str]:
    return ["".join(one) for one in product(*parts)]
