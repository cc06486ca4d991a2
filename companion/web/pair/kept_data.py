"""What the knit page needs of a pair that is kept in the store."""

from __future__ import annotations

from typing import Any

from ...pair.knit_data import knit_data
from ..group.followed_design import leaders_words
from ..links import mark_of
from ..open_pair import OpenPair, store


def kept_data(pair: OpenPair, link: str) -> dict[str, Any]:
    """The pair with this link as the knit page takes it."""
    return knit_data(pair, mark_of(link), store().epoch(), pair.cursor, leaders_words(pair))
