"""The browser and the server find the same place in the same logbook, and the same ends."""

from __future__ import annotations

from typing import Any

import pytest

from companion.pair.logbook import SOCKS, ends

from ...two_phones import knitted_apart
from ..modules import Modules

FIND = """async ([module, log]) => {
    const { endsOf } = await import(module);
    return Object.fromEntries([1, 2].map((sock) => [sock, endsOf(log, sock).map(({ id }) => id)]));
}"""


@pytest.mark.parametrize(("seed", "steps"), [(seed, 40 * seed) for seed in range(20)] + [(99, 6000)])
def test_both_find_the_same_ends(modules: Modules, seed: int, steps: int) -> None:
    server = knitted_apart(seed, steps)[2]
    log: list[dict[str, Any]] = [entry.as_json() for entry in server.values()]
    for number, data in enumerate(log):
        if number % 7 == 3:
            data["sock"] = 2
        if number % 29 == 5:
            del data["after"]
    read = [type(next(iter(server.values()))).model_validate(data) for data in log]
    found = modules.page.evaluate(FIND, [modules.address("pair/logbook"), log])
    assert found == {str(sock): [end.id for end in ends(read)[sock]] for sock in SOCKS}
