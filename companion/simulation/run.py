"""Simulated knitters by the thousand: how socks come out without checks, and by each way of checking."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterator
from functools import partial
from itertools import product
from multiprocessing import Pool

from .kinds import KINDS
from .life import Outcome, life_of


def outcomes(knitters: int, seed: int, progress: Callable[[int], None], workers: int | None = None) -> list[Outcome]:
    """The socks of so many knitters of each kind by every policy; `progress` hears how many of each are done.

    The same seed gives the same socks, whatever the number of workers.
    """
    found: list[Outcome] = []
    for number, socks in enumerate(_lives(knitters, seed, workers or os.cpu_count() or 1), start=1):
        found += socks
        if number % len(KINDS) == 0:
            progress(number // len(KINDS))
    return found


def _lives(knitters: int, seed: int, workers: int) -> Iterator[list[Outcome]]:
    lives = ((kind, number) for number, kind in product(range(knitters), KINDS))
    if workers == 1:
        yield from (_life(seed, life) for life in lives)
        return
    # Ctrl-C is for this process, which ends the others.
    with Pool(workers, signal.signal, (signal.SIGINT, signal.SIG_IGN)) as pool:
        yield from pool.imap(partial(_life, seed), lives, chunksize=min(5, knitters))


def _life(seed: int, life: tuple[str, int]) -> list[Outcome]:
    return life_of(seed, *life)
