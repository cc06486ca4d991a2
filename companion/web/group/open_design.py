"""A design as a page needs it, found by the leader's link or the follower's."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from flask import abort

from ...planning import CannotKnitError, Plan, make_plan
from ...planning.construction.construction_words import construction_words
from ...planning.plan.design import USUAL_FOOT, USUAL_GAUGE, Design, read_design, request_for
from ...store.group.designs import DesignVersion
from ...strict_json import UnsoundJSONError, read_json
from ..links import follower_link
from ..open_pair import store
from ..request_args import whole_number

NOTHING_TO_JOIN = (
    "No design is under this link. Check that the link is complete; or its leader has deleted the design or replaced "
    "the link. A pair that was made from it goes on under its own link."
)
HAS_ENDED = "This group has ended, and its design stays as it is. Open it again on its page to change it."


@dataclass(frozen=True)
class OpenDesign:
    """A version of a design, read."""

    version: DesignVersion
    design: Design


@dataclass(frozen=True)
class LedDesign(OpenDesign):
    """The same, opened by the `link` of one who leads it."""

    link: str

    @property
    def join_link(self) -> str:
        """The link for followers."""
        return self.version.handed_out or follower_link(self.link)


@dataclass(frozen=True)
class Ways:
    """The constructions that a design allows, in words, and which of them a page is for, by its number from 1.

    `design` is the design with that one alone.
    """

    words: tuple[str, ...]
    number: int
    design: Design

    @property
    def chosen(self) -> str:
        """The one that the page is for."""
        return self.words[self.number - 1]


def ways_in_words(design: Design) -> list[str]:
    """The constructions that a design allows, in words, without what is hidden of them."""
    return [construction_words(one, design.hidden_until) for one in design.constructions]


def ways_asked(design: Design) -> Ways:
    """The construction that the address names (`?construction=2`), the one proposed where it names none of them."""
    allowed = design.constructions
    asked = whole_number("construction")
    number = asked if asked and asked <= len(allowed) else 1
    alone = design.model_copy(update={"constructions": (allowed[number - 1],)})
    return Ways(tuple(ways_in_words(design)), number, alone)


def design_of(document: str) -> Design:
    """The design in JSON text, as it is kept; answers 409 when it no longer reads, which loses nothing."""
    try:
        design, _ = read_design(read_json(document.encode("utf-8", "surrogatepass")))
    except UnsoundJSONError:
        design = None
    if design is None:
        abort(409, "This design cannot be read any more. It is kept as it is, and so are the pairs made from it.")
    return design


def _found(version: DesignVersion | None, why: str | None = None) -> OpenDesign:
    if version is None:
        abort(404, why)
    return OpenDesign(version, design_of(version.document))


def led_design(link: str) -> LedDesign:
    """The design with this leader's link; answers 404 when there is none."""
    found = _found(store().designs.led_by(link))
    return LedDesign(found.version, found.design, link)


def changeable_design(link: str) -> LedDesign:
    """The same, to be changed; answers 409 when its group has ended."""
    led = led_design(link)
    if led.version.ended:
        abort(409, HAS_ENDED)
    return led


def own_design(link: str) -> LedDesign:
    """The design with this link of its first leader, who alone decides who leads and what is deleted; else 404."""
    if not store().design_links.is_first(link):
        abort(404)
    return led_design(link)


def joined_design(link: str) -> OpenDesign:
    """The design with this follower's link; answers 404 when there is none."""
    return _found(store().designs.joined_by(link), NOTHING_TO_JOIN)


def newest_design(number: int) -> OpenDesign:
    """The newest version of a design by its number in the store."""
    return _found(store().designs.newest(number))


def photos_shown(opened: OpenDesign) -> set[str]:
    """The parts whose photo followers may see."""
    return store().photos.parts(opened.version.design) - opened.design.hidden.keys()


@lru_cache(maxsize=64)
def _usual_plan(document: str) -> Plan:
    design = Design.model_validate_json(document)
    try:
        return make_plan(request_for(design, USUAL_FOOT, USUAL_GAUGE))
    except CannotKnitError:
        plain = Design(constructions=design.constructions)
        return make_plan(request_for(plain, USUAL_FOOT, USUAL_GAUGE))


def usual_plan(design: Design) -> Plan:
    """The design on a usual foot, to draw; where it suits no such foot, a plain sock of the same construction."""
    return _usual_plan(design.sock_alone().model_dump_json())
