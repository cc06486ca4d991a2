"""The documentation names every command and option and is short, and its example is a sound request."""

from __future__ import annotations

import argparse
import json
import re
from pathlib import Path

import pytest
from flask import Flask

from companion.cli import _parser
from companion.planning import PlanRequest, read_request

from .routes import TABLE, routes_table

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text()
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text()
REQUESTS = (ROOT / "sample_projects/README.md").read_text()

PATH = re.compile(r"\.?[\w/.-]+\.(py|js)|\.ci/[\w.-]+|\.?[\w.-]+/[\w/.-]+(\.(html|json|md|png|yaml)|/)")
FOLDERS = ("companion", "static", "templates", "tests", "sample_projects", ".ci")

MOST_WORDS = 1500
"""Ten minutes of reading, at 150 words a minute of technical prose (from memory)."""


def test_every_command_and_option_is_in_the_readme() -> None:
    [commands] = [action for action in _parser()._actions if isinstance(action, argparse._SubParsersAction)]
    for name, command in commands.choices.items():
        assert f"companion {name}" in README
        for action in command._actions:
            for option in action.option_strings:
                assert option in README or option in ("-h", "--help"), f"{name} {option}"


def test_the_table_of_addresses_is_what_the_views_say(app: Flask) -> None:
    """`python tests/routes.py` writes it again."""
    assert TABLE.read_text() == routes_table(app)


@pytest.mark.parametrize("document", [README, DEVELOPERS, REQUESTS], ids=["README.md", "DEVELOPERS.md", "requests"])
def test_a_document_is_short_enough_to_be_read(document: str) -> None:
    assert len(document.split()) <= MOST_WORDS


def test_the_request_that_is_described_is_sound_and_complete_and_shows_the_defaults() -> None:
    example = re.search(r"```json\n(.*?)```", REQUESTS, re.DOTALL)
    assert example
    data = json.loads(example[1])
    request, faults = read_request(data)
    assert request, faults
    assert set(data) == {field.alias or name for name, field in PlanRequest.model_fields.items()}
    usual, _ = read_request({key: data[key] for key in ("schema", "foot", "gauge")})
    assert request == usual


def test_every_command_that_the_documentation_gives_is_one() -> None:
    [commands] = [action for action in _parser()._actions if isinstance(action, argparse._SubParsersAction)]
    given = set(re.findall(r"(?:`|bin/)companion ([a-z]+)", README + DEVELOPERS + REQUESTS))
    assert given
    assert given <= set(commands.choices)


@pytest.mark.parametrize("document", [README, DEVELOPERS], ids=["README.md", "DEVELOPERS.md"])
def test_what_the_documentation_points_to_is_there(document: str) -> None:
    """A path may begin below the folder that its sentence is about."""
    files = [path for folder in FOLDERS for path in (ROOT / folder).rglob("*") if "__pycache__" not in path.parts]
    there = [f"/{path.relative_to(ROOT).as_posix()}{'/' * path.is_dir()}" for path in files]
    named = {word for word in re.split(r"[\s`()]+", document) if PATH.fullmatch(word)}
    modules = re.findall(r"-m (tests[\w.]+)", document)
    paths = [*named, *(f"{module.replace('.', '/')}.py" for module in modules)]
    assert paths
    assert [path for path in paths if not any(one.endswith(f"/{path}") for one in there)] == []


@pytest.mark.parametrize("folder", ["companion", "companion/planning"])
def test_every_room_is_in_the_picture_of_the_rooms(folder: str) -> None:
    rooms = {path.parent.name for path in (ROOT / folder).glob("*/__init__.py")}
    picture = DEVELOPERS.split("## The rooms")[1].split("## ")[0]
    assert rooms - set(re.findall(r"^ +(\w+)/  ", picture, re.MULTILINE)) == set()
