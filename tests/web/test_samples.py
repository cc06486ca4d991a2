"""The sample projects are sound, differ, and fill the form in."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from companion.planning.planner import make_plan
from companion.resources import SAMPLE_PROJECTS
from companion.web.samples import read_samples

from ..conftest import Browser

SAMPLES = read_samples(SAMPLE_PROJECTS)


def test_there_are_feet_gauges_and_ribs_to_choose_from() -> None:
    requests = [sample.request for sample in SAMPLES.values()]
    assert len(requests) >= 3
    lengths = [request.foot.length_cm for request in requests]
    assert max(lengths) - min(lengths) >= 10
    assert len({request.gauge.stitches_per_10cm for request in requests}) >= 3
    assert len({request.cuff.rib for request in requests}) >= 3
    assert len({request.yarns for request in requests}) >= 3
    assert {request.construction.direction for request in requests} == {"cuff-down", "toe-up"}
    assert {request.construction.heel for request in requests} >= {"flap", "short-row"}


@pytest.mark.parametrize("key", sorted(SAMPLES))
def test_a_sample_can_be_knitted_and_its_yarn_suffices(key: str) -> None:
    plan = make_plan(SAMPLES[key].request)
    assert all(need.enough for need in plan.yarn)
    assert {verdict.verdict for verdict in plan.fit} <= {"good", "snug", "loose"}


@pytest.mark.parametrize("key", sorted(SAMPLES))
def test_a_sample_is_one_tap_and_one_button_away(browser: Browser, key: str) -> None:
    assert f"/plan?sample={key}" in browser.get("/").text
    page = browser.get(f"/plan?sample={key}")
    assert page.status_code == 200
    assert 'name="choice"' in page.text


def test_a_file_that_is_no_request_is_told_by_its_name(tmp_path: Path) -> None:
    (tmp_path / "torn.json").write_text(json.dumps({"schema": 1}))
    with pytest.raises(ValueError, match=r"torn\.json: foot: needed"):
        read_samples(tmp_path)
