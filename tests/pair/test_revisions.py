"""Which revision each sock of a pair follows."""

from __future__ import annotations

import pytest

from companion.pair.logbook import Sock
from companion.pair.revisions import Revision, followed, undoable


def revision(number: int, sock: Sock = 1, done: int = 0, other_done: int = 0) -> Revision:
    return Revision(number, sock, done, other_done, "" if number == 1 else "changed", "{}")


FIRST = revision(1)


@pytest.mark.parametrize(
    ("later", "first_sock", "second_sock"),
    [
        ([], 1, 1),
        ([revision(2, done=85)], 2, 2),
        ([revision(2, done=85), revision(3, done=120)], 3, 3),
        ([revision(2, done=85, other_done=85)], 2, 2),
        # Sock 2 is past the place: its rounds there are others already.
        ([revision(2, done=85, other_done=86)], 2, 1),
        # And a later change goes on from rounds that sock 2 does not have.
        ([revision(2, done=85, other_done=86), revision(3, done=120, other_done=90)], 3, 1),
        ([revision(2, sock=2, done=10)], 1, 2),
        ([revision(2, sock=2, done=10), revision(3, done=85, other_done=12)], 3, 2),
        ([revision(2, done=85), revision(4, sock=2, done=30)], 2, 4),
    ],
)
def test_a_sock_follows_its_newest_and_the_second_goes_along(
    later: list[Revision], first_sock: int, second_sock: int
) -> None:
    found = followed([FIRST, *later])
    assert (found[1].number, found[2].number) == (first_sock, second_sock)


def test_a_sock_keeps_its_revision_while_it_is_knitted_on() -> None:
    """What counts is where sock 2 was when the change was accepted, not where it is by now."""
    pair = [FIRST, revision(2, done=85, other_done=80)]
    assert followed(pair)[2].number == 2
    assert undoable(pair, {1: 85, 2: 80}) is pair[1]
    assert undoable(pair, {1: 85, 2: 86}) is None


def test_the_first_plan_cannot_be_taken_back() -> None:
    assert undoable([FIRST], {1: 0, 2: 0}) is None


def test_a_change_can_be_taken_back_until_a_sock_that_follows_it_is_past_it() -> None:
    pair = [FIRST, revision(2, done=85, other_done=90)]
    assert undoable(pair, {1: 85, 2: 200}) is pair[1]
    assert undoable(pair, {1: 86, 2: 0}) is None


def test_only_the_newest_change_can_be_taken_back() -> None:
    pair = [FIRST, revision(2, done=85), revision(3, sock=2, done=30, other_done=85)]
    assert undoable(pair, {1: 85, 2: 30}) is pair[2]
    assert undoable(pair, {1: 85, 2: 31}) is None
