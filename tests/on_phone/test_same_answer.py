"""What runs on the phone is whole, and answers as the server does."""

from __future__ import annotations

import io
import json
import zipfile
from random import Random
from typing import Any

from companion.on_phone.code import code_archive
from companion.pair.file import read_pair_file
from companion.planning import CannotKnitError, PlanRequest, make_plan

from ..conftest import NOON, entry
from ..planning.requests import EVERY_CONSTRUCTION


def check(random: Random) -> dict[str, Any] | None:
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
    log = [
        entry(1, kind="go", round=done),
        *(entry(one, kind="check", round=done, data=spots) for one in (2, 3)),
        entry(4, kind="weighing", round=done, data={"grams": random.randrange(20, 80), "yarn": "A"}),
    ]
    first = {"number": 1, "sock": 1, "done": 0, "other_done": 0, "created": NOON.isoformat()}
    pair = {"format": "tapeline pair", "version": 1, "title": "Larch", "unit": random.choice(["cm", "in"]), "log": log}
    text = json.dumps({**pair, "revisions": [{**first, "plan": plan.model_dump(mode="json")}]})
    assert read_pair_file(json.loads(text))[0]
    address = {"path": "/pair/larch/check/result", "version": "v1", "sock": random.choice([1, 2]), "done": done}
    return {"page": "check", "text": text, "address": address}


def checks(number: int) -> list[dict[str, Any]]:
    random = Random(4711)
    made: list[dict[str, Any]] = []
    while len(made) < number:
        if one := check(random):
            made.append(one)
    return made


def test_the_archive_is_the_same_each_time_and_has_no_server_in_it() -> None:
    archive = code_archive()
    assert archive == code_archive()
    packed = zipfile.ZipFile(io.BytesIO(archive))
    ours = [name for name in packed.namelist() if name.startswith("companion/")]
    assert not [name for name in ours if name.startswith(("companion/store/", "companion/cli/"))]
    assert not [name for name in ours if b"from flask" in packed.read(name)]
