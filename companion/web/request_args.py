"""What the address or the form of a request asks for."""

from __future__ import annotations

from flask import request

from ..planning.units import Unit


def unit_asked(default: Unit) -> Unit:
    """The unit that the address asks for (`?unit=in`)."""
    match request.args.get("unit"):
        case "cm":
            return "cm"
        case "in":
            return "in"
        case _:
            return default


def left_handed_asked() -> bool:
    """Whether the address asks for words for knitting from left to right (`?hand=left`)."""
    return request.args.get("hand") == "left"


def whole_number(name: str) -> int | None:
    """The whole number of up to six digits that is given under this name; None where it is no such number."""
    text = request.values.get(name, "").strip()
    return int(text) if text.isascii() and text.isdigit() and len(text) <= 6 else None
