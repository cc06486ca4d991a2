"""The operations of a round: what each takes from the left needle, and what it makes on the right one."""

from __future__ import annotations

from typing import Literal, NamedTuple, TypeAlias

OpName: TypeAlias = Literal[
    "k", "p", "ktbl", "ptbl", "sl", "slwyif", "k2tog", "ssk", "skp", "p2tog", "ssp", "k3tog", "p3tog", "sssk", "sssp",
    "s2kpo", "sk2p", "m1l", "m1r", "m1p", "yo", "kfb", "pfb", "co", "pu", "pup", "bo", "graft", "draw", "turn",
    "ds", "kds", "pds", "wrap", "kw", "pw", "twin", "ktw", "ptw", "rest", "resume", "join", "sew",
    "1/1 RC", "1/1 LC", "1/1 RPC", "1/1 LPC", "2/1 RC", "2/1 LC", "2/1 RPC", "2/1 LPC",
    "2/2 RC", "2/2 LC", "2/2 RPC", "2/2 LPC", "3/1 RC", "3/1 LC", "3/1 RPC", "3/1 LPC",
    "3/3 RC", "3/3 LC", "3/3 RPC", "3/3 LPC",
]  # fmt: skip

Names: TypeAlias = tuple[OpName, ...]
"""Operations one by one, in the order of working."""

Rounds: TypeAlias = tuple[Names, ...]
"""The rounds of a repeat in the order of working, each with the operations of one repeat."""


class Stitches(NamedTuple):
    """What an operation takes from the left needle, what it puts on the right one, and the new loops it draws."""

    takes: int
    makes: int
    loops: int


class Cable(NamedTuple):
    """Stitches that cross: those knitted in `front`, those `behind`, and whether the latter are purled.

    It leans to the right where the ones behind are slipped to the cable needle and held in back, to the left where
    the ones in front are slipped to it and held in front. These are the names that the standards of the yarn trade use.
    """

    front: int
    behind: int
    leans_right: bool
    purled: bool


CABLES: dict[OpName, Cable] = {
    "1/1 RC": Cable(1, 1, True, False),
    "1/1 LC": Cable(1, 1, False, False),
    "1/1 RPC": Cable(1, 1, True, True),
    "1/1 LPC": Cable(1, 1, False, True),
    "2/1 RC": Cable(2, 1, True, False),
    "2/1 LC": Cable(2, 1, False, False),
    "2/1 RPC": Cable(2, 1, True, True),
    "2/1 LPC": Cable(2, 1, False, True),
    "2/2 RC": Cable(2, 2, True, False),
    "2/2 LC": Cable(2, 2, False, False),
    "2/2 RPC": Cable(2, 2, True, True),
    "2/2 LPC": Cable(2, 2, False, True),
    "3/1 RC": Cable(3, 1, True, False),
    "3/1 LC": Cable(3, 1, False, False),
    "3/1 RPC": Cable(3, 1, True, True),
    "3/1 LPC": Cable(3, 1, False, True),
    "3/3 RC": Cable(3, 3, True, False),
    "3/3 LC": Cable(3, 3, False, False),
    "3/3 RPC": Cable(3, 3, True, True),
    "3/3 LPC": Cable(3, 3, False, True),
}

_LEANING: tuple[tuple[OpName, OpName], ...] = (
    ("k2tog", "ssk"),
    ("p2tog", "ssp"),
    ("k3tog", "sssk"),
    ("p3tog", "sssp"),
    ("m1r", "m1l"),
    *(
        (right, left)
        for right, cable in CABLES.items()
        for left, other in CABLES.items()
        if cable.leans_right and other == cable._replace(leans_right=False)
    ),
)

MIRRORED: dict[OpName, OpName] = {
    **dict(_LEANING),
    **{left: right for right, left in _LEANING},
    "skp": "k2tog",
    "sk2p": "k3tog",
}
"""What leans to the other side, for what leans. All else is its own mirror, but kfb and pfb, which have none."""

OPERATIONS: dict[str, Stitches] = {
    "k": Stitches(1, 1, 1),
    "p": Stitches(1, 1, 1),
    "ktbl": Stitches(1, 1, 1),
    "ptbl": Stitches(1, 1, 1),
    "sl": Stitches(1, 1, 0),
    "slwyif": Stitches(1, 1, 0),
    "k2tog": Stitches(2, 1, 1),
    "ssk": Stitches(2, 1, 1),
    "skp": Stitches(2, 1, 1),
    "p2tog": Stitches(2, 1, 1),
    "ssp": Stitches(2, 1, 1),
    "k3tog": Stitches(3, 1, 1),
    "p3tog": Stitches(3, 1, 1),
    "sssk": Stitches(3, 1, 1),
    "sssp": Stitches(3, 1, 1),
    "s2kpo": Stitches(3, 1, 1),
    "sk2p": Stitches(3, 1, 1),
    "m1l": Stitches(0, 1, 1),
    "m1r": Stitches(0, 1, 1),
    "m1p": Stitches(0, 1, 1),
    "yo": Stitches(0, 1, 1),
    "kfb": Stitches(1, 2, 2),
    "pfb": Stitches(1, 2, 2),
    "co": Stitches(0, 1, 1),
    "pu": Stitches(0, 1, 1),
    "pup": Stitches(0, 1, 1),
    "bo": Stitches(1, 0, 1),
    "graft": Stitches(2, 0, 1),
    "draw": Stitches(1, 0, 0),
    "turn": Stitches(0, 0, 0),
    "ds": Stitches(1, 1, 0),
    "kds": Stitches(1, 1, 1),
    "pds": Stitches(1, 1, 1),
    "wrap": Stitches(0, 0, 0),
    "kw": Stitches(1, 1, 1),
    "pw": Stitches(1, 1, 1),
    "twin": Stitches(0, 0, 1),
    "ktw": Stitches(1, 1, 1),
    "ptw": Stitches(1, 1, 1),
    "rest": Stitches(1, 0, 0),
    "resume": Stitches(0, 1, 1),
    "join": Stitches(1, 1, 1),
    "sew": Stitches(1, 0, 1),
    **{name: Stitches(*(cable.front + cable.behind,) * 3) for name, cable in CABLES.items()},
}


def taken(names: Names) -> int:
    """Stitches that operations take from the left needle."""
    return sum(OPERATIONS[name].takes for name in names)


def made(names: Names) -> int:
    """Stitches that operations put on the right needle."""
    return sum(OPERATIONS[name].makes for name in names)
