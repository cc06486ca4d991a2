"""What a request asks for by its address or form, and the document that it brings."""

from __future__ import annotations

from typing import TypeVar

from flask import abort, request
from pydantic import BaseModel, ValidationError

from ..planning.faults import faults_of
from ..planning.units import Unit
from ..strict_json import UnsoundJSONError, read_json

Document = TypeVar("Document", bound=BaseModel)


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


def document_sent(kind: type[Document], called: str) -> Document:
    """The JSON document of a request; answers 400 with what is wrong, where it is `called` so."""
    try:
        return kind.model_validate(read_json(request.get_data()))
    except UnsoundJSONError as error:
        abort(400, f"{called} cannot be read: {error}.")
    except ValidationError as error:
        abort(400, "; ".join(map(str, faults_of(error))))
