"""The store keeps designs by hashes alone, in versions, and forgets what a follower takes back."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.pair.revisions import Revision
from companion.store import DamagedPairError, Pair, StaleDesignError, Store
from companion.store.group.designs import BY_DESIGN, DesignVersion, Following
from companion.store.shares import Share

from ...storing import damaged

OVER_BOTH_DATABASES = True

LEADER, FOLLOWER = "the-leaders-own-link-1", "the-followers-link-001"


@pytest.fixture
def design(store: Store) -> DesignVersion:
    store.designs.add(LEADER, FOLLOWER, '{"first": 1}')
    found = store.designs.led_by(LEADER)
    assert found
    return found


@pytest.fixture
def pair(store: Store, design: DesignVersion) -> Pair:
    return store.add_pair("a-pairs-own-link-00001", "Larch", "cm", "{}", Following(design.design, 1))


def test_each_link_opens_its_own_door(store: Store, design: DesignVersion) -> None:
    assert store.designs.joined_by(FOLLOWER) == design
    assert store.designs.led_by(FOLLOWER) is None
    assert store.designs.joined_by(LEADER) is None
    assert store.find_pair(LEADER) is None


def test_the_file_does_not_hold_the_links(design: DesignVersion, store_path: Path) -> None:
    assert design.number == 1
    kept = b"".join(path.read_bytes() for path in store_path.parent.iterdir())
    assert LEADER.encode() not in kept
    assert FOLLOWER.encode() not in kept


def test_every_version_stays(store: Store, design: DesignVersion) -> None:
    store.designs.add_version(design, '{"second": 2}')
    newest = store.designs.newest(design.design)
    assert newest == DesignVersion(design.design, 2, '{"second": 2}')
    assert store.designs.led_by(LEADER) == store.designs.joined_by(FOLLOWER) == newest
    assert store.designs.version(design.design, 1) == design
    assert store.designs.version(design.design, 3) is None


def test_a_change_made_on_an_older_version_is_refused(store: Store, design: DesignVersion) -> None:
    store.designs.add_version(design, '{"second": 2}')
    with pytest.raises(StaleDesignError):
        store.designs.add_version(design, '{"third": 3}')
    assert store.designs.version(design.design, 3) is None


def test_a_design_that_no_longer_reads_is_reported(store: Store, design: DesignVersion, store_path: Path) -> None:
    assert design.number == 1
    damaged(store_path, "UPDATE design_versions SET document = x'00ff'")
    with pytest.raises(DamagedPairError, match="kept"):
        store.designs.led_by(LEADER)


def test_a_pair_follows_the_version_last_taken_over(store: Store, design: DesignVersion, pair: Pair) -> None:
    assert store.designs.followed_by(pair) == Following(design.design, 1)
    assert store.designs.count_followers(design.design) == 1
    store.add_revision(pair, Revision(1, 1, 0, 0, "Changed", "{}"), "{}", "rest")
    assert store.designs.followed_by(pair) == Following(design.design, 1)
    store.add_revision(pair, Revision(2, 1, 0, 0, "Changed", "{}"), "", f"{BY_DESIGN}12")
    assert store.designs.followed_by(pair) == Following(design.design, 12)
    store.withdraw(pair, 3)
    assert store.designs.followed_by(pair) == Following(design.design, 1)


def test_a_pair_of_ones_own_follows_nothing(store: Store, design: DesignVersion) -> None:
    alone = store.add_pair("another-pairs-link-001", "Own", "cm", "{}")
    assert store.designs.followed_by(alone) is None
    assert store.designs.count_followers(design.design) == 0


def test_nothing_is_shared_until_it_is_said(store: Store, design: DesignVersion, pair: Pair) -> None:
    assert store.shares.shared(pair) is None
    assert list(store.standings.missing(design.design)) == []
    store.shares.share(pair, Share("Ortrun", size=False))
    store.shares.share(pair, Share("Ortrun", size=True))
    assert store.shares.shared(pair) == Share("Ortrun", size=True)
    [[sharer]] = store.standings.missing(design.design)
    assert (sharer.pair, sharer.share) == (pair, Share("Ortrun", size=True))


def test_what_is_taken_back_is_gone_from_the_file_at_once(
    store: Store, design: DesignVersion, pair: Pair, store_path: Path
) -> None:
    """SQLite leaves deleted text in its file unless told otherwise: sqlite.org/pragma.html#pragma_secure_delete."""
    store.shares.share(pair, Share("Ortrun-who-knits", size=True))
    assert any(b"Ortrun-who-knits" in path.read_bytes() for path in store_path.parent.iterdir())
    store.shares.withdraw(pair)
    assert store.shares.shared(pair) is None
    assert list(store.standings.missing(design.design)) == []
    for path in store_path.parent.iterdir():
        assert b"Ortrun-who-knits" not in path.read_bytes(), path.name


def test_only_a_follower_can_share(store: Store) -> None:
    alone = store.add_pair("another-pairs-link-001", "Own", "cm", "{}")
    with pytest.raises(Exception, match=r"(?i)foreign key"):
        store.shares.share(alone, Share("Ortrun", size=False))
    assert store.shares.shared(alone) is None
