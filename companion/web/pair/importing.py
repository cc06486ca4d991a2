"""Importing a pair that was exported, here or on another server."""

from __future__ import annotations

from ...pair.file import PairFile, read_pair_file
from ...strict_json import UnsoundJSONError, read_json
from ...words import sentence
from ..open_pair import store
from ..server import quotas

NOT_WHOLE = "It is not a whole file. Export the pair again, and import that file."
CHANGED = "It was damaged, or changed by hand. Export the pair again, and import that file."


def take_in(link: str, body: bytes) -> list[str]:
    """Make a pair of a file's bytes, to be found by this link; answers with what is wrong with them, in sentences.

    Raises LinkTakenError when there is a pair with this link. Answers 429 where too many were taken in from there.
    """
    quotas.take(quotas.IMPORTS)
    found, wrong = read_file(body)
    if found:
        store().add_whole_pair(link, found)
    return wrong


def read_file(body: bytes) -> tuple[PairFile | None, list[str]]:
    """The pair in a file's bytes, or what is wrong with them, in sentences."""
    try:
        found, faults = read_pair_file(read_json(body))
    except UnsoundJSONError:
        return None, [NOT_WHOLE]
    # Where in the file it is tells nobody anything who has not written it.
    return found, list(dict.fromkeys(CHANGED if fault.where else sentence(fault.message) for fault in faults))
