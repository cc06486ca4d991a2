"""How a sock is constructed: its direction, and the shapes of its heel and toe."""

from __future__ import annotations

from collections.abc import Collection
from typing import Annotated, Literal, TypeAlias

from pydantic import BeforeValidator

from ..frozen_model import FrozenModel

Turn: TypeAlias = Literal["round", "square", "V"]
FlapFabric: TypeAlias = Literal["slipped", "offset slipped", "plain"]


class Vocabulary:
    """The words that an entry may have.

    They are those of a table of builders. A builder knows the request, so the request cannot know the table: it fills
    in its words itself.
    """

    words: Collection[str] = ()

    def known(self, given: object) -> object:
        """What was given, if it is one of the words; otherwise a fault that names them."""
        if isinstance(given, str) and given in self.words:
            return given
        *others, last = map(repr, self.words)
        raise ValueError(f"allowed: {', '.join(others)} or {last}")


HEEL_WORDS, TOE_WORDS = Vocabulary(), Vocabulary()


class Construction(FrozenModel):
    """The order and the shapes of the sock's parts, heel and toe by the words of their tables.

    `turn`, `flap` and `garter_edge` are for a heel that follows them.
    """

    direction: Literal["cuff-down", "toe-up"] = "cuff-down"
    heel: Annotated[str, BeforeValidator(HEEL_WORDS.known)] = "flap"
    toe: Annotated[str, BeforeValidator(TOE_WORDS.known)] = "wedge"
    turn: Turn = "round"
    flap: FlapFabric = "slipped"
    garter_edge: bool = False
