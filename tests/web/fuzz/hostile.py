"""Requests as nobody's browser sends them: sound ones with something changed in them, and junk."""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import reduce
from operator import getitem
from typing import Any, Protocol, TypeAlias, TypeVar
from urllib.parse import quote, urlencode

from hypothesis import strategies as st

from ...conftest import entry

T = TypeVar("T")


class Draw(Protocol):
    """Draws an example, as `st.DataObject.draw` does."""

    def __call__(self, strategy: st.SearchStrategy[T], /) -> T:
        """One of what the strategy has."""


METHODS = ("GET", "HEAD", "POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT", "BREW", "get", "")

TEXTS = (
    *("", " ", "0", "-1", "1", "2", "40", "60", "999999", "9" * 30, "9" * 5000, "1e9", "1e999", "-0", "nan", "inf"),
    *("1/0", "1/3", "7 1/2", "7 1/2 in", "½", "7,5", "1.5.5", "+5", "1_000", "0x10", "٢٣", "²", "2²", "①", "１２"),
    *("\0", "\ud800", "\u202e", "\x7f", "\r\nX-Header: 1", "ﬁ", "ß" * 300, "é\u0301", "\U0001f9e6" * 50),
    *("<script>alert(1)</script>", "{{ 7 * 7 }}", "%s%n", "../../etc/passwd", "'; DROP TABLE pairs; --", "]]>"),
    *("A" * 2000, "A 5000", "A 1, B 1, C 1, D 1", "ABBA\nBAAB", "A" * 60 + "\n" + "B" * 60, "A\nAB", "\n" * 500),
    *("k2 p2", "k1", "k0 p0", "k99 p99", "p2 k2", "k2 p2 " * 40, "k1tbl p1", "20 22 24", "28 30x42", "30x42x1", "x"),
    *("cm", "in", "toe-up", "afterthought", "short-row", "short-row with gusset", "round", "stripes", "chart", "y"),
    *("here", "rest", "leave", "planned", "Europe/Berlin", "Nowhere/Else", "../UTC", "2025-11-09", "9999-12-31"),
    *("0001-01-01", "2025-02-30", "Mondopoint", "US women", "#fff", "#a9bd5f", "heel", "toe tight", "null", "[]"),
)
"""What people, programs and the ill-disposed have put into fields."""

VALUES: tuple[Any, ...] = (
    *(None, True, False, 0, 1, -1, 2, 2**31, 2**53, 2**53 - 1, 2**64, 10**400, 0.5, -0.0, 1e308, float("inf")),
    *(float("nan"), [], {}, [[]], [None] * 40, {"": {}}, {"id": 1}, "", "x" * 5000, "\0", "\ud800"),
    *("count", "go", "note", "2025-11-03T19:30:00Z", "0000-00-00T00:00:00Z", "2025-11-03T19:30:00+99:00"),
)
"""What may stand in a JSON document in the place of something else."""

MOMENTS = (
    *("2025-11-03T12:00:00Z", "2025-11-03T12:00:00+00:00", "2025-11-03T12:00:00+05:00", "2025-11-03", "2025-11-03T12"),
    *("0001-01-01T00:00:00Z", "9999-12-31T23:59:59.999999Z", "9999-12-31T23:59:59-12:00", "2025-W45-1T00:00:00Z"),
    *("20251103T120000Z", "2025-11-03 12:00:00Z", "2025-11-03T24:00:00Z", "2025-11-03T23:59:60Z", "-001-01-01", ""),
)

DEEP = b"[" * 20_000
JUNK = (
    *(b"", b"{", b"{}", b"[]", b"null", b'{"entries": 1}', b'{"after": -1}', b'{"a": 1, "a": 2}', DEEP, b"\xff\xfe{"),
    *(b"\xed\xa0\x80", b"\0" * 100, b"title=%ff%fe&unit=%00", b"&&&==&=&", b"a" * 70_000, b"--x\r\n\r\n--x--\r\n"),
    b'--x\r\nContent-Disposition: form-data; name="pair"; filename="x"\r\n\r\n',
    b'--x\r\nContent-Disposition: form-data; name="photo"; filename="x"\r\n\r\n\xff\xd8\xff\xe1\xff\xff\r\n--x--\r\n',
)

TYPES = (
    *(
        "application/x-www-form-urlencoded",
        "application/json",
        "multipart/form-data",
        "multipart/form-data; boundary=x",
    ),
    *("multipart/form-data; boundary=" + "x" * 300, "multipart/form-data; boundary=\xff", "text/plain", "", ";", "/"),
    *("application/x-www-form-urlencoded; charset=utf-7", "application/json; charset=\xff", "multipart/mixed"),
)

HEADERS: Mapping[str, Sequence[str]] = {
    "HTTP_HOST": ("evil.example", "", "localhost:99999", "[::1", "a b", "\xff", "localhost@evil.example", "x" * 300),
    "HTTP_IF_NONE_MATCH": ("*", '""', 'W/"x"', '"' + "x" * 5000 + '"', "\xff", '"a", "b", "c"'),
    "HTTP_IF_MODIFIED_SINCE": ("Thu, 01 Jan 1970 00:00:00 GMT", "yesterday", "Thu, 99 Xxx 99999 99:99:99 GMT", "-1"),
    "HTTP_IF_RANGE": ('"x"', "yesterday"),
    "HTTP_RANGE": ("bytes=0-0", "bytes=-1", "bytes=5-1", "bytes=0-" + "9" * 30, "lines=1", "bytes=" + "0-0," * 200),
    "HTTP_COOKIE": ("tapeline=junk", "tapeline=" + "x" * 5000, "tapeline=e30.aaaa.bbbb", "=;=;", "\xff", 'a="'),
    "HTTP_ACCEPT_ENCODING": ("gzip;q=x", "*;q=0", "br, gzip;q=9999999", "\xff", "identity;q=0, *;q=0"),
    "HTTP_ACCEPT": ("*/*;q=x", "\xff", "text/html;q=1e400"),
    "HTTP_ACCEPT_LANGUAGE": ("xx-\xff", "," * 500),
    "HTTP_X_FORWARDED_FOR": ("1.2.3.4", "for=\xff", "unknown, , ,"),
    "HTTP_X_FORWARDED_PROTO": ("https", "gopher", "http,https", "\xff"),
    "HTTP_X_FORWARDED_HOST": ("evil.example", "a, b", "\xff"),
    "HTTP_X_FORWARDED_PREFIX": ("/x", "//evil.example", "\xff"),
    "HTTP_X_FORWARDED_PORT": ("0", "99999", "x"),
    "HTTP_FORWARDED": ("for=1.2.3.4;host=evil.example;proto=https", 'for="', "\xff"),
    "HTTP_REFERER": ("https://evil.example/", "\xff", "//"),
    "HTTP_ORIGIN": ("https://evil.example", "null", "\xff"),
    "HTTP_X_CSRFTOKEN": ("", "junk", "x" * 5000, "\xff", "Im5vbmUi.aaaa.bbbb"),
    "HTTP_X_REQUESTED_WITH": ("XMLHttpRequest", "\xff"),
    "HTTP_SEC_FETCH_SITE": ("cross-site", "same-origin", "\xff"),
    "HTTP_TRANSFER_ENCODING": ("chunked", "gzip"),
    "HTTP_CONTENT_ENCODING": ("gzip", "br"),
    "HTTP_X_HTTP_METHOD_OVERRIDE": ("DELETE", "BREW"),
    "CONTENT_LENGTH": ("", "0", "-1", "x", "1", "9" * 30, "1_0", "99999999"),
    "SERVER_PROTOCOL": ("HTTP/1.0", "HTTP/9.9"),
}
"""What may stand in an ordinary header's place, by the names of PEP 3333."""

BAD_LINKS = (
    *("", "x", "A" * 21, "A" * 22, "A" * 23, "A" * 5000, "-" * 22, "_" * 22, "ä" * 22, "\ud800" * 22, "\0" * 22),
    *("%2e%2e", "..", ".", "a/b", "/", "//", "../knit", "new", "%00", "\r\nX: 1", "' OR 1=1 --", "\u202e" * 22),
)
"""Links of nobody's. A right one is bent in `bent_links` too."""


@dataclass(frozen=True)
class Sent:
    """A request as it reaches the app."""

    method: str
    path: str
    query: str = ""
    headers: Mapping[str, str] = field(default_factory=dict)
    kind: str = ""
    body: bytes = b""


def form_body(fields: Sequence[tuple[str, str]]) -> bytes:
    return urlencode(fields, errors="surrogatepass").encode()


BOUNDARY = "the-next-part"


def multipart_body(fields: Sequence[tuple[str, str]], files: Sequence[tuple[str, bytes]]) -> bytes:
    """Fields and files as RFC 7578 has them."""
    parts = [
        (f'name="{quote(name, errors="surrogatepass")}"', value.encode("utf-8", "surrogatepass"))
        for name, value in fields
    ]
    parts += [(f'name="{quote(name, errors="surrogatepass")}"; filename="file"', body) for name, body in files]
    written = [
        f"--{BOUNDARY}\r\nContent-Disposition: form-data; {told}\r\n\r\n".encode() + body + b"\r\n"
        for told, body in parts
    ]
    return b"".join(written) + f"--{BOUNDARY}--\r\n".encode()


@dataclass(frozen=True)
class Body:
    """A body before it is encoded: fields, what else may be chosen in them, and files; or a JSON document."""

    fields: Sequence[tuple[str, str]] = ()
    choices: Mapping[str, Sequence[str]] = field(default_factory=dict)
    files: Sequence[tuple[str, bytes]] = ()
    document: Any = None

    def sent(self) -> tuple[str, bytes]:
        """Its type and its bytes."""
        if self.document is not None:
            return "application/json", json_body(self.document)
        if self.files:
            return f"multipart/form-data; boundary={BOUNDARY}", multipart_body(self.fields, self.files)
        return "application/x-www-form-urlencoded", form_body(self.fields)


def json_body(document: Any) -> bytes:
    return json.dumps(document).encode("utf-8", "surrogatepass")


FEW = st.integers(0, 19).map(lambda number: number == 0)
"""True once in twenty times."""

texts = st.sampled_from(TEXTS) | st.text(max_size=30) | st.integers().map(str) | st.floats().map(str)


def _other_fields(draw: Draw, body: Body) -> Body:
    """The fields with another choice in one of them, or with one changed, left out, sent twice or added."""
    changed = list(body.fields)
    at = draw(st.integers(0, max(0, len(changed) - 1)))
    match draw(st.sampled_from(("choose", "choose", "change", "change", "leave out", "twice", "add"))):
        case "choose" if body.choices:
            name = draw(st.sampled_from(sorted(body.choices)))
            changed = [one for one in changed if one[0] != name] + [(name, draw(st.sampled_from(body.choices[name])))]
        case "choose" | "change" if changed:
            changed[at] = (changed[at][0], draw(texts))
        case "leave out" if changed:
            del changed[at]
        case "twice" if changed:
            changed.insert(0, (changed[at][0], draw(texts)))
        case _:
            changed.append((draw(texts), draw(texts)))
    return replace(body, fields=changed)


Place: TypeAlias = tuple[Any, ...]


def _places(document: Any, here: Place = ()) -> Iterator[Place]:
    """Where there is something in a JSON document: the keys and indices on the way to it."""
    yield here
    inside = (
        document.items() if isinstance(document, dict) else enumerate(document) if isinstance(document, list) else ()
    )
    for key, value in inside:
        yield from _places(value, (*here, key))


def other_document(draw: Draw, document: Any) -> Any:
    """A JSON document with one thing in it changed, left out or put in twice.

    Each kind of place is as likely as any other, however often it is there.
    """
    changed = copy.deepcopy(document)
    alike: dict[str, list[Place]] = {}
    for place in _places(changed):
        alike.setdefault("/".join("#" if isinstance(key, int) else key for key in place), []).append(place)
    *way, key = draw(st.sampled_from(alike[draw(st.sampled_from(sorted(alike)))])) or (None,)
    if key is None:
        return draw(st.sampled_from(VALUES))
    holder: Any = reduce(getitem, way, changed)
    match draw(st.sampled_from(("change", "change", "change", "leave out", "twice"))):
        case "leave out":
            del holder[key]
        case "twice" if isinstance(holder, list):
            holder.insert(0, copy.deepcopy(holder[key]))
        case _:
            holder[key] = _other_value(draw, holder[key])
    return changed


def _other_value(draw: Draw, value: Any) -> Any:
    """Something else, mostly of the same kind."""
    if draw(st.integers(0, 3)) == 0:
        return draw(st.sampled_from(VALUES) | st.text(max_size=20) | st.integers() | st.floats())
    if isinstance(value, str) and re.match(r"\d{4}-\d\d-", value):
        return draw(st.sampled_from(MOMENTS))
    if isinstance(value, int | float):
        return draw(st.sampled_from((value + 1, value - 1, -value, value * 10, value / 2, 0, 1, 2, 60)))
    if isinstance(value, list):
        return draw(st.sampled_from(([], value[:1], value[1:], value[::-1], value * 2)))
    return draw(st.sampled_from(VALUES if value is None or isinstance(value, dict) else TEXTS))


def _other_bytes(draw: Draw, body: bytes) -> bytes:
    """The bytes with some put in, taken out or cut off."""
    at = draw(st.integers(0, len(body)))
    match draw(st.sampled_from(("cut", "put in", "take out"))):
        case "cut":
            return body[:at]
        case "put in":
            return body[:at] + draw(st.binary(min_size=1, max_size=20)) + body[at:]
        case _:
            return body[:at] + body[at + draw(st.integers(1, 20)) :]


def _other_file(draw: Draw, content: bytes) -> bytes:
    """A file with something changed: in the document, where it still is one, or in its bytes."""
    if content.startswith(b"{") and draw(st.booleans()):
        with suppress(ValueError):
            return json_body(other_document(draw, json.loads(content)))
    return _other_bytes(draw, content)


ROUNDS = (0, 1, 3, 59, 60, 61, 100, 150, 200, 5000)
GRAMS = (0, 0.1, 20, 49.5, 50, 100, 5000)
CM = (0.01, 2, 9.5, 14, 200)

REMARKS: Mapping[str, st.SearchStrategy[dict[str, Any]]] = {
    "weighing": st.fixed_dictionaries({"grams": st.sampled_from(GRAMS), "yarn": st.sampled_from("ABCD")}),
    "length": st.fixed_dictionaries(
        {"cm": st.sampled_from(CM), "from": st.sampled_from(("section", "cast-on", "back of heel", "tip of toe"))}
    ),
    "try-on": st.fixed_dictionaries(
        {
            "where": st.sampled_from(("cuff", "leg", "instep", "heel", "foot", "toe")),
            "feels": st.sampled_from(("tight", "right", "loose")),
        }
    ),
    "check": st.fixed_dictionaries(
        {
            "stitches": st.lists(
                st.fixed_dictionaries(
                    {"count": st.sampled_from((4, 20, 27, 30, 54, 400)), "over_cm": st.sampled_from((2, 10, 60))}
                ),
                min_size=1,
                max_size=3,
            )
        }
    ),
    "note": st.fixed_dictionaries({"text": st.text(min_size=1, max_size=40)}),
    "decision": st.just({"way": "as it is"}),
    "withdrawal": st.fixed_dictionaries({"entry": st.integers(1, 9).map(lambda number: entry(number)["id"])}),
}
"""What may be written down, at the ends of what is allowed and between them."""


def some_entries(draw: Draw) -> Body:
    """Logbook entries that are sound, in an order that no knitter would write."""
    entries = []
    for number in range(draw(st.integers(1, 6))):
        kind = draw(st.sampled_from(("count", "undo", "go", "go", *REMARKS)))
        changes: dict[str, Any] = {"data": draw(REMARKS[kind])} if kind in REMARKS else {}
        if kind not in REMARKS and draw(st.booleans()):
            changes["after"] = draw(st.sampled_from(([], [entry(1)["id"]], [entry(99)["id"]])))
        clock, sock, place = draw(st.integers(0, 6000)), draw(st.sampled_from((1, 2))), draw(st.sampled_from(ROUNDS))
        entries.append(entry(500 + number, kind=kind, clock=clock, sock=sock, round=place, **changes))
    return Body(document={"after": 0, "entries": entries})


def _in_another_way(draw: Draw, body: Body) -> Body:
    """The fields as a JSON document, or one of them as a file."""
    if draw(st.booleans()) or not body.fields:
        return Body(document=dict(body.fields))
    at = draw(st.integers(0, len(body.fields) - 1))
    name, value = body.fields[at]
    file = (name, value.encode("utf-8", "surrogatepass"))
    return replace(body, fields=[*body.fields[:at], *body.fields[at + 1 :]], files=[*body.files, file])


def other_body(draw: Draw, body: Body) -> tuple[str, bytes]:
    """A body's type and bytes with something changed in them."""
    for _ in range(draw(st.sampled_from((0, 0, 1, 1, 2, 4)))):
        if body.document is not None:
            body = replace(body, document=other_document(draw, body.document))
        elif bool(body.files) and draw(st.booleans()):
            body = replace(body, files=[(name, _other_file(draw, content)) for name, content in body.files])
        else:
            body = _other_fields(draw, body)
    if draw(FEW):
        body = _in_another_way(draw, body)
    kind, written = body.sent()
    if draw(FEW):
        written = _other_bytes(draw, written)
    if draw(FEW):
        kind = draw(st.sampled_from(TYPES))
    return kind, written


def junk_body(draw: Draw) -> tuple[str, bytes]:
    return draw(st.sampled_from(TYPES)), draw(st.sampled_from(JUNK) | st.binary(max_size=200))


def bent_link(draw: Draw, link: str) -> str:
    """A link that was right, and had something done to it on its way."""
    bends: tuple[Callable[[str], str], ...] = (
        lambda right: right[:-1],
        lambda right: right + "A",
        lambda right: right + "\n",
        lambda right: f" {right} ",
        lambda right: right + "=",
        lambda right: right + "/",
        lambda right: right + "\0",
        lambda right: right + "\ud800",
        str.swapcase,
        lambda right: "".join(f"%{ord(letter):02x}" for letter in right),
    )
    return draw(st.sampled_from(bends))(link)


def other_query(draw: Draw, query: Mapping[str, str]) -> str:
    """Some of the parameters, some of them with other values; or junk."""
    if draw(FEW):
        return draw(st.sampled_from(("&", "=", "a=%ff", "%", "?" * 100, "sock=" + "1" * 5000, "a&" * 3000)))
    names = draw(st.lists(st.sampled_from(sorted(query)), max_size=4, unique=True))
    return form_body([(name, query[name] if draw(st.booleans()) else draw(texts)) for name in names]).decode()


def other_headers(draw: Draw) -> dict[str, str]:
    """Nothing most of the time, or up to three headers with something else in them."""
    if draw(st.integers(0, 2)):
        return {}
    names = draw(st.lists(st.sampled_from(sorted(HEADERS)), max_size=3, unique=True))
    return {name: draw(st.sampled_from(HEADERS[name])) for name in names}
