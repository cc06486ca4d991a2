"""Every action is answered by one line on the page that it leads to."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from urllib.parse import parse_qs, urlsplit

import pytest
from werkzeug.test import TestResponse

from companion.resources import STATIC
from companion.web.what_was_done import ANSWERS, KNIT_DONE

from ..conftest import Browser, entry
from ..photographs import photograph
from .checking import LOOSE, take
from .designing import DESIGN, join, keep_photo, lead
from .fuzz.page_forms import read_page

Act = Callable[[Browser], TestResponse]


def _remarked(browser: Browser, kind: str, **data: object) -> tuple[str, str]:
    """A pair with one remark; its link and the remark's id."""
    link, made = browser.make_pair(), entry(1, kind=kind, round=0, data=data)
    browser.post_json(f"/pair/{link}/log", {"entries": [made]})
    return link, str(made["id"])


def _change(browser: Browser, leg: str) -> TestResponse:
    link = browser.make_pair()
    page = browser.get(f"/pair/{link}/change").text
    form = {name: value for name, value in _fields(page).items() if name != "leg_length"}
    return browser.post(f"/pair/{link}/change", {**form, "leg_length": leg})


def _open_design(browser: Browser) -> TestResponse:
    saved = browser.get(f"/design/{lead(browser)}/export").data
    form = {"csrf_token": browser.token(), "design": (io.BytesIO(saved), "larch.tapeline.json")}
    return browser.client.post("/design/open", data=form, content_type="multipart/form-data")


def _fields(page: str) -> dict[str, str]:
    [form], _ = read_page("", page)
    return dict(form.fields)


def _leave_out_weighing(browser: Browser) -> TestResponse:
    link, slip = _remarked(browser, "weighing", grams=71)
    return browser.post(f"/pair/{link}/yarn/leave-out", {"entry": slip})


def _import(browser: Browser) -> TestResponse:
    file = browser.get(f"/pair/{browser.make_pair()}/export").data
    form = {"pair": (io.BytesIO(file), "pair.json"), "csrf_token": browser.token()}
    return browser.client.post("/import", data=form)


def _withdraw(browser: Browser) -> TestResponse:
    pair = join(browser, lead(browser))
    browser.post(f"/pair/{pair}/share", {"first_name": "Ortrun"})
    return browser.post(f"/pair/{pair}/share/withdraw", {})


def _remove_photo(browser: Browser) -> TestResponse:
    leader = lead(browser)
    keep_photo(browser, leader)
    return browser.post(f"/design/{leader}/photo/heel/remove", {})


def _keep_photo(browser: Browser) -> TestResponse:
    form = {"photo": (io.BytesIO(photograph()), "p.jpg"), "part": "heel", "csrf_token": browser.token()}
    return browser.client.post(f"/design/{lead(browser)}/photo", data=form)


def _come_back(browser: Browser) -> TestResponse:
    pair = join(browser, lead(browser))
    browser.post(f"/pair/{pair}/leave", {})
    return browser.post(f"/pair/{pair}/return", {})


def _recover(browser: Browser) -> TestResponse:
    page = browser.post(f"/design/{lead(browser)}/recovery", {}).text
    [code] = re.findall(r'data-link="([A-Z2-7 ]+)"', page)
    return browser.post("/design/recover", {"code": code})


def _take_over(browser: Browser) -> TestResponse:
    leader = lead(browser)
    pair = join(browser, leader)
    browser.post(f"/design/{leader}/edit", {**DESIGN, "leg_length": "9", "version": "1"})
    return browser.post(f"/pair/{pair}/design", {"version": "2"})


ACTS: dict[str, Act] = {
    "pair-deleted": lambda browser: browser.post(f"/pair/{browser.make_pair()}/delete", {}),
    "design-deleted": lambda browser: browser.post(f"/design/{lead(browser)}/delete", {}),
    "imported": _import,
    "changed": lambda browser: _change(browser, "10"),
    "unchanged": lambda browser: _change(browser, "14"),
    "taken-over": _take_over,
    "shared": lambda browser: browser.post(f"/pair/{join(browser, lead(browser))}/share", {}),
    "not-shared": _withdraw,
    "left-out": _leave_out_weighing,
    "design-changed": lambda browser: browser.post(
        f"/design/{lead(browser)}/edit", {**DESIGN, "leg_length": "9", "version": "1"}
    ),
    "design-left": lambda browser: browser.post(
        f"/pair/{join(browser, lead(browser))}/design", {"version": "1", "leave": "y"}
    ),
    "group-left": lambda browser: browser.post(f"/pair/{join(browser, lead(browser))}/leave", {}),
    "group-back": _come_back,
    "design-recovered": _recover,
    "told": lambda browser: browser.post(f"/design/{lead(browser)}/tell", {"words": "Cast on."}),
    "announcement-removed": lambda browser: browser.post(f"/design/{lead(browser)}/tell/remove", {"number": "1"}),
    "announcements-seen": lambda browser: browser.post(f"/pair/{join(browser, lead(browser))}/seen", {"number": "1"}),
    "design-copied": lambda browser: browser.post(f"/design/{lead(browser)}/copy", {}),
    "design-opened": _open_design,
    "group-ended": lambda browser: browser.post(f"/design/{lead(browser)}/end", {}),
    "group-reopened": lambda browser: browser.post(f"/design/{lead(browser)}/reopen", {}),
    "link-replaced": lambda browser: browser.post(f"/design/{lead(browser)}/replace", {}),
    "leader-removed": lambda browser: browser.post(f"/design/{lead(browser)}/leaders/remove", {"key": "x"}),
    "waiting": lambda browser: browser.post(
        f"/design/{lead(browser)}/edit", {**DESIGN, "rib": "k1 p1", "version": "1", "reveal_on": "2025-12-06"}
    ),
    "waiting-removed": lambda browser: browser.post(f"/design/{lead(browser)}/waiting/remove", {"day": "2025-12-06"}),
    "photo-kept": _keep_photo,
    "photo-removed": _remove_photo,
}


@pytest.mark.parametrize("did", sorted(ANSWERS))
def test_what_was_done_is_said_first_on_the_next_page(browser: Browser, did: str) -> None:
    done = ACTS[did](browser)
    assert done.status_code == 303
    page = browser.get(done.headers["Location"]).text
    main = page[page.index("<main") :]
    assert main.index(f"<p>{ANSWERS[did]}</p>") < main.index("<h1")


def _changed_at(browser: Browser, done: int) -> tuple[str, TestResponse]:
    """A pair whose sock one was changed by a check after so many rounds, and what answered the change."""
    link = browser.make_pair()
    browser.post_json(f"/pair/{link}/log", {"entries": [entry(1, kind="go", round=done)]})
    return link, take(browser, link, "rest", LOOSE | {"round": str(done)})


def _left_after_try_on(browser: Browser) -> TestResponse:
    link = browser.make_pair()
    felt = entry(2, kind="try-on", round=40, data={"where": "foot", "feels": "tight"})
    browser.post_json(f"/pair/{link}/log", {"entries": [entry(1, kind="go", round=40), felt]})
    page = browser.get(f"/pair/{link}/fit?sock=1&round=40").text
    return browser.post(f"/pair/{link}/fit", {**_fields(page), "choice": "foot leave"})


def _sock_two_chosen(browser: Browser) -> TestResponse:
    link, _ = _changed_at(browser, 40)
    return browser.post(f"/pair/{link}/second", {"newest": "2", "choice": "planned"})


KNIT_ACTS: dict[str, Act] = {
    "accepted": lambda browser: _changed_at(browser, 0)[1],
    "left": _left_after_try_on,
    "sock-two": _sock_two_chosen,
    "taken-back": lambda browser: browser.post(f"/pair/{_changed_at(browser, 40)[0]}/check/undo", {"sock": "1"}),
}


@pytest.mark.parametrize("did", sorted(KNIT_DONE))
def test_the_knit_page_has_words_for_what_led_to_it(browser: Browser, did: str) -> None:
    done = KNIT_ACTS[did](browser)
    assert done.status_code == 303
    asked = urlsplit(done.headers["Location"])
    assert parse_qs(asked.query) == {"did": [did]}
    script = (STATIC / "js/knit/sheets/what-was-done.js").read_text()
    assert re.search(rf'^  "?{did}"?: "[A-Z]', script, re.MULTILINE)


def test_a_change_that_the_changed_rounds_tell_is_not_told_twice(browser: Browser) -> None:
    assert not urlsplit(_changed_at(browser, 40)[1].headers["Location"]).query


def test_a_change_can_be_taken_back_where_it_is_answered(browser: Browser) -> None:
    page = browser.get(_change(browser, "10").headers["Location"]).text
    assert "Take it back" in page
    assert "Take it back" not in browser.get(_change(browser, "14").headers["Location"]).text


def test_nothing_is_said_where_nothing_was_done(browser: Browser, link: str) -> None:
    for address in ("/", "/?did=anything", f"/pair/{link}"):
        assert 'id="answer"' not in browser.get(address).text
