"""JSON read strictly; where it is not sound, a sentence says why."""

from __future__ import annotations

import json
from typing import Any, NoReturn

from .planning.faults import shown


class UnsoundJSONError(ValueError):
    """Text that is not JSON as RFC 8259 has it, or that could be understood in two ways."""


MOST_KEYS = 200
"""Entries of one object (ours). No document of a sock has half as many, and each more would be a fault."""


def _no_constant(name: str) -> NoReturn:
    raise UnsoundJSONError(f"{name} is not a number that can be knitted; write an ordinary number")


def _each_key_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    if len(pairs) > MOST_KEYS:
        raise UnsoundJSONError(f"an object in it has {len(pairs)} entries, and at most {MOST_KEYS} are allowed")
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise UnsoundJSONError(f"{shown(key)!r} stands there twice; keep one of the two")
        found[key] = value
    return found


def read_json(data: bytes) -> Any:
    """What the JSON document in UTF-8 holds.

    Raises UnsoundJSONError, with line and column where they are known, for other encodings, faulty syntax,
    NaN and infinities, a key given twice, more than MOST_KEYS of them, and nesting too deep to be meant.
    """
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise UnsoundJSONError(
            f"byte {error.start + 1} is not UTF-8 text; save the file in the encoding UTF-8"
        ) from error
    try:
        return json.loads(text, parse_constant=_no_constant, object_pairs_hook=_each_key_once)
    except json.JSONDecodeError as error:
        raise UnsoundJSONError(
            f"not JSON at line {error.lineno}, column {error.colno}: {error.msg[:1].lower()}{error.msg[1:]}"
        ) from error
    except RecursionError as error:
        raise UnsoundJSONError("nested far too deep; no document of a sock needs that") from error
    except UnsoundJSONError:
        raise
    except ValueError as error:
        # Python refuses to read whole numbers of thousands of digits.
        raise UnsoundJSONError("a number in it has far too many digits") from error
