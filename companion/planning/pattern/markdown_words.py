"""Words as they are, where Markdown would take them for marks.

CommonMark 0.31.2, section 2.4: a backslash before a mark of ASCII makes it an ordinary one. Besides the marks of
CommonMark these are those of its common extensions: tables, struck and raised text, formulas, and addresses that
become links by themselves (GitHub Flavored Markdown 0.29, sections 4.10, 6.5 and 6.9). Its reader makes links of mail
addresses whatever backslashes are in them; there an invisible word joiner (Unicode 16, section 23.2) parts the address.
"""

from __future__ import annotations

import re

WORD_JOINER = "\u2060"

_MARK = re.compile(
    r"""
      [\\`*_{}\[\]<>#|~^&$!]
    | (?<=[a-zA-Z]):(?=\S)          # the scheme of an address
    | (?<!\d)\.(?=\S) | \.(?=[^\s\d]) | (?<=www)\.  # a name of the internet; 7.5 is not one
    """,
    re.VERBOSE,
)
_BEGINNING = re.compile(r"^(\d{1,9}(?=[.)](?:\s|\Z))|(?=[-+=:]))", re.MULTILINE)
"""What begins a list, a rule, a heading or a table at the beginning of a line."""

_INDENTED = re.compile(r"^[ \t]+", re.MULTILINE)
"""What begins code."""


def in_markdown(words: str) -> str:
    """The words, one line or several, so that a reader of Markdown sees them and none of them is a mark."""
    marked = _MARK.sub(r"\\\g<0>", _INDENTED.sub("", words))
    return _BEGINNING.sub(r"\1\\", marked).replace("@", f"@{WORD_JOINER}")
