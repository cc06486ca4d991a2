"""Notes, with photos that stay on the phone, and try-ons."""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import FilePayload, expect

from ...conftest import made
from ..conftest import NewPhone
from ..given import photo
from ..knitting import Knitting, section_of, until
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")


GONE = """([link, slip, stays]) => new Promise((resolve) => {
    const opening = indexedDB.open("tapeline");
    opening.onsuccess = () => {
        const reading = opening.result.transaction(["log", "photos"]);
        const kept = reading.objectStore("log").get([link, slip]);
        const photos = reading.objectStore("photos").getAllKeys();
        reading.oncomplete = () => {
            opening.result.close();
            const entry = kept.result;
            resolve(entry.data ? null : { slip: { ...entry, data: null }, photos: photos.result.map(([, id]) => id) });
        };
    };
})"""


def write_note(knitting: Knitting, text: str, picture: FilePayload | None = None) -> None:
    knitting.page.get_by_role("button", name="Note", exact=True).tap()
    knitting.page.get_by_label("Note", exact=True).fill(text)
    if picture:
        knitting.page.get_by_label("Photo").set_input_files(picture)
    knitting.keep("note")
    expect(knitting.page.get_by_role("dialog")).to_have_count(0)


def test_a_note_is_shown_at_its_round_on_every_phone(
    new_phone: NewPhone, knitting: Knitting, server: Server, link: str
) -> None:
    knitting.count(2)
    write_note(knitting, "One stitch <b>dropped</b>.")
    remark = knitting.page.locator("#remark")
    expect(remark).to_contain_text("One stitch <b>dropped</b>.")
    knitting.is_at(2)
    knitting.everything_is_sent()
    knitting.count()
    expect(remark).to_have_count(0)
    knitting.page.locator("#undo").tap()
    expect(remark).to_contain_text("dropped")
    knitting.everything_is_sent()
    [note] = [entry for entry in server.entries(link) if entry.kind == "note"]
    assert (note.sock, note.round, note.data) == (1, 2, {"text": "One stitch <b>dropped</b>."})
    other = Knitting(new_phone(server), link).open()
    expect(other.page.locator("#remark")).to_contain_text("dropped")
    knitting.count()
    a_note_just_written_down_is_taken_back_where_it_stands(knitting)
    knitting.everything_is_sent()
    kept, gone = (entry for entry in server.entries(link) if entry.kind == "note")
    assert (kept.data, gone.data) == (note.data, None)
    what_is_no_picture_is_reported_and_the_note_stays(knitting)


def a_note_just_written_down_is_taken_back_where_it_stands(knitting: Knitting) -> None:
    write_note(knitting, "Not this one.")
    remark = knitting.page.locator("#remark")
    remark.get_by_role("button", name="Take it back").tap()
    expect(remark).to_have_count(0)
    expect(knitting.page.locator("#told")).to_contain_text("Taken back. Nothing was kept.")


def what_is_no_picture_is_reported_and_the_note_stays(knitting: Knitting) -> None:
    knitting.page.get_by_role("button", name="Note", exact=True).tap()
    knitting.page.get_by_label("Note", exact=True).fill("kept")
    knitting.page.get_by_label("Photo").set_input_files(
        {"name": "x.jpg", "mimeType": "image/jpeg", "buffer": b"no picture"}
    )
    knitting.page.get_by_role("button", name="Keep it").tap()
    expect(knitting.page.get_by_role("dialog").get_by_role("alert")).to_contain_text("without the photo")
    expect(knitting.page.get_by_label("Note", exact=True)).to_have_value("kept")


def test_a_photo_is_made_small_and_never_sent(knitting: Knitting) -> None:
    sent: list[str] = []
    knitting.page.on("request", lambda request: sent.append(request.post_data or ""))
    write_note(knitting, "Ladder at the gusset", photo(4000, 3000))
    knitting.everything_is_sent()
    knitting.page.reload()
    knitting.page.get_by_role("button", name="See the photo").tap()
    picture = knitting.page.get_by_role("img", name="Ladder at the gusset")
    expect(picture).to_be_visible()
    size = "async (image) => { await image.decode(); return [image.naturalWidth, image.naturalHeight]; }"
    assert picture.evaluate(size) == [1600, 1200]
    [note] = [entry for body in sent if body for entry in json.loads(body)["entries"] if entry["kind"] == "note"]
    assert note["data"] == {"text": "Ladder at the gusset"}
    assert max(map(len, sent)) < 2000


def test_the_logbook_shows_and_prints_photos_where_they_are_kept(
    new_phone: NewPhone, server: Server, knitting: Knitting, link: str
) -> None:
    write_note(knitting, "Ladder at the gusset", photo(800, 600))
    write_note(knitting, "None of this one")
    expect(knitting.page.locator("#remark")).to_contain_text("None of this one")
    knitting.everything_is_sent()
    knitting.page.goto(f"/pair/{link}/logbook")
    picture = knitting.page.get_by_role("img", name="Ladder at the gusset")
    expect(picture).to_be_visible()
    assert picture.evaluate("(image) => image.decode().then(() => image.naturalWidth)") == 800
    expect(knitting.page.locator(".day img")).to_have_count(1)
    knitting.page.emulate_media(media="print")
    expect(picture).to_be_visible()
    other = new_phone(server)
    other.goto(f"/pair/{link}/logbook")
    expect(other.get_by_text("Ladder at the gusset")).to_be_visible()
    expect(other.locator(".day img")).to_have_count(0)


def test_what_was_taken_back_is_gone_from_the_phone_with_its_photo(
    knitting: Knitting, server: Server, link: str
) -> None:
    knitting.count()
    write_note(knitting, "Ladder at the gusset", photo(800, 600))
    write_note(knitting, "None of this one", photo(80, 60))
    knitting.everything_is_sent()
    slip, stays = (entry for entry in server.entries(link) if entry.kind == "note")
    server.write(link, made(9, clock=9, kind="withdrawal", data={"entry": slip.id}))
    knitting.page.reload()
    knitting.is_at(1)
    left = until(knitting.page, GONE, [link, slip.id, stays.id])
    assert left == {"slip": {**slip.as_json(), "link": link, "sent": 1, "data": None}, "photos": [stays.id]}
    knitting.page.reload()
    expect(knitting.page.locator("#remark")).to_contain_text("None of this one")


def test_a_try_on_and_a_length_are_written_down(knitting: Knitting, server: Server, link: str) -> None:
    knitting.count(1)
    knitting.page.get_by_role("button", name="Try on", exact=True).tap()
    knitting.page.get_by_label("instep").check()
    knitting.page.get_by_label("tight").check()
    knitting.page.keyboard.press("PageDown")
    knitting.keep("try-on")
    expect(knitting.page.get_by_role("link", name="What that means for the rest")).to_be_visible()
    knitting.page.get_by_role("button", name="Close").tap()
    expect(knitting.page.get_by_role("dialog")).to_have_count(0)
    knitting.is_at(1)
    [tried] = [entry for entry in server.entries(link) if entry.kind == "try-on"]
    assert (tried.round, tried.data) == (1, {"where": "instep", "feels": "tight"})
    a_length_is_taken_where_a_tape_goes_straight(knitting, server, link)


def a_length_is_taken_where_a_tape_goes_straight(knitting: Knitting, server: Server, link: str) -> None:
    page = knitting.page
    data = knitting.data()
    leg, turn = (section_of(data, 1, key) for key in ("leg", "heel-turn"))
    knitting.go_to_round(leg["first"] + 41)
    page.get_by_role("button", name="Length", exact=True).tap()
    page.get_by_label("Length in cm").fill("much")
    page.get_by_role("button", name="Keep it").tap()
    expect(page.get_by_role("alert")).to_contain_text("is no length of a sock")
    page.get_by_label("Length in cm").fill("9,5")
    knitting.keep("length")
    expect(page.get_by_role("link", name="What that means for the rest")).to_be_visible()
    [taken] = [entry for entry in server.entries(link) if entry.kind == "length"]
    assert (taken.round, taken.data) == (leg["first"] + 40, {"cm": 9.5, "from": "section"})
    page.get_by_role("button", name="Close").tap()
    knitting.go_to_round(turn["first"] + 3)
    page.get_by_role("button", name="Length", exact=True).tap()
    expect(page.get_by_role("dialog")).to_contain_text("No straight tape goes up to the needles here.")
