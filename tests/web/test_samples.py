"""The sample projects are sound, differ, and fill the form in."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from companion.planning import make_plan
from companion.resources import SAMPLE_PROJECTS
from companion.web.samples import LESSONS, read_samples

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
def test_a_sample_shows_its_plan_at_once_and_leads_to_the_form(browser: Browser, key: str) -> None:
    first = browser.get("/").text
    assert f'href="/sample/{key}"' in first
    assert LESSONS[key] in first
    page = browser.get(f"/sample/{key}")
    assert "Counts and sizes" in page.text
    assert f'href="/plan?sample={key}"' in page.text
    assert 'name="choice"' in browser.get(f"/plan?sample={key}").text


def test_a_sample_can_be_knitted_as_it_is(browser: Browser) -> None:
    made = browser.post("/sample/ismene", {})
    assert made.status_code == 303
    assert "Ismene, high instep" in browser.get(made.headers["Location"]).text
    assert browser.post("/sample/nonsense", {}).status_code == 404


def test_every_sample_says_what_is_to_be_learned_from_it() -> None:
    assert set(LESSONS) == set(SAMPLES)


def test_a_file_that_is_no_request_is_reported_by_its_name(tmp_path: Path) -> None:
    (tmp_path / "torn.json").write_text(json.dumps({"schema": 1}))
    with pytest.raises(ValueError, match=r"torn\.json: foot: needed"):
        read_samples(tmp_path)
