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


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_what_the_documentation_points_to_is_there(name: str) -> None:
    text = (ROOT / name).read_text()
    for path in re.findall(r"`((?:companion|tests|static|templates|sample_projects)/[\w./]*)`", text):
        assert (ROOT / path).exists(), path
