"""What runs on the phone is whole, and answers as the server does."""

from __future__ import annotations

import io
import json
import shutil
import subprocess
import zipfile
from pathlib import Path
from random import Random
from typing import Any

import pytest

from companion.on_phone.answer import answer, page_answer
from companion.on_phone.code import code_archive
from companion.on_phone.runtime import installed
from companion.pair.file import read_pair_file
from companion.planning import CannotKnitError, PlanRequest, make_plan

from ..conftest import NOON, entry, fully
from ..planning.requests import EVERY_CONSTRUCTION
from . import NOT_HERE, RUNTIME
from .alone import answered_alone

NODE = shutil.which("node")
WAYS = ("rest", "here")


def question(random: Random) -> dict[str, Any] | None:
    """A pair somewhere in its knitting with two checks of a gauge that is off, from children's feet to big ones."""
    ball = random.uniform(14, 28)
    stitches = random.uniform(16, 44)
    request = {
        "schema": 1,
        "title": "Larch",
        "foot": {"ball_circumference_cm": round(ball, 1), "length_cm": round(ball * random.uniform(1.0, 1.15), 1)},
        "gauge": {"stitches_per_10cm": round(stitches, 1), "rounds_per_10cm": round(stitches * 1.4, 1)},
        "construction": random.choice(EVERY_CONSTRUCTION),
    }
    try:
        plan = make_plan(PlanRequest.model_validate(request))
    except CannotKnitError:
        return None
    done = random.randrange(1, plan.count)
    off = random.uniform(0.88, 1.12)
    spots = {
        "stitches": [{"count": round(stitches * off, 1), "over_cm": 10}],
        "rounds": [{"count": round(stitches * 1.4 * off * random.uniform(0.97, 1.03), 1), "over_cm": 10}],
    }
    log = [entry(1, kind="go", round=done), *(entry(one, kind="check", round=done, data=spots) for one in (2, 3))]
    first = {"number": 1, "sock": 1, "done": 0, "other_done": 0, "created": NOON.isoformat()}
    pair = {"format": "tapeline pair", "version": 1, "title": "Larch", "unit": random.choice(["cm", "in"]), "log": log}
    text = json.dumps({**pair, "revisions": [{**first, "plan": plan.model_dump(mode="json")}]})
    assert read_pair_file(json.loads(text))[0]
    sock = random.choice([1, 2])
    return {"choice": "check", "text": text, "sock": sock, "done": done, "path": "/pair/larch/check/result"}


def questions(number: int) -> list[dict[str, Any]]:
    random = Random(4711)
    made: list[dict[str, Any]] = []
    while len(made) < number:
        if one := question(random):
            made.append(one)
    return made


def test_the_archive_is_the_same_each_time_and_has_no_server_in_it() -> None:
    archive = code_archive()
    assert archive == code_archive()
    packed = zipfile.ZipFile(io.BytesIO(archive))
    ours = [name for name in packed.namelist() if name.startswith("companion/")]
    assert not [name for name in ours if name.startswith(("companion/store/", "companion/cli/"))]
    assert not [name for name in ours if b"from flask" in packed.read(name)]


def test_the_archive_needs_nothing_beside_itself_but_the_compiled_part_of_pydantic(tmp_path: Path) -> None:
    [asked] = questions(1)
    alone = answered_alone(tmp_path, asked, "answer", "page_answer", "page_answer(**asked)")
    assert alone == page_answer(**asked)


def asked_with(question: dict[str, Any]) -> list[tuple[str, dict[str, Any]]]:
    """What a check means, and then two of its ways accepted."""
    chosen = {key: question[key] for key in ("choice", "sock", "done")}
    both = [{"chosen": chosen | {"key": key}, "text": question["text"], "moment": NOON.isoformat()} for key in WAYS]
    return [("page", question), *(("accept", one) for one in both)]


def on_server(name: str, question: dict[str, Any]) -> Any:
    """The same answer without a phone; None where there is none."""
    try:
        return json.loads(answer(name, json.dumps(question)))
    except ValueError:
        return None


@pytest.mark.skipif(not (NODE and installed(RUNTIME)), reason=NOT_HERE)
@pytest.mark.timeout(7200)
def test_the_phone_answers_as_the_server_does(tmp_path: Path) -> None:
    """In full (`--hypothesis-profile=full`) 500 recalculations: every construction, at any place, in either unit.

    A plan that was accepted has to be the same to the last digit, or the server would ask about it.
    """
    assert NODE
    number = 500 if fully() else 6
    asked = [one for question in questions(number) for one in asked_with(question)]
    code = tmp_path / "code.zip"
    code.write_bytes(code_archive())
    ask = Path(__file__).with_name("ask.mjs")
    file = tmp_path / "questions.json"
    file.write_text(json.dumps(asked))
    run = subprocess.run([NODE, ask, RUNTIME, code, file], capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr[-2000:]
    answers = json.loads(run.stdout)
    assert [one for one, found in zip(asked, answers, strict=True) if found != on_server(*one)] == []
    assert (
        sum("<article" in found for (name, _), found in zip(asked, answers, strict=True) if name == "page") > number / 2
    )
    assert (
        sum(found is not None for (name, _), found in zip(asked, answers, strict=True) if name == "accept") > number / 2
    )
