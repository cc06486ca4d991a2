"""An independent knitter of flat pieces and of tubes, to see whether the right sides of both show the same.

A needle lists its stitches from the right end as the right side shows it. Each stitch is a number that stands for what
it looks like from there and for the stitches that it was made from, so that two columns with the same numbers have the
same history. Nothing here is shared with the program.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from tests.written_plan import CABLES, OPS, crossing

# "K2tog on RS, p2tog on WS": craftyarncouncil.com/standards/knit-chart-symbols; kfb and lifted strands: the key of
# paperzz.com/doc/7063943 (basic symbols).
PAIRS = "k p|ktbl ptbl|k2tog p2tog|ssk ssp|k3tog p3tog|sssk sssp|sl slwyif|kfb pfb|m1l m1p|yo yo|co co"
BEHIND = {one: other for pair in PAIRS.split("|") for one, other in (pair.split(), reversed(pair.split()))}
LOOKS = {"skp": "ssk", "sk2p": "sssk"}


class Fabric:
    """Stitches by what they look like and come from; pieces of the same one can be compared."""

    def __init__(self) -> None:
        self._known: dict[tuple[object, ...], int] = {}

    def cast_on(self, stitches: int) -> list[int]:
        """A needle with so many stitches, all alike."""
        return [self._stitch("co", 0, ())] * stitches

    def row(self, needle: Sequence[int], ops: Iterable[str], side: str = "RS") -> list[int]:
        """The needle after a row, which is worked from its right end, or from its left one on the wrong side."""
        left = [*needle] if side == "RS" else [*reversed(needle)]
        made: list[int] = []
        for op in ops:
            takes, makes = OPS[op]
            assert len(left) >= takes, f"{op} takes {takes}, and {len(left)} are left"
            here, left = left[:takes], left[takes:]
            if op in CABLES:
                assert side == "RS", f"{op} on the wrong side"
                waits, worked = crossing(op)
                made += [
                    self._stitch(one, 0, (of,)) for one, of in zip(worked, here[waits:] + here[:waits], strict=True)
                ]
            elif side == "RS":
                made += [self._stitch(op, number, tuple(here)) for number in range(makes)]
            else:
                made += [self._stitch(BEHIND[op], number, tuple(reversed(here))) for number in reversed(range(makes))]
        assert not left, f"{len(left)} stitches are left"
        return made if side == "RS" else made[::-1]

    def _stitch(self, op: str, number: int, of: tuple[int, ...]) -> int:
        return self._known.setdefault((LOOKS.get(op, op), number, of), len(self._known))


def lies_in(window: Sequence[int], tube: Sequence[int]) -> bool:
    """Whether stitches next to one another are so somewhere around a tube."""
    around = [*tube, *tube]
    return any(around[start : start + len(window)] == [*window] for start in range(len(tube)))
