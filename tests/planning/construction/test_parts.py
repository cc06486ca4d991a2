"""What a section is stands with its builder, and in the tables of heels and toes; other modules ask."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import companion
from companion.planning.construction.constructions import HEELS, TUBES, beside_the_heel, built, parts_by_key, parts_of
from companion.planning.plan.document import PARTS_OF_SOCK
from companion.planning.request.construction import Construction
from tests.planning.asking import planned
from tests.planning.requests import CONSTRUCTIONS, names

CODE = Path(companion.__file__).parent
HOME = (CODE / "planning" / "construction" / "sections", CODE / "planning" / "construction" / "constructions.py")

CLOSED = frozenset({"zone", "of", "tube", "where", "hidden", "hidden_until"})
"""Names of what is one of a few fixed words, which mypy holds to them: a zone of the plan document, the part of the
sock that a section belongs to or that a design hides, leg or foot as a tube, and where a sock was felt."""


def compared(tree: ast.AST) -> Iterator[tuple[str, ast.expr]]:
    """The words that something is compared with, and what: ==, in, a case of a match, the start of a text, a span."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Compare):
            sides = [node.left, *node.comparators]
            for side in sides:
                others = [other for other in sides if other is not side]
                yield from ((word, others[0]) for word in words_in(side))
        elif isinstance(node, ast.Match):
            for case in node.cases:
                yield from ((word, node.subject) for word in words_in(case.pattern))
        elif isinstance(node, ast.Call) and name_of(node.func) in {"span", "startswith", "endswith"}:
            yield from ((word, node.func) for each in node.args for word in words_in(each))


def words_in(node: ast.AST) -> Iterator[str]:
    """Texts that stand in an expression itself or in a tuple, list or set of it; not those of a call within it."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.Tuple | ast.List | ast.Set | ast.MatchValue | ast.MatchOr | ast.MatchSequence):
        for child in ast.iter_child_nodes(node):
            yield from words_in(child)


def name_of(node: ast.expr) -> str:
    """The last name of what is looked at, or of each of it."""
    match node:
        case ast.Attribute(attr=name) | ast.Name(id=name):
            return name
        case ast.SetComp(elt=each):
            return name_of(each)
    return ""


def keys_known(source: str) -> list[str]:
    """The section keys that a module goes by: all that are no common words, and the common ones that it compares."""
    tree = ast.parse(source)
    keys = set(parts_by_key())
    texts = [node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)]
    found = [text for text in texts if text in keys - set(PARTS_OF_SOCK)]
    return found + [word for word, against in compared(tree) if word in keys and name_of(against) not in CLOSED]


def test_no_other_module_goes_by_the_keys_of_sections() -> None:
    for path in CODE.rglob("*.py"):
        if not any(path.is_relative_to(home) for home in HOME):
            assert keys_known(path.read_text()) == [], path


@pytest.mark.parametrize(
    ("source", "known"),
    [
        ("section.key == 'leg'", ["leg"]),
        ("section.key in ('gusset', 'toe')", ["gusset", "toe"]),
        ("plan.span('foot')", ["foot"]),
        ("section.key.startswith('gusset')", ["gusset"]),
        ("match key:\n case 'cuff' | 'leg':\n  pass", ["cuff", "leg"]),
        ("WAYS = {'deep': 'heel-flap'}", ["heel-flap"]),
        ("work.zone == 'leg' and part.of in ('heel', 'toe')", []),
        ("data['foot'] |= {}", []),
    ],
)
def test_going_by_a_key_is_noticed(source: str, known: list[str]) -> None:
    assert keys_known(source) == known


def test_no_script_goes_by_the_keys_of_sections() -> None:
    keys = "|".join(map(re.escape, parts_by_key()))
    for path in (CODE.parent / "static" / "js").rglob("*.js"):
        assert not re.search(rf"""\bkey\s*[!=]==?\s*["'](?:{keys})["']""", path.read_text()), path


@pytest.mark.parametrize("construction", CONSTRUCTIONS, ids=names)
def test_each_construction_has_every_fact_once(construction: dict[str, str]) -> None:
    parts = parts_of(Construction.model_validate(construction))
    keys = [part.key for part in parts]
    assert len(set(keys)) == len(keys)
    assert all(parts_by_key()[part.key] == part.of for part in parts), "a key is the same part of the sock everywhere"
    assert {part.of for part in parts} >= {"cuff", "leg", "heel", "foot", "toe"}
    assert set(TUBES.values()) <= set(parts)
    for fact in ("flap", "deepens", "narrows"):
        assert sum(getattr(part, fact) for part in parts) <= 1, fact
    assert all(part.back_to in {"", *keys} for part in parts)


@pytest.mark.parametrize("construction", CONSTRUCTIONS, ids=names)
def test_a_gusset_lies_on_the_side_of_the_heel_where_it_is_knitted(construction: dict[str, str]) -> None:
    plan = planned(construction=construction)
    sides = beside_the_heel(plan.request.construction)
    order = [section.key for section in plan.sections]
    of = {section.key: part.of for section, part in built(plan)}
    gussets = {key for key, part in of.items() if part == "gusset"}
    assert gussets == sides.on_leg | sides.on_foot
    heel = next(number for number, key in enumerate(order) if of[key] == "heel")
    before = {key for key in order[:heel] if key in gussets}
    assert before == (sides.on_foot if construction["direction"] == "toe-up" else sides.on_leg)


def test_every_heel_says_what_helps_where_it_does_not_go_on() -> None:
    for heel in HEELS.values():
        assert heel.more_room.endswith(".")
