"""A copy to count from is one file that holds all it needs and does not open the pair."""

from __future__ import annotations

import base64
import hashlib
import json
import re
import zlib
from html import unescape

import pytest

from companion.resources import STATIC
from companion.web.links import mark_of
from companion.web.pair.bundle import BundleError, bundle
from companion.web.pair.copies import LOOKS

from ....conftest import Browser, entry
from .test_files import exported, imported, link_in


def copy_of(browser: Browser, link: str) -> str:
    answer = browser.get(f"/pair/{link}/copy")
    assert answer.status_code == 200
    assert answer.headers["Content-Disposition"] == 'attachment; filename="thursday-socks.html"'
    return answer.text


def held(page: str, name: str) -> str:
    """What a copy holds under a name: deflated, in base64 (RFC 1951 and 4648)."""
    [packed] = re.findall(rf'<script type="text/plain" id="{name}" data-packed>(.*?)</script>', page, re.DOTALL)
    return zlib.decompress(base64.b64decode(packed, validate=True), wbits=-zlib.MAX_WBITS).decode()


def named(text: str) -> str:
    """A script or style as a policy names it: CSP 3, section 2.3.1."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def test_a_copy_asks_nobody_for_anything_and_does_not_have_the_link(browser: Browser, link: str) -> None:
    page = copy_of(browser, link)
    assert not [text for text in (page, *(held(page, name) for name in ("pair", "file", "script"))) if link in text]
    assert re.findall(r'<(?:script|link|img|style)\b[^>]*(?:src|href)="([^"]*)"', page) == ["data:,"]
    policy = re.findall(r'http-equiv="Content-Security-Policy" content="([^"]*)"', page)[0]
    rules = unescape(policy).split("; ")
    [begins, style] = (re.findall(rf"<{kind}>(.*?)</{kind}>", page, re.DOTALL)[0] for kind in ("script", "style"))
    assert rules[0] == "default-src 'none'"
    assert f"script-src {named(begins)} {named(held(page, 'script'))}" in rules
    assert f"style-src {named(style)}" in rules


def test_a_copy_looks_like_the_knit_page() -> None:
    code = (STATIC / "js/knit/deferred-styles.js").read_text()
    [later] = re.findall(r"^const STYLES = (\[.*?\]);$", code, re.MULTILINE | re.DOTALL)
    assert ("lib/base", "knit/knit", *json.loads(later), "pages/copy") == LOOKS


def test_two_copies_of_a_pair_are_the_same(browser: Browser, link: str) -> None:
    assert copy_of(browser, link) == copy_of(browser, link)


def test_a_title_cannot_end_what_it_stands_in(browser: Browser) -> None:
    title = "</script></pre><!-- <b> & socks"
    page = browser.get(f"/pair/{browser.make_pair(title=title)}/copy").text
    assert [page.count(end) for end in ("</script>", "</pre>")] == [4, 1]
    assert json.loads(held(page, "file"))["title"] == title


def test_the_pattern_is_in_it_for_whoever_cannot_count_from_it(browser: Browser, link: str) -> None:
    [written] = re.findall(r'<pre id="written">(.*?)</pre>', copy_of(browser, link), re.DOTALL)
    assert unescape(written).strip() == browser.get(f"/pair/{link}/pattern.txt").text.strip()


def test_what_a_copy_saved_is_imported_as_a_pair_of_its_own_where_nobody_knows_the_pair(
    browser: Browser, link: str
) -> None:
    document = exported(browser, link)
    saved = {**document, "log": [entry(1), entry(2)], "copy_of": mark_of(link)}
    made = link_in(imported(browser, json.dumps(saved).encode()))
    assert exported(browser, made) == {**document, "log": saved["log"]}


MODULES = {
    "page/a.js": 'import { one as first, two } from "../lib/b.js";\nexport const a = () => first + two;\n',
    "lib/b.js": 'export const one = 1;\nexport async function two() {\n  return import("../page/c.js");\n}\n',
    "page/c.js": 'import "./b.js";\nnew Worker(new URL("./d.js", import.meta.url));\n',
    "page/b.js": "export class Kept {}\n",
    "page/d.js": 'export { Kept } from "./b.js";\n',
    "page/unused.js": "export const never = 0;\n",
    "new/b.js": 'import { Kept } from "../page/b.js";\nexport const made = Kept;\n',
}


def test_a_module_left_out_exports_what_does_nothing_and_brings_none_of_those_it_needs() -> None:
    made = bundle(MODULES, "page/a.js", {}, ["lib/b.js"])
    assert '"lib/b.js": () => {\nreturn { one() {}, two() {} };\n}' in made
    assert "page/c.js" not in made


def test_a_text_of_several_lines_is_not_bundled() -> None:
    with pytest.raises(BundleError, match="several lines"):
        bundle({"a.js": "const words = `one\n  two`;\n"}, "a.js", {})


LIGHT = 110_000
"""Bytes of a usual pair's copy (ours): it goes by message from phone to phone."""


def test_a_copy_is_light_and_brings_nothing_that_only_a_server_gives(browser: Browser, link: str) -> None:
    page = copy_of(browser, link)
    assert len(page.encode()) < LIGHT
    script = held(page, "script")
    assert "/runtime" not in script
    assert "/put-back`" not in script


def test_a_bundle_has_each_module_that_is_needed_once_and_no_other() -> None:
    made = bundle(MODULES, "page/a.js", {})
    names = re.findall(r'^"([^"]+)": \(\) =>', made, re.MULTILINE)
    assert names == ["lib/b.js", "page/a.js", "page/b.js", "page/c.js", "page/d.js"]
    assert not re.search(r"^(?:import|export)\b|import\.meta", made, re.MULTILINE)


def test_what_stands_in_for_a_module_may_need_it_itself() -> None:
    made = bundle(MODULES, "page/c.js", {"page/b.js": "new/b.js"})
    assert re.findall(r'^"([^"]+)": \(\) =>', made, re.MULTILINE) == ["new/b.js", "page/b.js", "page/c.js", "page/d.js"]


@pytest.mark.parametrize(
    ("code", "words"),
    [
        ('import "./gone.js";', "is not there"),
        ('import "./a.js";', "needs itself"),
        ("export default 1;", "is not understood"),
        ("const text = '</script>';", "cannot have"),
    ],
)
def test_a_module_that_cannot_be_brought_in_is_named(code: str, words: str) -> None:
    with pytest.raises(BundleError, match=words):
        bundle({"a.js": f"{code}\n"}, "a.js", {})
