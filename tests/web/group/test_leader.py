"""A leader makes a design, changes it and hands it on."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser

import pytest
from flask import Flask, request

from companion.forms.design_form import MOST_WAYS, DesignForm
from companion.planning.plan.design import MOST_CONSTRUCTIONS, Design, read_design
from companion.web.links import follower_link

from ...conftest import FORM, Browser
from ..designing import BODY, DESIGN, change, handed_out, join, keep_photo, lead


def kept(browser: Browser, leader: str) -> Design:
    version = browser.client.application.extensions["store"].designs.led_by(leader)
    return Design.model_validate_json(version.document)


def test_a_design_holds_what_the_form_says(browser: Browser) -> None:
    design = kept(browser, lead(browser, rib="k3 p1", yarn_name="fingering, moss", garter_edge="y"))
    assert (design.title, design.cuff.rib, design.yarns[0].name) == ("Larch and moss", "k3 p1", "fingering, moss")
    assert design.constructions[0].garter_edge
    assert design.notes["heel"] == DESIGN["note_heel"]
    assert json.loads(design.model_dump_json())["stages"] == [
        {"name": "Leg done", "sock": 1, "until": "leg", "by": "2025-11-09"}
    ]


def test_followers_knit_cuff_heel_and_toe_in_the_yarns_that_a_design_gives_them(browser: Browser) -> None:
    yarns = {"yarn_count": "2", "yarn_name": "moss", "yarn_name_b": "chalk"}
    leader = lead(browser, **yarns, heel_yarn="B", toe_yarn="B")
    assert kept(browser, leader).parts.given() == {"heel": "B", "toe": "B"}
    page = " ".join(browser.get(f"/design/{leader}").text.split())
    assert "moss, chalk; heel in chalk; toe in chalk" in page
    document = browser.get(f"/pair/{join(browser, leader)}/pattern.md").text
    assert document.count("With yarn B.") == 3  # flap, turn and toe
    grid = browser.get(f"/join/{follower_link(leader)}/grid").text
    assert "Yarn B for the pair" in grid


def test_followers_get_the_edge_the_thread_and_the_stripes_of_a_design(browser: Browser) -> None:
    more = {"cuff_edge": "tubular", "thread_heel": "y", "colour_repeat_metres": "12", "rib": "k2 p2"}
    leader = lead(browser, **more)
    page = " ".join(browser.get(f"/design/{leader}").text.split())
    assert "k2 p2, tubular edge" in page
    assert "reinforcing thread in heel" in page
    assert "k2 p2, tubular edge" in browser.get(f"/join/{follower_link(leader)}").text
    pattern = browser.get(f"/pair/{join(browser, leader)}/pattern.md").text
    for words in ("in the tubular way", "Begin where a colour begins", "hold the reinforcing thread along"):
        assert pattern.count(words) == 1
    assert "Reinforcing thread for the pair, m" in browser.get(f"/join/{follower_link(leader)}/grid").text
    graded = browser.get(f"/design/{leader}/pattern.txt").text
    assert graded.count("hold the reinforcing thread along") == 1


def test_a_tubular_edge_for_another_ribbing_is_refused_at_its_field(browser: Browser) -> None:
    answer = browser.post("/plan", {**FORM, "cuff_edge": "tubular", "rib": "k3 p1"})
    assert answer.status_code == 422
    assert 'id="cuff_edge-error">A tubular edge goes with k1 p1' in answer.text


def test_ticked_parts_allow_every_mixture_with_the_one_proposed_first(browser: Browser) -> None:
    leader = lead(browser, also_heel="short-row", also_toe="round")
    found = [(one.heel, one.toe) for one in kept(browser, leader).constructions]
    assert found == [("flap", "wedge"), ("flap", "round"), ("short-row", "wedge"), ("short-row", "round")]


def fields_of(page: str) -> dict[str, str]:
    """What a browser would send from the form as it stands; lxml and the like are not needed for our own markup."""
    found = {}
    for tag in re.findall(r"<input [^>]*>", page):
        about = dict(re.findall(r'([\w-]+)="([^"]*)"', tag))
        if ("name" in about and about.get("type") not in ("radio", "checkbox")) or " checked" in tag:
            found[about["name"]] = about.get("value", "")
    for name, body in re.findall(r'<select [^>]*name="([^"]+)"[^>]*>(.*?)</select>', page, re.DOTALL):
        chosen = re.search(r'<option selected value="([^"]*)"', body)
        found[name] = chosen[1] if chosen else re.findall(r'value="([^"]*)"', body)[0]
    for name, body in re.findall(r'<textarea [^>]*name="([^"]+)"[^>]*>\r?\n?(.*?)</textarea>', page, re.DOTALL):
        found[name] = body
    return found


def test_thousands_of_ways_that_there_are_not_are_not_mixed(app: Flask) -> None:
    ways = {f"also_{name}": [f"{name}{number}" for number in range(300)] for name in ("direction", "heel", "toe")}
    with app.test_request_context("/design", method="POST", data={**DESIGN, **ways}):
        form = DesignForm(request.form)
        assert len(form.design_data()["constructions"]) <= MOST_WAYS**3
        _, others = form.read()
        told = " ".join([*others, *(str(error) for field in form for error in field.errors)])
        assert f"At most {MOST_CONSTRUCTIONS} allowed" in told


def test_the_form_shows_a_design_again_as_it_was_made(browser: Browser) -> None:
    leader = lead(browser, also_heel="afterthought", grams="80")
    before = kept(browser, leader)
    sent = fields_of(browser.get(f"/design/{leader}/edit").text)
    assert browser.post(f"/design/{leader}/edit", sent).status_code == 303
    assert kept(browser, leader) == before
    found = browser.client.application.extensions["store"].designs.led_by(leader)
    assert found.number == 1, "nothing was changed, so there is no new version"


def test_foot_and_gauge_are_not_in_the_form(browser: Browser) -> None:
    page = browser.get("/design").text
    for name in BODY.keys() - {"unit"}:
        assert f'name="{name}"' not in page
    assert 'name="rib"' in page


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"rib": "z9"}, "rib"),
        ({"title": "x" * 200}, "Name of the design"),
        ({"leg_length": "long"}, "A number is needed here"),
        ({"stage_by_1": "Sunday"}, "A day is needed here, like 2026-12-06"),
        ({"stage_name_1": "", "stage_by_1": "2025-11-09"}, "A name is needed here"),
        ({"time_zone": "Middle/Earth"}, "time zone"),
        ({"note_leg": "x" * 1001}, "At most 1000 characters"),
        ({"heel": "thumb"}, "Allowed: "),
    ],
)
def test_what_is_refused_is_reported_and_shown_again(browser: Browser, wrong: dict[str, str], said: str) -> None:
    answer = browser.post("/design", {**DESIGN, **wrong})
    assert answer.status_code == 422
    assert said in answer.text
    assert f'value="{wrong.get("title", "Larch and moss")}"' in answer.text
    assert "Needs another look" in answer.text


def test_a_design_without_a_name_is_named_after_its_yarn_or_asked_for_one(browser: Browser) -> None:
    assert kept(browser, lead(browser, title="", yarn_name="fingering, moss")).title == "Moss socks"
    answer = browser.post("/design", {**DESIGN, "title": ""})
    assert answer.status_code == 422
    assert "A name is needed: followers know the design by it" in answer.text
    assert "<svg" in browser.post("/design/preview", {**DESIGN, "title": ""}).text


def test_a_design_in_inches_means_the_same_lengths(browser: Browser) -> None:
    leader = lead(browser, unit="in", typed_unit="in", leg_length="5 1/2")
    assert kept(browser, leader).leg.length_cm == pytest.approx(5.5 * 2.54)


def test_without_scripts_another_unit_gives_the_form_back_in_it(browser: Browser) -> None:
    answer = browser.post("/design", {**DESIGN, "unit": "in", "typed_unit": "cm"})
    assert answer.status_code == 200
    assert 'value="5 1/2"' in answer.text  # 14 cm


def test_without_scripts_the_form_names_its_own_button(browser: Browser) -> None:
    leader = lead(browser)
    for path, words in (("/design", "Keep the design"), (f"/design/{leader}/edit", "Keep the change")):
        page = browser.get(path).text
        assert re.findall(r"<button [^>]*>((?:Make|Keep) the [^<]*)<", page) == [words, words]
        assert f"press {words}:" in page


def test_the_leaders_page_hands_out_the_followers_link_alone(browser: Browser) -> None:
    leader = lead(browser)
    page = browser.get(f"/design/{leader}")
    assert f"/join/{follower_link(leader)}" in page.text
    for paper in ("a6", "a4", "letter"):
        card = browser.get(f"/design/{leader}/card?paper={paper}").text
        printed = card[card.index("<article") :]
        assert f"/join/{follower_link(leader)}" in printed
        assert leader not in printed
    assert browser.get(f"/design/{leader}/card?paper=a5").status_code == 404


def test_the_leaders_page_has_an_invitation_to_copy(browser: Browser) -> None:
    leader = lead(browser)
    page = browser.get(f"/design/{leader}").text
    assert f'make your own plan for this sock:\nhttp://localhost/join/{follower_link(leader)}">' in page


def test_the_followers_link_does_not_lead_back(browser: Browser) -> None:
    """A hash has no inverse; 128 of its bits are as hard to guess as the leader's own (FIPS 180-4)."""
    leader = lead(browser)
    follower = follower_link(leader)
    assert len(follower) == 22
    assert follower != leader
    assert follower_link(follower) != leader
    assert leader not in browser.get(f"/join/{follower}").text


def test_a_change_made_on_an_older_version_is_refused(browser: Browser) -> None:
    leader = lead(browser)
    change(browser, leader, rib="k1 p1")
    answer = browser.post(f"/design/{leader}/edit", {**DESIGN, "version": "1", "rib": "k3 p1"})
    assert answer.status_code == 409
    assert kept(browser, leader).cuff.rib == "k1 p1"


def test_the_page_says_how_many_follow(browser: Browser) -> None:
    leader = lead(browser)
    assert "Nobody has made a pair" in browser.get(f"/design/{leader}").text
    join(browser, leader)
    join(browser, leader)
    assert "2 pairs made" in browser.get(f"/design/{leader}").text


def test_a_form_without_its_token_comes_back_as_it_was(browser: Browser) -> None:
    leader = lead(browser)
    for address in ("/design", f"/design/{leader}/edit"):
        answer = browser.client.post(address, data=DESIGN)
        assert answer.status_code == 400
        assert 'value="Larch and moss"' in answer.text


def test_every_field_of_the_plan_form_but_the_body_is_in_the_design_form(browser: Browser) -> None:
    with browser.client.application.test_request_context():
        names = {field.name for field in DesignForm().every_field()}
        assert {"rib", "heel", "yarn_name", "needle_mm", "ease_percent"} <= names
        assert not (set(BODY) - {"unit"}) & names


def attributes(page: str, wanted: str) -> dict[str, str | None]:
    """The attributes of the first element that has the wanted one."""
    found: list[dict[str, str | None]] = []

    class Reader(HTMLParser):
        def handle_starttag(self, _tag: str, attrs: list[tuple[str, str | None]]) -> None:
            if wanted in dict(attrs):
                found.append(dict(attrs))

    Reader().feed(page)
    return next(one for one in found if "<iframe" in (one[wanted] or "") or wanted == "src")


def test_the_frame_to_copy_survives_any_title(browser: Browser) -> None:
    title = 'Moss "and" <larch> & more'
    leader = lead(browser, title=title)
    frame = attributes(browser.get(f"/design/{leader}").text.partition('id="grid-title"')[2], "data-link")["data-link"]
    assert frame
    inside = attributes(frame, "src")
    assert inside["title"] == f"Sizes of {title}"
    assert (inside["src"] or "").endswith(f"/join/{follower_link(leader)}/grid")


def test_a_design_is_saved_as_a_document_that_reads_as_the_same_design(browser: Browser) -> None:
    leader = lead(browser, also_heel="short-row")
    answer = browser.get(f"/design/{leader}/design.json")
    assert answer.headers["Content-Disposition"] == 'attachment; filename="larch-and-moss.tapeline.json"'
    design, faults = read_design(answer.get_json())
    assert design, faults
    assert [one.heel for one in design.constructions] == ["flap", "short-row"]
    assert design.notes["heel"] == DESIGN["note_heel"]
    assert design.stages[0].by.isoformat() == DESIGN["stage_by_1"]


def test_a_copy_is_the_same_design_with_its_photos_and_without_followers(browser: Browser) -> None:
    leader = lead(browser, also_heel="short-row")
    keep_photo(browser, leader)
    pair = join(browser, leader)
    answer = browser.post(f"/design/{leader}/copy", {})
    assert answer.status_code == 303
    copied = answer.headers["Location"].partition("?")[0].removeprefix("/design/")
    assert copied != leader
    assert kept(browser, copied) == kept(browser, leader)
    photos = [browser.get(f"/design/{each}/photo/heel").data for each in (leader, copied)]
    assert photos[0] == photos[1] != b""
    assert "Nobody has made a pair" in browser.get(f"/design/{copied}").text
    change(browser, copied, rib="k1 p1")
    browser.post(f"/design/{copied}/photo/heel/remove", {})
    assert kept(browser, leader).cuff.rib == "k2 p2", "each goes its own way"
    assert browser.get(f"/design/{leader}/photo/heel").status_code == 200
    assert not browser.get(f"/pair/{pair}/pair.json").get_json()["design_changed"]
    assert browser.get(f"/join/{follower_link(copied)}").status_code == 200


def test_a_leg_until_half_the_yarn_leaves_cuff_down_out_and_says_so(browser: Browser) -> None:
    leader = lead(browser, direction="toe-up", also_direction="cuff-down", leg_until="half the yarn")
    page = browser.get(f"/design/{leader}").text
    assert "so none is cuff-down" in page
    assert "<dd>toe-up, heel flap, wedge toe</dd>" in page
    assert browser.get(f"/pair/{join(browser, leader)}").status_code == 200


def test_the_sock_is_drawn_while_the_form_is_filled_in(browser: Browser) -> None:
    assert 'class="sock-shape"' in browser.get("/design").text.partition('id="choices"')[2]
    plain = browser.post("/design/preview", DESIGN).text
    assert 'class="sock-shape"' in plain
    longer = browser.post("/design/preview", {**DESIGN, "leg_length": "16"}).text
    assert longer != plain
    assert "<svg" not in browser.post("/design/preview", {**DESIGN, "leg_length": "soon"}).text


def test_a_plan_is_drawn_beside_its_form(browser: Browser) -> None:
    assert 'class="sock-shape"' in browser.post("/plan/choices", FORM).text
    assert 'class="sock-shape"' not in browser.get("/plan").text.partition('id="choices"')[2].partition("</form>")[0]


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"stitch_pattern": "lace rib"}, "lace rib all round"),
        (
            {"stitch_pattern": "cable rib", "pattern_where": "front and back", "panel_repeats": "2"},
            "cable rib, panels of 2 repeats on front and back, plain beside them",
        ),
        (
            {"stitch_pattern": "lace rib", "pattern_where": "front", "panel_repeats": "1", "panel_beside": "k2 p2"},
            "lace rib, a panel of 1 repeat on the front, k2 p2 beside it",
        ),
    ],
)
def test_leader_and_followers_see_in_one_line_which_pattern_lies_where(
    browser: Browser, fields: dict[str, str], told: str
) -> None:
    leader = lead(browser, colour_pattern="stitches", **fields)
    for page in (f"/design/{leader}", f"/join/{handed_out(browser, leader)}"):
        assert f"<dt>Pattern</dt><dd>{told}</dd>" in browser.get(page).text
