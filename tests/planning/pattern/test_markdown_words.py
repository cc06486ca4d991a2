"""What a knitter or a leader wrote is words in Markdown, whatever marks are in it.

Read by markdown-it-py, an independent reader that follows CommonMark and its extensions for tables, struck text and
addresses (linkify-it-py).
"""

from __future__ import annotations

import re
from html import unescape
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from companion.planning import pattern_of
from companion.planning.pattern.markdown_words import in_markdown
from companion.planning.pattern.pattern import Pattern, Size
from companion.planning.pattern.render import as_markdown_text
from companion.planning.pattern.size_grid import grid_of, table_of
from companion.planning.pattern.tables import as_markdown
from companion.planning.request.size_range import foot_for
from tests.planning.asking import asked, planned

READER = MarkdownIt("gfm-like", {"typographer": False})

HOSTILE = [
    "[free yarn](https://evil.example)",
    "![](//evil.example/x.png)",
    "[a][b]\n\n[b]: https://evil.example",
    "<script>alert(1)</script>",
    "<https://evil.example>",
    "https://evil.example/a_b?c=d&e=f#g",
    "www.evil.example and evil.com",
    "mail me@evil.example, mailto:me@evil.example",
    "&lt;b&gt; &copy; &#42;x&#42;",
    "# Big\n## Less\nUnder\n=====\nAgain\n---\n***",
    "**bold** _slanted_ __strong__ ~~struck~~ ~low~ ^high^ $x$",
    "`code` ``` more\n```\ncode\n```\n~~~\ncode\n~~~",
    "- one\n+ two\n* three\n1. four\n2) five\n- [ ] six",
    "> quoted\n>> twice",
    "a | b\n--- | ---\n1 | 2",
    "a\\|b\n:-\nc",
    "\n\n    indented\n\n\tand more",
    "ends with a backslash \\\nand goes on\\",
    "\\[a](https://evil.example) \\\\*b*",
    "[^1] [^1]: a footnote",
]


def tags(source: str) -> list[str]:
    """The tags of what is read, in their order."""
    return re.findall(r"<[^>]+>", READER.render(source))


def words(source: str) -> str:
    """What is read of it, without tags and what nobody sees, with one space for any white space."""
    return " ".join(unescape(re.sub(r"<[^>]+>|\u2060", "", READER.render(source))).split())


def pattern(title: str, yarn: str, note: str) -> Pattern:
    plan = planned(title=title, yarns=[{"key": "A", "name": yarn}])
    return pattern_of([Size("23 cm", plan)], "cm", {"cuff": note, "heel-flap": note})


def grid(title: str) -> str:
    return as_markdown(table_of(grid_of(asked(title=title), [foot_for(23)], [asked().gauge]), "cm"))


def paragraphs(text: str) -> str:
    """Harmless words in as many paragraphs, which a note may have."""
    return re.sub(r"[^\n]+", "words", text)


@pytest.mark.parametrize("hostile", HOSTILE)
def test_no_mark_of_the_writers_works(hostile: str) -> None:
    line = " ".join(hostile.split())[:80]
    told, harmless = (
        as_markdown_text(pattern(*each)) for each in ((line, line, hostile), ("x", "x", paragraphs(hostile)))
    )
    assert tags(told) == tags(harmless)
    assert words(told).count(line) >= 2, "the title and the yarn's name are read as they were written"
    assert " ".join(f"From the leader: {hostile}".split()) in words(told)
    assert tags(grid(line)) == tags(grid("x"))
    assert words(grid(line)).startswith(f"{line}: sizes by foot and gauge")


@given(
    st.lists(st.sampled_from([*"\\`*_{}[]()<>#+-.!|~=:;&@$^'\"/ \n", "a", "7", "https:", "www.", ".com", "    ", "\t"]))
)
def test_any_words_are_read_as_they_were_written(pieces: list[str]) -> None:
    written = "".join(pieces).strip()
    lines = "\n".join(line.rstrip() for line in written.split("\n"))
    source = in_markdown(lines)
    assert set(tags(source)) <= {"<p>", "</p>"}
    assert words(source) == " ".join(lines.split())


def test_an_address_for_mail_is_parted() -> None:
    # The reader of GitHub Flavored Markdown looks for them in what is left when backslashes are gone (autolink.c).
    assert "@\u2060evil" in in_markdown("me@evil.example")


def test_a_name_of_the_web_alone_is_none() -> None:
    # The same reader links "www." with nothing behind it.
    assert in_markdown("www. and so on") == "www\\. and so on"


@pytest.mark.parametrize("plain", ["cast on 56 (60, 64) st, 7.5 cm long: k2 p2, 10 %", "Row 3: 2 B, 1 A.", "7 1/2 in"])
def test_ordinary_words_need_no_backslash(plain: str) -> None:
    assert in_markdown(plain) == plain


def test_a_pattern_of_ours_reads_the_same_with_and_without_marks() -> None:
    ours: dict[str, Any] = {"leg": {"chart": {"width": 4, "rows": ["AABB", "ABBB"], "swap": True}}}
    told = pattern_of([Size("23 cm", planned(**ours, yarns=[{"key": "A"}, {"key": "B"}]))], "cm")
    read = words(as_markdown_text(told))
    for section in told.sections:
        for line in section.lines:
            assert " ".join(f"{line.label}: {line.text}".split()) in read
