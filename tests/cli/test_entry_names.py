"""What is said of a file with a fault: the entry as a knitter calls it, as on the form, and where it is in the file."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args

import pytest
from pydantic import BaseModel
from wtforms.fields.core import UnboundField

from companion.cli import main
from companion.cli.entry_names import ENTRY_NAMES
from companion.forms.plan_form import PlanForm
from companion.planning import PlanRequest
from companion.planning.plan.design import Design


def models_in(annotation: Any) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in get_args(annotation):
        yield from models_in(inner)


def entries(model: type[BaseModel], before: str = "") -> Iterator[str]:
    """Every entry of a document that has none inside, but for its version."""
    for name, field in model.model_fields.items():
        inner = list(models_in(field.annotation))
        for one in inner:
            yield from entries(one, f"{before}{name}.")
        if not inner and name != "schema_":
            yield before + name


def test_every_entry_has_a_name_and_each_name_an_entry() -> None:
    known = {entry.replace("constructions.", "construction.") for entry in (*entries(PlanRequest), *entries(Design))}
    assert set(ENTRY_NAMES) == known


def test_the_names_are_those_of_the_form() -> None:
    fields = [getattr(PlanForm, name) for name in dir(PlanForm)]
    labels = {
        field.kwargs["where"]: field.args[0]
        for field in fields
        if isinstance(field, UnboundField) and "where" in field.kwargs
    }
    assert len(labels) > 8
    assert {where: ENTRY_NAMES[where] for where in labels} == labels


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"foot": {"length_cm": 99}}, "Foot length, foot.length_cm: 99 given; allowed up to 36"),
        ({"yarns": [{"grams": "many"}]}, "Yarn at hand, yarns.0.grams: many given; a number is needed here"),
        (
            {"leg": {"chart": {"width": 4, "rows": ["AAXA"]}}},
            "Chart, leg.chart.rows.0: AAXA given; allowed: the letters",
        ),
        ({"beads": 3}, "beads: 3 given; not an entry of this document"),
    ],
)
def test_a_fault_of_a_file_names_the_entry_twice(
    request_data: dict[str, Any],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    change: dict[str, Any],
    said: str,
) -> None:
    for entry, value in change.items():
        old = request_data.get(entry)
        if isinstance(old, dict):
            old.update(value)
        elif isinstance(old, list):
            old[0].update(value[0])
        else:
            request_data[entry] = value
    path = tmp_path / "request.json"
    path.write_text(json.dumps(request_data))
    assert main(["plan", str(path)]) == 2
    assert f"{path}: {said}" in capsys.readouterr().err
