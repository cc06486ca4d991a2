"""How a sock is constructed: its direction, and the shapes of its heel and toe."""

from __future__ import annotations

from collections.abc import Collection
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import BeforeValidator, SerializerFunctionWrapHandler, model_serializer, model_validator

from ..frozen_model import FrozenModel

Turn: TypeAlias = Literal["round", "square", "V"]
FlapFabric: TypeAlias = Literal["slipped", "offset slipped", "plain"]


ShortRows: TypeAlias = Literal["double stitch", "wrap and turn", "shadow wrap", "yarn over"]
"""How a short row is turned."""


SoleFabric: TypeAlias = Literal["plain", "slipped", "offset slipped", "garter", "purl", "ribbed arch"]


ToeStart: TypeAlias = Literal["figure-eight", "Turkish", "pinhole"]
"""How a closed toe is cast on from the toe up."""

GATHERED = ("round", "star")
"""Toes whose tip is so small that it can be gathered in a ring."""


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

FOR_THE_OTHER_FOOT = {"left foot": "right foot", "right foot": "left foot"}
"""The toe of sock two, where that of sock one is shaped to one foot."""


class Construction(FrozenModel):
    """The order and the shapes of the sock's parts, heel and toe by the words of their tables.

    `turn`, `flap` and `garter_edge` are for a heel that follows them, `short_rows` is for one or for a toe that does,
    and `rounds_between` are rounds over all stitches between the halves of a short-row heel. `sole` is the fabric of
    the sole between heel and toe; with `sole_from_heel` it lies over that of a gusset too. `toe_start` is how a closed
    toe is cast on that begins the sock.
    """

    direction: Literal["cuff-down", "toe-up"] = "cuff-down"
    heel: Annotated[str, BeforeValidator(HEEL_WORDS.known)] = "flap"
    toe: Annotated[str, BeforeValidator(TOE_WORDS.known)] = "wedge"
    turn: Turn = "round"
    flap: FlapFabric = "slipped"
    garter_edge: bool = False
    short_rows: ShortRows = "double stitch"
    rounds_between: Literal[0, 1, 2] = 0
    sole: SoleFabric = "plain"
    sole_from_heel: bool = False
    toe_start: ToeStart = "figure-eight"

    @model_validator(mode="after")
    def _a_tip_that_can_be_gathered(self) -> Construction:
        begins = self.direction == "toe-up" and self.toe not in ("short-row", *GATHERED)
        if begins and self.toe_start == "pinhole":
            raise ValueError(
                f"a pinhole cast-on gathers the few stitches of a round or a star toe, not the broad tip of a "
                f"{self.toe} toe; take another cast-on, or one of these toes"
            )
        return self

    @property
    def for_one_foot(self) -> bool:
        """Whether a sock of it does not fit the other foot."""
        return self.toe in FOR_THE_OTHER_FOOT

    def for_the_other_foot(self) -> Construction:
        """The construction of the other sock of the pair."""
        return self.model_copy(update={"toe": FOR_THE_OTHER_FOOT.get(self.toe, self.toe)})

    @model_serializer(mode="wrap")
    def _what_is_asked(self, shape: SerializerFunctionWrapHandler) -> dict[str, Any]:
        """Without the later entries where they have their usual value: documents of such socks do not change."""
        return {entry: value for entry, value in shape(self).items() if entry not in LATER or LATER[entry] != value}


LATER = {
    "short_rows": "double stitch",
    "rounds_between": 0,
    "sole": "plain",
    "sole_from_heel": False,
    "toe_start": "figure-eight",
}
"""Entries that came after the first documents, with their usual values."""
