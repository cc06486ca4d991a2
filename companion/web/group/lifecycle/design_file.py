"""A design as one JSON file with its photos: to keep, to begin another group with, or to move elsewhere. Pure.

The file of a design that moves has its links too, its versions and what was told, so that leaders and followers find
it under the same links on the other server, and pairs that are brought there follow it again.
"""

from __future__ import annotations

import base64
import binascii
import json
from collections.abc import Sequence
from datetime import date
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, PlainSerializer, StringConstraints, ValidationError

from ....group.jpeg import NotAPhotoError, bare_jpeg
from ....pair.logbook import Moment
from ....planning import Fault
from ....planning.faults import faults_of
from ....planning.frozen_model import FrozenModel
from ....planning.plan.design import read_design
from ....planning.plan.document import PartOfSock
from ....store.group.announcements import MOST_KEPT
from ....store.group.design_links import MOST_FURTHER
from ....store.group.waiting import MOST_WAITING
from ...links import LINK

FORMAT = "tapeline design"
VERSION = 1
"""Of the format. It goes up when a program that reads the older one would go wrong on the newer one."""

MOST_VERSIONS = 1000
"""Of one design that moves (ours): a change a day for three years."""


def _photo(given: object) -> bytes:
    """A photo from base64 (RFC 4648, section 4)."""
    try:
        return bare_jpeg(base64.b64decode(str(given), validate=True))
    except binascii.Error:
        raise ValueError("this is no photo in base64") from None
    except NotAPhotoError as error:
        raise ValueError(str(error)) from None


Photo = Annotated[
    bytes, BeforeValidator(_photo), PlainSerializer(lambda image: base64.b64encode(image).decode("ascii"))
]
Link = Annotated[str, StringConstraints(strict=True, pattern=f"^{LINK}$")]
Key = Annotated[str, StringConstraints(strict=True, pattern="^[0-9a-f]{64}$")]
Words = Annotated[str, StringConstraints(strict=True, min_length=1, max_length=1000)]


class Notice(FrozenModel):
    """An announcement, and when it was made."""

    at: Moment
    words: Words


class Further(FrozenModel):
    """A further leader: what is kept of her link, her name, and since when she leads."""

    key: Key
    name: Annotated[str, StringConstraints(strict=True, min_length=1, max_length=100)]
    since: Moment


class Later(FrozenModel):
    """What the design is to be from a day on."""

    day: date
    design: dict[str, Any]


class Moved(FrozenModel):
    """What goes along with a design to another server: links, versions before, announcements, and whether it ended."""

    leader: Link
    followers: Link
    further: Annotated[tuple[Further, ...], Field(max_length=MOST_FURTHER)] = ()
    before: Annotated[tuple[dict[str, Any], ...], Field(max_length=MOST_VERSIONS)] = ()
    told: Annotated[tuple[Notice, ...], Field(max_length=MOST_KEPT)] = ()
    waiting: Annotated[tuple[Later, ...], Field(max_length=MOST_WAITING)] = ()
    ended: Moment | None = None
    recovery: Key | None = None

    def others(self) -> list[dict[str, Any]]:
        """Each design in it, before the one that it is now and after."""
        return [*self.before, *(one.design for one in self.waiting)]


class DesignFile(FrozenModel):
    """A design with its photos; and what goes along where it moves."""

    format: Literal["tapeline design"] = "tapeline design"
    version: Literal[1] = 1
    design: dict[str, Any]
    photos: dict[PartOfSock, Photo] = Field(default_factory=dict)
    moved: Moved | None = None

    def as_text(self) -> str:
        """The file's text, the design readable and each photo on one line."""
        return json.dumps(self.model_dump(mode="json", exclude_none=True), ensure_ascii=False, indent=1) + "\n"


def read_design_file(data: Any) -> tuple[DesignFile | None, Sequence[Fault]]:
    """A design from parsed JSON, or what is wrong with it. A design alone, as a program may write one, will do."""
    if isinstance(data, dict) and "format" not in data:
        data = {"format": FORMAT, "version": VERSION, "design": data}
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        return None, [Fault("", "", "this is no design; save one on its leader's page")]
    version = data.get("version")
    if isinstance(version, int) and version > VERSION:
        newer = f"a newer Tapeline has written it; this one reads version {VERSION}. Open it there, or update this one"
        return None, [Fault("", "", newer)]
    try:
        found = DesignFile.model_validate(data)
    except ValidationError as error:
        return None, faults_of(error)
    for document in (found.design, *(found.moved.others() if found.moved else ())):
        design, faults = read_design(document)
        if design is None:
            return None, [Fault(f"design.{one.where}", one.given, one.message) for one in faults]
    return found, []
