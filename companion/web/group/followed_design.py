"""What a pair has from the design it follows: the leader's notes, the stages, and what has changed since."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any

from ...group.hidden_parts import hidden_words
from ...group.stages import Pace, day_at, paces, rounds_of_other
from ...pair.logbook import SOCKS, Sock
from ...planning import Plan
from ...planning.construction.constructions import parts_by_key
from ...planning.construction.design_sections import notes_by_section, rounds_until, section_ends
from ...planning.plan.design import Design, Stage
from ...planning.plan.document import PartOfSock
from ...store.group.announcements import Announcement
from ...store.group.designs import Following
from ...store.shares import Share
from ..open_pair import OpenPair, store
from .open_design import OpenDesign, design_of, newest_design, photos_shown


@dataclass(frozen=True)
class FollowedDesign:
    """The design that a pair follows, with the plans of its socks."""

    pair: OpenPair
    taken: Following
    newest: OpenDesign

    @property
    def design(self) -> Design:
        """The design as it is now."""
        return self.newest.design

    @cached_property
    def plans(self) -> Mapping[Sock, Plan]:
        """The plan of each sock."""
        return {sock: self.pair.plan(sock) for sock in SOCKS}

    @property
    def ahead(self) -> bool:
        """Whether a sock is not finished."""
        return any(self.pair.done[sock] < plan.count for sock, plan in self.plans.items())

    @cached_property
    def changed(self) -> bool:
        """Whether the sock of the design is another one than the pair was planned by."""
        return self._differs(self.taken.version)

    @property
    def offered(self) -> bool:
        """Whether a change is to be pointed out: there is something ahead, and the knitter has not left it."""
        return self.ahead and self.changed and self._differs(self.taken.left)

    @cached_property
    def taken_design(self) -> Design | None:
        """The design that the pair is planned by; None where that version is lost."""
        version = store().designs.version(self.taken.design, self.taken.version)
        return design_of(version.document) if version else None

    def _differs(self, version: int) -> bool:
        """Whether the sock of the design was another one in an older version; one that is lost counts as another."""
        if version == self.newest.version.number:
            return False
        older = store().designs.version(self.taken.design, version)
        return older is None or design_of(older.document).sock_alone() != self.design.sock_alone()

    @property
    def notes(self) -> dict[str, str]:
        """The leader's notes by the keys of the sections of either sock."""
        return {key: note for plan in self.plans.values() for key, note in notes_by_section(self.design, plan).items()}

    @property
    def hidden(self) -> list[tuple[PartOfSock, str]]:
        """The parts that are kept secret, each with its day in words."""
        return hidden_words(self.design)

    @cached_property
    def photos(self) -> dict[str, PartOfSock]:
        """The parts that have a photo, by the keys of their sections."""
        return photos_by_section(self.newest)

    def paces(self) -> list[Pace]:
        """The stages from where the socks are."""
        today = day_at(store().moment(), self.design.time_zone)
        return list(paces(self.design, self.ends, self.pair.done, today, two_at_a_time=self.two_at_a_time))

    @cached_property
    def ends(self) -> dict[Sock, dict[str, int]]:
        """Where each sock's sections end."""
        return {sock: section_ends(plan) for sock, plan in self.plans.items()}

    @property
    def two_at_a_time(self) -> bool:
        """Whether both socks grow side by side."""
        return self.plans[1].request.needles.two_at_a_time

    @cached_property
    def announcements(self) -> list[tuple[Announcement, date]]:
        """What the leader has told and the knitter has not put away, the oldest first, each with its day."""
        unseen = store().announcements.unseen(self.pair.pair)
        return [(one, day_at(one.at, self.design.time_zone)) for one in unseen]

    @cached_property
    def share(self) -> Share | None:
        """What the leader may see of this pair; nothing by default."""
        return store().shares.shared(self.pair.pair)


def photos_by_section(opened: OpenDesign) -> dict[str, PartOfSock]:
    """The parts of a design that have a photo which followers may see, by the keys of their sections."""
    there = photos_shown(opened)
    return {key: part for key, part in parts_by_key().items() if part in there}


def photo_addresses(photos: Mapping[str, PartOfSock], plan: Plan, base: str) -> dict[str, str]:
    """Where each photo of a plan's parts is, by the key of the first section of its part. `base` is whose it is."""
    keys = [section.key for section in plan.sections if section.key in photos]
    first = {photos[key]: key for key in reversed(keys)}
    return {key: f"{base}/photo/{part}" for part, key in first.items()}


def followed_design(pair: OpenPair) -> FollowedDesign | None:
    """The design that a pair follows, None when it is a pair of its own."""
    taken = store().designs.followed_by(pair.pair)
    return FollowedDesign(pair, taken, newest_design(taken.design)) if taken else None


def leaders_words(pair: OpenPair) -> dict[str, Any]:
    """What the knit page shows of the design: notes by section, the round that ends each stage, and a change of it."""
    led = followed_design(pair)
    if led is None:
        return {}
    return {
        "notes": led.notes,
        "photos": led.photos,
        "design_changed": led.offered,
        "told": [{"number": one.number, "day": day.isoformat(), "words": one.words} for one, day in led.announcements],
        "time_zone": led.design.time_zone,
        "stages": [_stage(stage, led) for stage in sorted(led.design.stages, key=lambda one: one.by)],
    }


def _stage(stage: Stage, led: FollowedDesign) -> dict[str, Any]:
    """A stage with the rounds of its sock, and of the other one, that are done when it is reached."""
    other: Sock = 2 if stage.sock == 1 else 1
    return {
        "name": stage.name,
        "sock": stage.sock,
        "round": rounds_until(led.ends[stage.sock], stage.until),
        "other": rounds_of_other(stage, led.ends[other], two_at_a_time=led.two_at_a_time),
        "by": stage.by.isoformat(),
    }
