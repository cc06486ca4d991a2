"""From the form to a pair."""

from __future__ import annotations

import re

import pytest

from companion.planning import make_plan, read_request

from ...conftest import FORM, Browser


def offered(text: str) -> list[str]:
    return re.findall(r'type="radio" name="choice" value="(\d+)"', text)


def leg_stitches(browser: Browser, link: str) -> int:
    return int(browser.get(f"/pair/{link}/pair.json").get_json()["scripts"][0]["instructions"][0]["after"])


def test_the_empty_form_has_the_usual_values_and_no_faults(browser: Browser) -> None:
    page = browser.get("/plan")
    assert page.status_code == 200
    assert 'value="k2 p2"' in page.text
    assert 'aria-invalid="true"' not in page.text


def test_a_sound_form_makes_a_pair_with_its_name(browser: Browser) -> None:
    link = browser.make_pair(title="For <Ada> & Bo")
    page = browser.get(f"/pair/{link}").text
    assert "For &lt;Ada&gt; &amp; Bo" in page
    assert "<Ada>" not in page


def test_the_form_comes_back_with_what_was_typed_and_what_is_wrong(browser: Browser) -> None:
    answer = browser.post("/plan", {**FORM, "foot_length": "twenty-five", "rib": "moss stitch", "grams": "a lot"})
    assert answer.status_code == 422
    for typed in ("twenty-five", "moss stitch", "a lot"):
        assert f'value="{typed}"' in answer.text
    for field in ("foot_length", "rib", "grams"):
        assert f'id="{field}-error"' in answer.text


def test_numbers_that_do_not_belong_together_are_reported_at_a_field(browser: Browser) -> None:
    answer = browser.post("/plan", {**FORM, "stitches": "30", "rounds": "20"})
    assert answer.status_code == 422
    assert 'id="rounds-error"' in answer.text
    assert "count both again" in answer.text


def test_a_sock_that_cannot_be_knitted_is_reported_at_a_field(browser: Browser) -> None:
    answer = browser.post(
        "/plan", {**FORM, "ball_circumference": "9", "foot_length": "8", "stitches": "14", "rounds": "20"}
    )
    assert answer.status_code == 422
    assert 'id="stitches-error"' in answer.text


def test_the_summary_of_a_refused_form_says_what_was_given_and_what_is_allowed_of_what(browser: Browser) -> None:
    refused = {"foot_length": "99", "needle_mm": "20", "stripes": "A 4, 2 B", "colour_pattern": "stripes"}
    answer = browser.post("/plan", {**FORM, **refused})
    summary = answer.text.replace("\u00a0", " ").partition('id="errors"')[2].partition("</ul>")[0]
    told = {re.sub(r"<[^>]+>", "", line).strip() for line in summary.split("<li>")[1:]}
    assert told == {
        "Foot length: You typed “99”. Allowed: 8 to 36 cm.",
        "Needle size in mm: You typed “20”. Allowed: 1 to 8.",
        "Stripes: You typed “A 4, 2 B”. “2 B” is no stripe; a letter and its rounds are needed, like A 4, B 2.",
    }


def test_measurements_that_make_no_sock_together_are_reported_in_the_unit_of_the_form(browser: Browser) -> None:
    inches = {"unit": "in", "ball_circumference": "9", "foot_length": "9 7/8", "cuff_length": "2", "leg_length": "6"}
    page = browser.post("/plan", {**FORM, **inches, "leg_circumference": "4 3/4"}).text
    assert "A leg suits a foot 9\u00a0in round the ball" in page


@pytest.mark.parametrize(("ball", "leg"), [("14", "36"), ("23", "10")])
def test_measurements_that_make_no_sock_together_are_reported(browser: Browser, ball: str, leg: str) -> None:
    answer = browser.post("/plan", {**FORM, "ball_circumference": ball, "leg_circumference": leg})
    assert answer.status_code == 422
    assert "Something needs another look" in answer.text


def test_the_counts_appear_while_the_form_is_filled_in(browser: Browser) -> None:
    answer = browser.post("/plan/choices", FORM)
    assert answer.status_code == 200
    assert 3 <= len(offered(answer.text)) <= 5
    assert "<html" not in answer.text
    # Repeats of k2 p2, and perhaps one count between them.
    assert sum(int(count) % 4 == 0 for count in offered(answer.text)) >= 3


def test_missing_numbers_are_waited_for_and_wrong_ones_are_reported(browser: Browser) -> None:
    waiting = browser.post("/plan/choices", {**FORM, "stitches": ""}).text
    assert "missing" not in waiting
    assert not offered(waiting)
    wrong = browser.post("/plan/choices", {**FORM, "stitches": "", "foot_length": "99"}).text
    assert "Allowed: 8 to 36 cm" in wrong


@pytest.mark.parametrize("place", range(3))
def test_the_count_that_is_chosen_is_knitted(browser: Browser, place: int) -> None:
    counts = offered(browser.post("/plan/choices", FORM).text)
    chosen = counts[place]
    assert leg_stitches(browser, browser.make_pair(choice=chosen)) == int(chosen)


def test_without_a_choice_the_nearest_count_is_taken(browser: Browser) -> None:
    wanted, _ = read_request(
        {
            "foot": {"ball_circumference_cm": 23, "length_cm": 25},
            "gauge": {"stitches_per_10cm": 30, "rounds_per_10cm": 42},
        }
    )
    assert wanted
    nearest = make_plan(wanted).sizes.leg_stitches
    assert leg_stitches(browser, browser.make_pair()) == nearest
    assert leg_stitches(browser, browser.make_pair(choice=str(nearest))) == nearest


def test_choosing_does_not_move_the_counts_that_are_offered(browser: Browser) -> None:
    before = offered(browser.post("/plan/choices", FORM).text)
    after = browser.post("/plan/choices", {**FORM, "choice": before[0]}).text
    assert offered(after) == before
    assert re.search(rf'value="{before[0]}" checked', after)


@pytest.mark.parametrize("choice", ["61", "-1", "sixty", "²"])
def test_a_count_that_is_not_offered_any_more_is_asked_for_again(browser: Browser, choice: str) -> None:
    answer = browser.post("/plan", {**FORM, "choice": choice})
    assert answer.status_code == 422
    assert "Choose again" in answer.text
    assert offered(answer.text)


def test_the_counts_are_shown_without_scripts_before_a_pair_is_made(browser: Browser) -> None:
    answer = browser.post("/plan", {**FORM, "show": "choices"})
    assert answer.status_code == 200
    assert len(offered(answer.text)) >= 2


def test_inches_make_the_same_sock(browser: Browser) -> None:
    """25.4 cm are 10 in, and 30 stitches over 10 cm are 30.48 over 4 in."""
    shape = {"ball_circumference": "22.86", "foot_length": "25.4", "cuff_length": "5.08", "leg_length": "15.24"}
    inches = {"ball_circumference": "9", "foot_length": "10", "cuff_length": "2", "leg_length": "6"}
    metric = browser.make_pair(**shape, length_ease="1.27")
    imperial = browser.make_pair(**inches, length_ease="1/2", unit="in", stitches="30.48", rounds="42.672")
    one, other = (browser.get(f"/pair/{link}/pair.json").get_json() for link in (metric, imperial))
    assert one["scripts"][0]["rounds"] == other["scripts"][0]["rounds"]
    assert other["unit"] == "in"
    assert f"{one['scripts'][0]['total']} rounds" in browser.get(f"/pair/{imperial}").text


def test_without_scripts_another_unit_turns_the_page_and_makes_nothing(browser: Browser) -> None:
    answer = browser.post("/plan", {**FORM, "unit": "in", "typed_unit": "cm", "foot_length": "25.4"})
    assert answer.status_code == 200
    assert re.search(r'name="foot_length"[^>]*value="10"', answer.text)
    assert 'aria-invalid="true"' not in answer.text


def test_a_sample_fills_the_form_in_the_unit_asked_for(browser: Browser) -> None:
    page = browser.get("/plan?sample=ismene&unit=in").text
    assert re.search(r'name="foot_length"[^>]*value="9 5/8"', page)
    assert offered(page)


def test_a_shoe_size_fills_in_the_foot_without_scripts(browser: Browser) -> None:
    page = browser.post("/plan", {**FORM, "shoe_system": "EU", "shoe_size": "38", "fill": "shoe"})
    assert page.status_code == 200
    assert 'name="foot_length" type="text" value="24"' in page.text
    assert 'name="ball_circumference" type="text" value="22.7"' in page.text
    assert 'value="Thursday socks"' in page.text
    assert "This is a guess" in page.text


def test_the_guess_is_shown_as_long_as_the_form_rests_on_it(browser: Browser) -> None:
    guessed = {**FORM, "shoe_system": "EU", "shoe_size": "38", "foot_length": "24", "rib": "moss stitch"}
    assert "This is a guess" in browser.post("/plan", {**guessed, "ball_circumference": "22.7"}).text
    assert "This is a guess" not in browser.post("/plan", {**guessed, "ball_circumference": "22.4"}).text


def test_the_plan_says_what_of_the_foot_is_a_guess_and_how_far_it_may_be_off(browser: Browser) -> None:
    """EU 38 is (38 - 2) / 1.5 = 24 cm long, give or take 0.5; round the ball nine in ten lie inside."""
    guessed = {"shoe_system": "EU", "shoe_size": "38", "foot_length": "24"}
    page = browser.get(f"/pair/{browser.make_pair(**guessed, ball_circumference='22.7')}").text
    assert "24 cm: a guess from EU 38, 23.5 cm to 24.5 cm" in page
    assert "22.7 cm round: a guess from EU 38, 20.9 cm to 24.4 cm" in page
    assert "The foot is a guess from shoe size EU 38" in page
    assert re.search(r"Round the foot: <b>\w+</b></summary>\s*<p>[^<]*, a guess: ", page)
    measured = browser.get(f"/pair/{browser.make_pair(**guessed, ball_circumference='22')}").text
    assert "24 cm: a guess from EU 38" in measured
    assert "22 cm round: a guess" not in measured
    assert "a guess" not in browser.get(f"/pair/{browser.make_pair(shoe_system='EU', shoe_size='none')}").text


@pytest.mark.parametrize(
    ("yarn", "name"),
    [("four-ply, heather", "Heather socks"), ("moss", "Moss socks"), ("sock yarn", "Socks"), ("", "Socks")],
)
def test_a_pair_without_a_name_is_named_after_its_yarn(browser: Browser, yarn: str, name: str) -> None:
    page = browser.get(f"/pair/{browser.make_pair(title='', yarn_name=yarn)}").text
    assert f'<h1 id="pair-title">{name}</h1>' in page


def test_a_guess_stays_one_in_the_other_unit_and_for_the_next_pair(browser: Browser) -> None:
    """EU 38 is 24 cm long and usually 22.7 cm round the ball: 9 1/2 and 8 7/8 in, which are 24.1 and 22.5 cm again."""
    shoe = {"shoe_system": "EU", "shoe_size": "38"}
    inches = {"unit": "in", "cuff_length": "2", "leg_length": "6"}
    there = browser.make_pair(**shoe, **inches, foot_length="9 1/2", ball_circumference="8 7/8")
    back = browser.make_pair(**shoe, foot_length="24.1", ball_circumference="22.5")
    for link in (there, back):
        assert "its length may be anything from" in browser.get(f"/pair/{link}").text
        assert "This is a guess" in browser.get(f"/pair/{link}/next").text


@pytest.mark.parametrize(("unit", "length"), [("cm", "24"), ("in", "9 1/2")])
def test_a_shoe_size_is_answered_in_the_unit_of_the_form(browser: Browser, unit: str, length: str) -> None:
    form = {**FORM, "unit": unit, "shoe_system": "EU", "shoe_size": "38"}
    answer = browser.post("/plan/shoe-size", form).get_json()
    assert answer["fields"]["foot_length"] == length
    assert f"{length} {unit}" in answer["says"]


@pytest.mark.parametrize(
    ("typed", "says"), [("", "A number is needed"), ("99", "You typed “99”. Allowed: EU 17 to 53")]
)
def test_a_wrong_shoe_size_is_reported_at_its_field(browser: Browser, typed: str, says: str) -> None:
    form = {**FORM, "shoe_system": "EU", "shoe_size": typed}
    answer = browser.post("/plan/shoe-size", form)
    assert answer.status_code == 422
    assert says in answer.get_json()["says"]
    page = browser.post("/plan", {**form, "fill": "shoe"}).text
    assert says in page
    assert 'id="shoe_size-error"' in page
    assert f'name="foot_length" type="text" value="{FORM["foot_length"]}"' in page
