"""Bodies and addresses that grow and change at random, for whoever looks for the ones that cost a server most."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from random import Random
from typing import Any
from urllib.parse import urlencode

Fields = list[tuple[str, str]]

TOKENS = [
    "A 99, ", "A 1,B 1\n", "ABCD", "AB\n", "A\n", "k1 p1 ", "k2 p2", "7 1/2 ", "9", "0.5,", "30x42 ", "20 ", "-", "1e9",
    "½", "ß", "ﬃ", "\u0130", "\n", " ", "\0", "<b>", "heel", "toe-up", "afterthought", "&#9;", "\ud83e\udde6", "x",
]  # fmt: skip
"""Pieces that the fields of the forms know, and some that grow when they are folded, escaped or written out."""

BOUNDARY = "dearest"


@dataclass(frozen=True)
class Asking:
    """A request that can change: an address's query, and the fields or the document that is sent, or a plain body."""

    query: Fields = field(default_factory=list)
    fields: Fields = field(default_factory=list)
    document: Any = None
    file: str | None = None
    raw: bytes | None = None

    def address(self, path: str) -> str:
        """The path with the query."""
        return f"{path}?{urlencode(self.query, errors='surrogatepass')}" if self.query else path

    def body(self, token: str) -> tuple[bytes, str]:
        """What is sent, and its media type."""
        given = [("csrf_token", token), *self.fields]
        if self.file is not None:
            return _multipart(given, self.file, self.content()), f"multipart/form-data; boundary={BOUNDARY}"
        if self.raw is not None or self.document is not None:
            return self.content(), "application/json"
        return urlencode(given, errors="surrogatepass").encode(), "application/x-www-form-urlencoded"

    def content(self) -> bytes:
        """The document as bytes."""
        return self.raw if self.raw is not None else json.dumps(self.document, separators=(",", ":")).encode()


def _multipart(fields: Fields, name: str, content: bytes) -> bytes:
    parts = [
        f'--{BOUNDARY}\r\nContent-Disposition: form-data; name="{key}"\r\n\r\n{value}\r\n'.encode("utf-8", "replace")
        for key, value in fields
    ]
    head = f'--{BOUNDARY}\r\nContent-Disposition: form-data; name="{name}"; filename="x"\r\n'
    return b"".join([*parts, f"{head}Content-Type: x/y\r\n\r\n".encode(), content, f"\r\n--{BOUNDARY}--\r\n".encode()])


def _word(random: Random) -> str:
    return random.choice(TOKENS) * (1 << random.randrange(13))


def _fields(fields: Fields, random: Random, names: list[str]) -> Fields:
    """Fields with one of them longer, there many times with other values, gone, or joined by others."""
    found = list(fields)
    known = [name for name, _ in fields] or names
    name = random.choice([*known, *names, "unknown"])
    match random.randrange(5):
        case 0:
            found = [(key, _word(random) if key == name else value) for key, value in found]
        case 1:
            found.append((name, _word(random)))
        case 2:
            found += [(name, f"{random.choice(TOKENS)}{number}") for number in range(1 << random.randrange(13))]
        case 3:
            found += [(f"{name}{number}", "") for number in range(1 << random.randrange(14))]
        case _:
            found = [
                (key, value * 2) if key == name else (key, value) for key, value in found if random.random() < 0.98
            ]
    return found


def _nested(depth: int, random: Random) -> Any:
    inner: Any = random.choice([1, "x", None])
    for _ in range(depth):
        inner = [inner] if random.random() < 0.5 else {"times": 1000, "ops": [inner]}
    return inner


GROW: list[Callable[[Random, Any, int], Any]] = [
    lambda _, old, many: [old] * many,
    lambda _, old, many: old * many if isinstance(old, list) else old,
    lambda random, _, many: {f"{random.choice('kxy')}{number}": 1 for number in range(many)},
    lambda random, _, many: [random.choice([1, "x", {}, [], None])] * many,
    lambda random, _, many: _nested(min(many, 300), random),
    lambda random, _, __: _word(random),
    lambda random, _, __: random.choice([0, -1, 1000, 2000, 5000, 2**47, 2**53, 1e300, 10**300, True, None]),
    lambda _, old, __: old * 2 if isinstance(old, int | str) else old,
]
"""Each makes of what stands somewhere something else, or much more of it."""


def _grown(random: Random, old: Any, most: int) -> Any:
    room = most // len(json.dumps(old))
    return random.choice(GROW)(random, old, max(1, min(1 << random.randrange(15), room)))


def _document(data: Any, random: Random, most: int) -> Any:
    """A document with something changed, or unknown entries more, somewhere in it; the rest is the old one's."""
    keys = list(data) if isinstance(data, dict) else range(len(data)) if isinstance(data, list) else []
    if not keys or random.random() < 0.1:
        return _grown(random, data, most)
    if isinstance(data, dict) and random.random() < 0.05:
        return data | {f"more{number}": 1 for number in range(1 << random.randrange(8))}
    key = random.choice(keys)
    found = dict(data) if isinstance(data, dict) else list(data)
    found[key] = _document(data[key], random, most)
    return found


RAW: list[Callable[[int], bytes]] = [
    lambda size: b"[" * size,
    lambda size: b'{"a":' * (size // 5),
    lambda size: b"[" + b"1," * (size // 2) + b"1]",
    lambda size: b"9" * size,
    lambda size: b'"' + b"\\u0041" * (size // 6) + b'"',
    lambda size: b"{" + b",".join(b'"%d":1' % number for number in range(size // 9)) + b"}",
    lambda size: b"[" + b"{}," * (size // 3) + b"{}]",
    lambda size: b"[" + b"[]," * (size // 3) + b"[]]",
    lambda size: b'{"format":"tapeline pair","version":1,"log":[' + b"{}," * (size // 3) + b"{}]}",
    lambda size: b'{"entries":[' + b"{}," * (size // 3) + b"{}]}",
    lambda size: b" " * size,
    lambda size: b"\xff" * size,
]
"""Bodies that are no document at all, of a given size."""


def changed(asking: Asking, random: Random, names: list[str], most: int) -> Asking:
    """The request with one thing changed; `names` are fields that its endpoint knows, `most` the bytes it takes."""
    if asking.document is not None or asking.raw is not None:
        if random.random() < 0.1:
            return replace(asking, raw=random.choice(RAW)(min(most - 1000, 64 << random.randrange(16))))
        if asking.document is not None and (random.random() < 0.9 or asking.file is None):
            return replace(asking, raw=None, document=_document(asking.document, random, most))
    if asking.query or not asking.fields:
        return replace(asking, query=_fields(asking.query, random, names))
    return replace(asking, fields=_fields(asking.fields, random, names))
