"""Every message is read: whole sentences, in the words of a knitter, without a program's own."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator, Sequence
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

import pytest

from companion.words import sentence

from .conftest import FORM, Browser
from .script_words import FILLED_IN, SCRIPTS, Script
from .web.designing import BODY, DESIGN, lead

COMPANION = Path(__file__).parents[1] / "companion"

SAID_BY = {"Fault": 2, "abort": 1, "ValidationError": 0, "refuse": 1, "CannotKnitError": 0}
"""What makes a message, and which of its arguments has the words."""

FOR_FILES = {"cli", "simulation", "store", "file.py", "document.py", "design.py"}
"""Rooms and modules whose readers edit a file, and are told its entries by their own names."""

MACHINE = re.compile(
    r"\b(null|None|True|False|JSON|HTTP|integer|float|boolean|dict|tuple|parse|exception|nowhere)\b"
    r"|\b[Cc]ode \d|\(\d+\)|\b[a-z]+_[a-z_]+\b|\b[a-z]+\.[a-z]+\b|given; |[{}<>]",
)
MOST_WORDS = 45
"""Words of one message: three short sentences."""


def words_in(node: ast.expr, constants: dict[str, str]) -> Iterator[str]:
    """The texts that an expression may come to, with 7 for what is filled in."""
    match node:
        case ast.Constant(value=str(text)):
            yield text
        case ast.JoinedStr(values=parts):
            yield "".join(str(part.value) if isinstance(part, ast.Constant) else "7" for part in parts)
        case ast.IfExp(body=one, orelse=other):
            yield from (*words_in(one, constants), *words_in(other, constants))
        case ast.Name(id=name) if name in constants:
            yield constants[name]
        case ast.Call(func=ast.Attribute(value=inner, attr="format")):
            yield from (re.sub(r"\{\w*\}", "7", text) for text in words_in(inner, constants))


def assigned(tree: ast.Module) -> Iterator[tuple[str, str]]:
    """The texts that a module gives names."""
    for node in tree.body:
        match node:
            case ast.Assign(targets=[ast.Name(id=name)], value=ast.Constant(value=str(text))):
                yield name, text


def written() -> Iterator[tuple[str, str]]:
    """Every message in the code with where it stands."""
    for path in sorted(COMPANION.rglob("*.py")):
        if FOR_FILES & set(path.relative_to(COMPANION).parts):
            continue
        tree = ast.parse(path.read_text())
        constants = dict(assigned(tree))
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in SAID_BY:
                at = SAID_BY[node.func.id]
                for text in words_in(node.args[at], constants) if len(node.args) > at else ():
                    yield f"{path.relative_to(COMPANION)}:{node.lineno}", text


def reads_well(said: str) -> str:
    """What is wrong with a message; nothing where it reads well."""
    if not said or not re.match(r"[A-Z0-9“–-]", said):
        return "begins small"
    if not re.search(r"[.!?]”?$", said):
        return "does not end"
    if found := MACHINE.search(said):
        return f"has “{found[0]}”"
    return "is too long" if len(said.split()) > MOST_WORDS else ""


def test_every_message_in_the_code_reads_well() -> None:
    messages = [(where, sentence(text)) for where, text in written()]
    assert len(messages) > 60
    assert not [(where, said, wrong) for where, said in messages if (wrong := reads_well(said))]


MOST_IN_A_LABEL = 12
"""Words of a heading, a button or a name."""

LONGEST_LABEL = 8
"""Words; what is no longer may be a name or a number that stands by itself."""

SENTENCES = re.compile(r"\S+ \S+ .*[.!?]", re.DOTALL)


NO_WORDS = re.compile(r"^\S*$|^[.(/^]|[\[\]#\\=$]|\b(?:translate|url|clamp)\w*\(|^[a-z-]+(?: [a-z]+)? \.?[a-z]+$")
"""Selectors, addresses, classes and places in a drawing; a phrase of two or three small words looks like them."""


@cache
def scripts_of() -> tuple[dict[str, str], dict[str, list[str]]]:
    """Each script by where it stands, and the texts that they give names to hand out."""
    sources = {str(path.relative_to(SCRIPTS)): path.read_text() for path in sorted(SCRIPTS.rglob("*.js"))}
    exported: dict[str, list[str]] = {}
    for source in sources.values():
        script = Script(source, {})
        list(script.said())
        exported |= {name: texts for name, texts in script.named.items() if name.isupper()}
    return sources, exported


def said_by_scripts() -> Iterator[tuple[str, str]]:
    """What the scripts say and where it stands, and whatever else in them are sentences."""
    sources, exported = scripts_of()
    for where, source in sources.items():
        for by, text in Script(source, exported).said():
            if by not in {"textContent", "p"} or len(text.split()) > LONGEST_LABEL:
                yield where, sentence(text) if by.endswith("Error") else text.strip()
        yield from ((where, text) for text in Script(source, {}).written() if SENTENCES.fullmatch(text))


def test_every_message_of_the_scripts_reads_well() -> None:
    """What is filled in last, after a stop or a colon, is read where it is made, or is what she wrote."""
    messages = [(where, re.sub(rf"[.:] {FILLED_IN}$", ".", text)) for where, text in said_by_scripts()]
    messages = [(where, text) for where, text in messages if re.search("[a-z]", text)]
    assert len(messages) > 100
    assert not [(where, text, wrong) for where, text in messages if (wrong := reads_well(text))]


def label_wrong(label: str) -> str:
    """What is wrong with words that stand by themselves; nothing where they read well."""
    if not re.match(r"[A-Z0-9“]", label):
        return "begins small"
    if found := MACHINE.search(label):
        return f"has “{found[0]}”"
    if label.endswith(":") or (label.endswith(".") and not SENTENCES.fullmatch(label)):
        return "ends like a sentence"
    return "is too long" if len(label.split()) > MOST_IN_A_LABEL else ""


def test_every_label_of_the_scripts_reads_well() -> None:
    """Headings, buttons, links, names of fields and of what is drawn, also where a word or a number is filled in."""
    sources, exported = scripts_of()
    labels = []
    for where, source in sources.items():
        script = Script(source, exported)
        list(script.said())
        labels += [(where, label.strip()) for label in script.labels() if re.search("[a-z]", label)]
    assert len(labels) > 70
    assert not [(where, label, wrong) for where, label in labels if (wrong := label_wrong(label))]


def test_no_other_words_of_the_scripts_are_a_programs_own() -> None:
    """Rows of a list, answers to choose from, and what is put together from phrases."""
    sources, _ = scripts_of()
    strings = [(where, text) for where, source in sources.items() for text in Script(source, {}).written()]
    phrases = [(where, text.replace(f"({FILLED_IN})", "").strip()) for where, text in strings]
    phrases = [(where, text) for where, text in phrases if re.search("[a-z] ?[a-z]", text)]
    phrases = [(where, text) for where, text in phrases if not NO_WORDS.search(text)]
    assert len(phrases) > 200
    assert not [(where, text, found[0]) for where, text in phrases if (found := MACHINE.search(text))]


@pytest.mark.parametrize(
    ("source", "labels"),
    [
        ('list.append(actionButton("Take it back", undo), linkButton("How far", url));', ["Take it back", "How far"]),
        ('choices("where", "From where?", places);', ["From where?"]),
        ('form.append(element("h2", "Go ", late ? "on" : "to"));', ["Go on", "Go to"]),
        ('button.setAttribute("aria-label", `Forget ${name}`);\nphoto.alt = "Heel";', ["Forget 7", "Heel"]),
        ("function actionButton(words, pressed) {}", []),
    ],
)
def test_a_label_is_found_in_the_source_of_a_script(source: str, labels: list[str]) -> None:
    assert list(Script(source, {}).labels()) == labels


@pytest.mark.parametrize(
    ("source", "said"),
    [
        ("say(`Kept, ${many} waiting.`);", "Kept, 7 waiting."),
        ("const WHY = 'no room';\ntell(`Not kept: ${WHY}.`);", "Not kept: no room."),
        ('throw new Error(late ? "too late" : "too soon");', "too soon"),
        ('said.textContent = /"/.test(a) && `${b.map(({ c }) => `${c}`)}: ` + "gone";', "7: gone"),
        ('list.append(element("p", element("b", "Round "), "kept."));', "Round kept."),
    ],
)
def test_what_a_script_says_is_found_in_its_source(source: str, said: str) -> None:
    assert said in [text for _, text in Script(source, {}).said()]


class Messages(HTMLParser):
    """Collects what a page says is wrong."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.said: list[str] = []
        self._open: list[tuple[str, bool]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Notes whether what begins here is a message."""
        given = {name: value or "" for name, value in attrs}
        classes = given.get("class", "").split()
        inside = bool(self._open and self._open[-1][1])
        listed = tag == "li" and any(name == "errors" for name, _ in self._open)
        said = "data-said" in given and tag == "p"
        begins = not inside and ("error" in classes or said or listed)
        begins = begins or (tag == "p" and not classes and any(name == "message" for name, _ in self._open))
        if begins:
            self.said.append("")
        if tag not in {"input", "br", "img", "meta", "link", "path", "use", "rect"}:
            name = "errors" if given.get("id") == "errors" else "message" if "message" in classes else tag
            self._open.append((name, inside or begins))

    def handle_endtag(self, _tag: str) -> None:
        """Leaves the element."""
        if self._open:
            self._open.pop()

    def handle_data(self, data: str) -> None:
        """Adds the words to the message that they are part of."""
        if self._open and self._open[-1][1]:
            self.said[-1] += data


def said_on(page: str) -> list[str]:
    """The messages of a page, each on one line."""
    drawn = re.compile("<svg.*?</svg>", re.DOTALL)  # most of a form's tags, and no messages
    main = drawn.sub("", page[page.index("<main") :])
    return [" ".join(words.split()) for words in Messages(main).said if words.strip()]


BAD = {"lots": "cm", "-3": "in", "99999": "cm"}
"""What nobody can mean, and the unit in which it is typed."""
NUMBERS = (
    "ball_circumference", "foot_length", "ankle_circumference", "heel_diagonal", "leg_circumference", "stitches",
    "rounds", "ease_percent", "length_ease", "cuff_length", "leg_length", "needle_mm", "grams", "nylon_percent",
    "metres_per_100g",
)  # fmt: skip
"""Each is refused at its field, whatever stands in the others."""
OTHERS = (
    "rib", "heel", "foot_pattern", "arrangement", "choice", "shoe_size", "yarn_colour", "heel_yarn", "leg_height",
)  # fmt: skip


@pytest.mark.parametrize("names", [NUMBERS, *([name] for name in OTHERS)], ids=["numbers", *OTHERS])
def test_what_a_form_refuses_reads_well(browser: Browser, names: Sequence[str]) -> None:
    for bad, unit in BAD.items():
        page = browser.post("/plan", {**FORM, "unit": unit, "typed_unit": unit, **dict.fromkeys(names, bad)}).text
        said = said_on(page) if "<main" in page else []
        assert names != NUMBERS or len(said) > len(NUMBERS)
        assert not [(one, wrong) for one in said if (wrong := reads_well(one))]


def test_what_cannot_be_knitted_reads_well(browser: Browser) -> None:
    cases: list[dict[str, str]] = [
        {"colour_pattern": "chart", "chart": "AB\nA"},
        {"colour_pattern": "chart", "chart": "AX"},
        {"colour_pattern": "chart", "chart": "AB"},
        {"colour_pattern": "stripes", "stripes": "A four"},
        {"ball_circumference": "10", "foot_length": "38"},
        {"ball_circumference": "23", "leg_circumference": "60"},
        {"direction": "toe-up", "leg_until": "half the yarn", "grams": "20"},
        {"stitches": "60", "rounds": "20"},
        {"rib": "k9 p9 k9", "ball_circumference": "12"},
        {"title": "x" * 300},
    ]
    for case in cases:
        answer = browser.post("/plan", {**FORM, **case})
        assert answer.status_code == 422, case
        said = said_on(answer.text)
        assert said, case
        assert not [(one, wrong) for one in said if (wrong := reads_well(one))]


def test_what_other_pages_refuse_reads_well(browser: Browser, link: str) -> None:
    leader = lead(browser)
    answers = [
        browser.post(f"/pair/{link}/check", {"stitches_1": "lots", "stitches_over_1": "10", "sock": "1", "round": "0"}),
        browser.post(f"/pair/{link}/check", {"sock": "1", "round": "0"}),
        browser.post(f"/pair/{link}/check/accept", {"sock": "1", "round": "0"}),
        browser.post(f"/pair/{link}/check/undo", {"sock": "1"}),
        browser.post(f"/pair/{link}/second", {"newest": "1"}),
        browser.post(f"/pair/{link}/yarn/leg", {"rounds": "many", "revision": "1", "round_1": "0", "round_2": "0"}),
        browser.post(f"/pair/{link}/yarn/leave-out", {"entry": "none"}),
        browser.post("/design", {**DESIGN, "title": "x" * 300, "stage_name_1": "x", "stage_by_1": "soon"}),
        browser.post(f"/design/{leader}/photo", {"part": "ankle"}),
        browser.get(f"/design/{leader}/sizes?circumferences=lots&gauges=2"),
        browser.post("/import", {}),
        browser.get("/plan?sample=nonsense"),
        browser.get(f"/pair/{'A' * 22}"),
        browser.post("/plan", BODY | {"ball_circumference": ""}),
    ]
    said = [one for answer in answers if "<main" in answer.text for one in said_on(answer.text)]
    assert len(said) >= len(answers) - 2
    assert not [(one, wrong) for one in said if (wrong := reads_well(one))]


@pytest.mark.parametrize(
    ("fragment", "whole"),
    [
        ("allowed: 4 to 400", "Allowed: 4 to 400."),
        ("Choose one.", "Choose one."),
        ("“3” is no length", "“3” is no length."),
        ("", ""),
    ],
)
def test_a_fragment_becomes_a_sentence(fragment: str, whole: str) -> None:
    assert sentence(fragment) == whole
