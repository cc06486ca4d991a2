"""The forms of a page, filled in as a browser would send them."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from html.parser import HTMLParser
from urllib.parse import urljoin, urlsplit


@dataclass
class PageForm:
    """One form: where it goes, how, what stands in it, and what else may be chosen in some of its fields.

    Each of `buttons`, named or not, can be what sends it.
    """

    method: str
    action: str
    fields: list[tuple[str, str]] = field(default_factory=list)
    files: list[str] = field(default_factory=list)
    buttons: list[tuple[str, str]] = field(default_factory=list)
    choices: dict[str, list[str]] = field(default_factory=dict)

    @property
    def path(self) -> str:
        return urlsplit(self.action).path

    @property
    def query(self) -> str:
        return urlsplit(self.action).query


NEEDED = "Some wool"
"""What is typed where something is needed."""


class _Reader(HTMLParser):
    """Collects forms, with the fields that name one from elsewhere, and addresses that the page leads to."""

    def __init__(self, address: str) -> None:
        super().__init__()
        self.address = address
        self.forms: list[PageForm] = []
        self.named: dict[str, PageForm] = {}
        self.addresses: set[str] = set()
        self._form: PageForm | None = None
        self._select: str | None = None
        self._option = False  # whether its text is its value
        self._area: list[str] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        self.addresses |= {urljoin(self.address, given[name]) for name in ("href", "src") if given.get(name)}
        if tag == "form":
            self._form = PageForm(given.get("method", "get").upper(), urljoin(self.address, given.get("action", "")))
            self.forms.append(self._form)
            self.named[given.get("id", "")] = self._form
            return
        form = self.named.get(given["form"]) if "form" in given else self._form
        if form and (given.get("name") or tag in {"option", "button"}):
            self._read_field(form, tag, given)

    def _read_field(self, form: PageForm, tag: str, given: dict[str, str]) -> None:
        name, value = given.get("name", ""), given.get("value", "")
        match tag, given.get("type", "text"):
            case "option", _:
                self._read_option(form, given)
            case "select", _:
                self._select = name
            case "textarea", _:
                # A browser sends none that is needed and empty.
                form.fields.append((name, NEEDED if "required" in given else ""))
                self._area = []
            case "button", kind if kind != "button":
                form.buttons.append((name, value))
            case "input", "file":
                form.files.append(name)
            case "input", "radio" | "checkbox":
                form.choices.setdefault(name, []).append(value)
                if "checked" in given:
                    form.fields.append((name, value))
            case "input", _:
                form.fields.append((name, value))

    def _read_option(self, form: PageForm, given: dict[str, str]) -> None:
        form.choices.setdefault(self._select or "", []).append(given.get("value", ""))
        # The first stands there until another is chosen.
        there = [index for index, (name, _) in enumerate(form.fields) if name == self._select]
        if self._select and not there:
            form.fields.append((self._select, given.get("value", "")))
            self._option = "value" not in given
        elif self._select and "selected" in given:
            form.fields[there[0]] = (self._select, given.get("value", ""))

    def handle_data(self, data: str) -> None:
        if self._area is not None:
            self._area.append(data)
        if self._option and self._form and data.strip():
            self._form.fields[-1] = (self._select or "", data.strip())
            self._option = False

    def handle_endtag(self, tag: str) -> None:
        match tag:
            case "form":
                self._form = None
            case "select":
                self._select = None
            case "textarea" if self._area is not None and self._form:
                name, usual = self._form.fields[-1]
                self._form.fields[-1] = (name, "".join(self._area).removeprefix("\n") or usual)
                self._area = None


@lru_cache(32)
def read_page(address: str, html: str) -> tuple[list[PageForm], set[str]]:
    """The forms of a page, and the whole addresses that it leads to."""
    reader = _Reader(address)
    reader.feed(html)
    return reader.forms, reader.addresses
