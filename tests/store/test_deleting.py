"""What is deleted, or taken back, is gone from the store's file and from the log beside it; the rest stays."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from companion.pair.logbook import Entry
from companion.pair.revisions import Revision
from companion.store import Pair, Store, StoreUnavailableError, Unreadable
from companion.store.deleting import OF_A_PAIR, Untouched
from companion.store.group.designs import Following
from companion.store.shares import Share
from companion.store.standings import Standing
from companion.store.tables import MIGRATIONS, _withdrawn_remarks_are_emptied

from ..conftest import NOON, made
from ..storing import LINK, add_pair, damaged, rows

OVER_BOTH_DATABASES = True

TOMORROW = (NOON + timedelta(days=1)).isoformat()

LETTERS = "abcdefghijklmnopqrstuvwxyz"


@pytest.fixture
def pair(store: Store) -> Pair:
    return add_pair(store)


def on_disk(path: Path) -> bytes:
    """The file and what lies beside it: the write-ahead log holds pages as they were written (sqlite.org/wal.html)."""
    return b"".join(one.read_bytes() for one in path.parent.iterdir() if one.name.startswith(path.name))


def note(number: int, text: str) -> Entry:
    return made(number, kind="note", round=0, data={"text": text})


def withdrawal(number: int, of: int) -> Entry:
    return made(number, kind="withdrawal", data={"entry": made(of).id})


def check(number: int) -> Entry:
    return made(number, kind="check", data={"stitches": [{"count": 31.75, "over_cm": 10}]})


def full_pair(store: Store, link: str, word: str) -> Pair:
    """A pair with something in every table, the word in each text of it."""
    designs = store.designs
    designs.add(f"leader {link}", f"follower {link}", "{}")
    design = designs.led_by(f"leader {link}")
    assert design
    pair = store.add_pair(link, f"{word} socks", "cm", f'{{"plan": "{word}"}}', Following(design.design, 1))
    store.add_entries(pair, [made(1), note(2, word * 30), check(3), made(4, sock=2), made(5), made(6)])
    store.add_revision(pair, Revision(1, 1, 1, 0, word, f'{{"second": "{word}"}}'), word, "rest")
    store.quarantine(pair, [Unreadable("entry", word, word * 10)])
    store.shares.share(pair, Share(word, size=True))
    store.shares.keep_summaries(pair, {1: word})
    sharer = store.standings.sharer(pair)
    assert sharer
    kept = Standing(2, sharer.remark, 30, None, undecided=False, parts={1: [(60, word)], 2: []})
    store.standings.keep({pair.id: kept})
    assert store.folding.fold(pair, TOMORROW, least=1).counts == 1
    return pair


def test_every_table_that_has_rows_of_a_pair_is_known(store: Store, store_path: Path) -> None:
    assert store.secret_key()
    tables = rows(store_path, "SELECT name FROM sqlite_schema WHERE type = 'table'")
    columns = {str(name): rows(store_path, f"PRAGMA table_info({name})") for (name,) in tables}
    assert {name for name, found in columns.items() if "pair" in {column[1] for column in found}} == set(OF_A_PAIR)


def test_a_deleted_pair_is_gone_from_every_table_and_the_others_stay(store: Store, store_path: Path) -> None:
    gone, stays = full_pair(store, LINK, "larch"), full_pair(store, "another link", "maple")
    for table in OF_A_PAIR:
        assert rows(store_path, f"SELECT DISTINCT pair FROM {table} ORDER BY pair") == [(gone.id,), (stays.id,)], table
    before = store.whole_pair(stays)
    assert on_disk(store_path).count(b"larch") > 8
    store.deleting.pair(gone)
    for table in OF_A_PAIR:
        assert rows(store_path, f"SELECT DISTINCT pair FROM {table}") == [(stays.id,)], table
    assert store.find_pair(LINK) is None
    assert store.whole_pair(stays) == before
    assert store.shares.shared(stays) == Share("maple", size=True)
    assert b"larch" not in on_disk(store_path)
    assert b"maple" in on_disk(store_path)
    store.deleting.pair(gone)


def test_nothing_of_many_deleted_pairs_stays_wherever_the_file_had_put_it(store: Store, store_path: Path) -> None:
    """Pages are split, joined and given back as rows come and go; what was moved must leave nothing behind either."""
    chance = random.Random(12)
    pairs: dict[str, Pair] = {}
    gone: set[str] = set()
    for number in range(120):
        word = "".join(chance.choices(LETTERS, k=12))
        pairs[word] = store.add_pair(word[::-1], word, "cm", word * chance.randrange(1, 900))
        for _ in range(3):
            into = chance.choice(list(pairs))
            entries = [note(chance.randrange(10**9), into * chance.randrange(1, 60)) for _ in range(20)]
            store.add_entries(pairs[into], entries)
            store.quarantine(pairs[into], [Unreadable("entry", into, into * chance.randrange(1, 50))])
        if number % 3 == 2:
            word = chance.choice(list(pairs))
            store.deleting.pair(pairs.pop(word))
            gone.add(word)
    disk = on_disk(store_path)
    assert {word for word in gone if word.encode() in disk} == set()
    assert all(word.encode() in disk for word in pairs)


def test_who_still_holds_a_deleted_pair_writes_into_no_other(store: Store, pair: Pair) -> None:
    store.deleting.pair(pair)
    with pytest.raises(StoreUnavailableError):
        store.add_entries(pair, [made(1)])
    other = store.add_pair("another link", "x", "cm", "{}")
    assert other.id != pair.id
    with pytest.raises(StoreUnavailableError):
        store.add_entries(pair, [made(1)])
    assert store.entries(other) == {}


def test_a_deleted_design_leaves_its_followers_their_pairs(store: Store, store_path: Path) -> None:
    pair, other = full_pair(store, LINK, "larch"), full_pair(store, "another link", "maple")
    design = store.designs.led_by(f"leader {LINK}")
    assert design
    store.designs.add_version(design, '{"note": "hawthorn"}')
    store.photos.keep(design.design, "heel", b"a blackthorn in bloom")
    before = store.whole_pair(pair)
    store.deleting.design(design.design)
    assert store.designs.led_by(f"leader {LINK}") is None
    assert store.designs.joined_by(f"follower {LINK}") is None
    assert store.designs.followed_by(pair) is None
    assert store.shares.shared(pair) is None
    assert before.follows
    assert store.whole_pair(pair) == before.model_copy(update={"follows": None, "version": 1})
    assert not [word for word in (b"hawthorn", b"blackthorn") if word in on_disk(store_path)]
    assert store.designs.followed_by(other)
    assert store.shares.shared(other)
    store.designs.add("third", "third follower", "{}")
    third = store.designs.led_by("third")
    assert third
    assert third.design > design.design


@pytest.mark.parametrize("late", [False, True])
def test_what_was_taken_back_is_gone_from_the_file(store: Store, pair: Pair, store_path: Path, late: bool) -> None:
    """Whichever comes first, from whichever phone."""
    slip, taken_back, stays = note(1, "larch " * 30), withdrawal(2, of=1), note(3, "maple")
    for entry in [taken_back, slip] if late else [slip, taken_back]:
        store.add_entries(pair, [entry])
    store.add_entries(pair, [stays, made(4)])
    assert b"larch" not in on_disk(store_path)
    emptied = made(1, kind="note", round=0)
    assert sorted(store.entries(pair).values(), key=Entry.order) == [emptied, taken_back, stays, made(4)]


def test_what_was_taken_back_stays_away_when_it_is_sent_again(store: Store, pair: Pair, store_path: Path) -> None:
    slip = note(1, "larch " * 30)
    store.add_entries(pair, [slip, withdrawal(2, of=1)])
    store.add_entries(pair, [slip, made(3)])
    assert store.entries(pair)[1] == made(1, kind="note", round=0)
    assert b"larch" not in on_disk(store_path)


def test_a_check_that_was_taken_back_is_gone_from_the_change_it_led_to(
    store: Store, pair: Pair, store_path: Path
) -> None:
    other = store.add_pair("another link", "x", "cm", "{}")
    for one in (pair, other):
        store.add_entries(one, [check(1), note(2, "maple")])
        store.add_revision(one, Revision(1, 1, 1, 0, "", "{}"), "31.75 stitches", "rest")
    store.add_entries(pair, [withdrawal(3, of=2)])
    assert rows(store_path, "SELECT gauge_check FROM revisions WHERE number = 2") == [("31.75 stitches",)] * 2
    store.add_entries(pair, [withdrawal(4, of=1)])
    found = rows(store_path, "SELECT gauge_check FROM revisions WHERE number = 2 ORDER BY pair")
    assert found == [(None,), ("31.75 stitches",)]


def test_no_withdrawal_empties_a_move_another_withdrawal_or_another_pair(store: Store, pair: Pair) -> None:
    other = store.add_pair("another link", "x", "cm", "{}")
    store.add_entries(other, [note(1, "maple")])
    entries = [made(1), withdrawal(2, of=3), withdrawal(3, of=1), withdrawal(4, of=4)]
    store.add_entries(pair, entries)
    assert list(store.entries(pair).values()) == entries
    assert list(store.entries(other).values()) == [note(1, "maple")]


def test_a_damaged_withdrawal_fails_nothing(store: Store, pair: Pair, store_path: Path) -> None:
    store.add_entries(pair, [note(1, "maple"), withdrawal(2, of=1)])
    damaged(store_path, "UPDATE log SET data = '{' WHERE number = 2")
    store.add_entries(pair, [note(3, "yew")])
    assert list(store.entries(pair).values()) == [made(1, kind="note", round=0), note(3, "yew")]


def test_an_older_file_loses_what_was_taken_back_when_it_is_brought_up_to_date(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "old"
    with monkeypatch.context() as patched:
        patched.setattr(
            "companion.store.tables.MIGRATIONS", MIGRATIONS[: MIGRATIONS.index(_withdrawn_remarks_are_emptied)]
        )
        patched.setattr("companion.store.log._empty_withdrawn", lambda *_: False)
        patched.setattr("companion.store.seats.keep", lambda *_: None)
        patched.setattr("companion.store.log.FOUND", "SELECT 0, 0, 0")  # nothing is folded in it yet
        old = Store(path, lambda: NOON)
        pair = add_pair(old)
        old.add_entries(pair, [note(1, "larch"), withdrawal(2, of=1), check(3), note(4, "maple")])
        old.add_revision(pair, Revision(1, 1, 1, 0, "", "{}"), "31.75 stitches", "rest")
        old.add_entries(pair, [withdrawal(5, of=3)])
        old.close()
    assert b"larch" in path.read_bytes()
    store = Store(path, lambda: NOON)
    found = list(store.entries(pair).values())
    store.close()
    assert found[:1] == [made(1, kind="note", round=0)]
    assert found[2:4] == [made(3, kind="check"), note(4, "maple")]
    assert not [word for word in (b"larch", b"31.75") if word in on_disk(path)]


def at(year: int, month: int = 1) -> str:
    return datetime(year, month, 1, tzinfo=UTC).isoformat(timespec="seconds")


class Years:
    """A clock that is set by hand."""

    def __init__(self) -> None:
        self.now = datetime(2020, 1, 1, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def years() -> Years:
    return Years()


@pytest.fixture
def old_store(store_path: Path, years: Years) -> Iterator[Store]:
    """Pairs begun in 2020: one counted on in 2023, one planned again in 2024, and one left alone; and three designs."""
    store = Store(store_path, years)
    for name in ("left alone", "counted", "planned again"):
        store.designs.add(f"leader of {name}", f"followed by {name}", "{}")
        design = store.designs.led_by(f"leader of {name}")
        assert design
        store.add_pair(name, name, "cm", "{}", Following(design.design, 1))
    for year, name in ((2023, "counted"), (2024, "planned again")):
        years.now = years.now.replace(year=year)
        pair = store.find_pair(name)
        assert pair
        if name == "counted":
            store.add_entries(pair, [made(1, at="2030-01-01T00:00:00Z")])
        else:
            store.add_revision(pair, Revision(1, 1, 0, 0, "", "{}"), "", "rest")
    yield store
    store.close()


def test_a_count_and_a_change_touch_a_pair_and_its_followers_a_design(old_store: Store) -> None:
    pairs, designs = old_store.deleting.untouched(at(2023, 6))
    assert list(pairs.since.values()) == [at(2020), at(2023)]
    assert list(designs.since.values()) == [at(2020)] * 2
    pairs, designs = old_store.deleting.untouched(at(2020))
    assert pairs == Untouched("pairs", {})
    assert designs == Untouched("designs", {})


def test_what_was_touched_since_it_was_looked_up_stays(old_store: Store, years: Years) -> None:
    before = at(2023, 6)
    pairs, designs = old_store.deleting.untouched(before)
    years.now = years.now.replace(year=2025)
    counted = old_store.find_pair("counted")
    assert counted
    old_store.add_entries(counted, [made(2)])
    deleted = [list(old_store.deleting.purge(one, before, most=1)) for one in (pairs, designs)]
    assert deleted == [[1, 0], [1, 0]]
    assert [bool(old_store.find_pair(name)) for name in ("left alone", "counted", "planned again")] == [
        False,
        True,
        True,
    ]
    assert old_store.designs.led_by("leader of left alone") is None
    assert old_store.designs.followed_by(counted)
