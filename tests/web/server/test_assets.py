"""Static files: one version in every address, kept by browsers for a year, complete for the worker."""

from __future__ import annotations

import gzip
import json
import re
from pathlib import Path

import pytest

from companion.resources import STATIC
from companion.web.server.assets import read_assets, without_comments

from ...conftest import Browser


def addresses_in(text: str) -> set[str]:
    return set(re.findall(r'(?:href|src)="(/static/[^"]+)"', text))


def test_every_file_that_a_page_names_is_there(browser: Browser, link: str) -> None:
    pages = ("/", "/plan", f"/pair/{link}", f"/pair/{link}/knit", "/knit", f"/pair/{link}/check")
    named = set().union(*(addresses_in(browser.get(page).text) for page in pages))
    assert named
    assert {address for address in named if browser.get(address).status_code != 200} == set()


def test_every_module_and_style_that_a_file_names_is_there(browser: Browser) -> None:
    version = next(iter(addresses_in(browser.get("/").text))).split("/")[2]
    for path in [*STATIC.rglob("*.js"), *STATIC.rglob("*.css")]:
        for name in re.findall(r'(?:from |(?<!@)import |import\(|url\()"(\.[^"]+)"', path.read_text(encoding="utf-8")):
            target = (path.parent / name).resolve().relative_to(STATIC).as_posix()
            assert browser.get(f"/static/{version}/{target}").status_code == 200, (path.name, name)


def test_a_style_sheet_goes_out_as_one_file_with_its_parts_in_their_order(tmp_path: Path) -> None:
    (tmp_path / "parts").mkdir()
    (tmp_path / "whole.css").write_text('/* All. */\n\n@import "./parts/b.css";\n@import "./parts/a.css";\n')
    (tmp_path / "parts/a.css").write_text("/* Later. */\n\np {\n  color: red;\n}\n")
    (tmp_path / "parts/b.css").write_text("p {\n  color: blue;\n}\n")
    sent = read_assets(tmp_path, tmp_path).files
    assert {path: file.body.decode().strip() for path, file in sent.items()} == {
        "whole.css": "p {\ncolor: blue;\n}\np {\ncolor: red;\n}"
    }


def test_no_style_sheet_sends_a_page_for_another() -> None:
    sheets = {path: file.body for path, file in read_assets(STATIC, STATIC).files.items() if path.endswith(".css")}
    assert sheets
    assert {path for path, body in sheets.items() if b"@import" in body} == set()


def test_a_file_is_kept_for_a_year_and_never_asked_for_again(browser: Browser) -> None:
    answer = browser.get(addresses_in(browser.get("/").text).pop())
    assert answer.headers["Cache-Control"] == "public, max-age=31536000, immutable"
    assert "Set-Cookie" not in answer.headers


@pytest.mark.parametrize(
    "path",
    ["0000000000000000/css/lib/base.css", "VERSION/css/nowhere.css", "VERSION/../pyproject.toml", "VERSION/%2e%2e/x"],
)
def test_another_version_or_a_file_from_elsewhere_is_not_served(browser: Browser, path: str) -> None:
    version = addresses_in(browser.get("/").text).pop().split("/")[2]
    assert browser.get("/static/" + path.replace("VERSION", version)).status_code == 404


def test_files_go_out_in_their_types_and_smaller_where_that_is_taken(browser: Browser) -> None:
    version = addresses_in(browser.get("/").text).pop().split("/")[2]
    plain = browser.get(f"/static/{version}/css/lib/base.css")
    packed = browser.get(f"/static/{version}/css/lib/base.css", headers={"Accept-Encoding": "gzip"})
    assert plain.mimetype == packed.mimetype == "text/css"
    assert packed.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(packed.data) == plain.data
    assert "Accept-Encoding" in packed.headers["Vary"]
    assert browser.get(f"/static/{version}/js/pair/db.js").mimetype == "text/javascript"


@pytest.mark.parametrize("path", [*STATIC.rglob("*.js"), *STATIC.rglob("*.css")], ids=lambda path: path.name)
def test_code_goes_out_without_comments_and_indents_and_otherwise_as_it_is(path: Path) -> None:
    code = path.read_text(encoding="utf-8")
    sent = without_comments(code)
    pairs = list(zip(code.split("\n"), sent.split("\n"), strict=True))
    assert all(after in (before.lstrip(), "") for before, after in pairs)
    assert all(re.match(r"\s*(?:/\*|//|\*|[^;{}]*$)", before) for before, after in pairs if not after)
    # A text over several lines might begin one with spaces, or look like a comment: there is none.
    assert all(line.count("`") % 2 == 0 for line, _ in pairs)


def test_only_a_comment_with_lines_to_itself_is_left_out() -> None:
    code = 'a("/*"); /* b */\n/** c\n * d\n */\n  // e\nf("//"); // g\n/* h */ i();\n/* j */\n'
    assert without_comments(code) == 'a("/*"); /* b */\n\n\n\n\nf("//"); // g\n/* h */ i();\n\n'


def test_any_change_makes_another_version(tmp_path: Path) -> None:
    static, templates = tmp_path / "static", tmp_path / "templates"
    for folder in (static, templates):
        folder.mkdir()
        (folder / "a.css").write_text("a {}")
    first = read_assets(static, templates).version
    assert read_assets(static, templates).version == first
    (static / "a.css").write_text("b {}")
    second = read_assets(static, templates).version
    (templates / "a.css").write_text("b {}")
    third = read_assets(static, templates).version
    (static / "a.css").rename(static / "b.css")
    assert len({first, second, third, read_assets(static, templates).version}) == 4


def test_the_worker_keeps_everything_that_the_offline_pages_name(browser: Browser) -> None:
    answer = browser.get("/sw.js")
    assert answer.mimetype == "text/javascript"
    assert answer.headers["Cache-Control"] == "private, no-cache"
    listed = re.search(r"SHELL = (\[.*?\]);", answer.text)
    assert listed
    shell = json.loads(listed[1])
    assert {"/", "/knit", "/check"} <= set(shell)
    named = {
        address
        for page in ("/", "/knit", "/check")
        for address in addresses_in(browser.get(page).text)
        if not address.endswith(".png")
    }
    assert named <= set(shell)
    assert all(browser.get(url).status_code == 200 for url in shell)


def test_the_manifest_has_what_a_phone_asks_for_to_install(browser: Browser) -> None:
    """W3C Web Application Manifest; browsers want a 192 and a 512 pixel icon (web.dev/articles/install-criteria)."""
    answer = browser.get("/manifest.webmanifest")
    assert answer.mimetype == "application/manifest+json"
    manifest = json.loads(answer.data)
    assert manifest["name"]
    assert manifest["start_url"] == manifest["scope"] == "/"
    assert manifest["display"] == "standalone"
    assert {"192x192", "512x512"} <= {icon["sizes"] for icon in manifest["icons"]}
    assert "maskable" in {icon["purpose"] for icon in manifest["icons"]}
    assert all(browser.get(icon["src"]).mimetype == icon["type"] for icon in manifest["icons"])
