"""The archive for phones answers as the server does, and needs nothing beside itself but pydantic's compiled part."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from companion.on_phone.form_answer import counts_answer, form_answer
from companion.on_phone.pages import page_answer

from .alone import answered_alone, unpack
from .test_new_plan import FORMS, WRONG, new_plan
from .test_same_answer import checks


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The archive, whose modules Python compiles but once."""
    folder = tmp_path_factory.mktemp("archive")
    unpack(folder)
    return folder


def test_a_page_of_a_check_is_made_without_a_server_in_it(unpacked: Path) -> None:
    [asked] = checks(1)
    alone = answered_alone(unpacked, asked, "pages", "page_answer", "page_answer(**asked)")
    assert alone == page_answer(**asked)


def test_the_plan_form_is_answered_without_a_server_in_it(unpacked: Path) -> None:
    asked = [new_plan(changes) for changes in (*FORMS.values(), *WRONG.values())]
    both = "[[form_answer(**one), counts_answer(one['fields'])] for one in asked]"
    here = [[form_answer(**one), counts_answer(one["fields"])] for one in asked]
    alone = answered_alone(unpacked, asked, "form_answer", "counts_answer, form_answer", both)
    assert alone == json.loads(json.dumps(here))
