"""Sample projects: plan requests to start from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from flask import Flask, current_app

from ..planning import PlanRequest, read_request
from ..planning.construction.construction_words import construction_words
from ..strict_json import read_json

LESSONS = {
    "hall-table": "The least that is needed: two measurements and a ball band",
    "ilex": "Stripes that run on past the heel, which is knitted last",
    "ismene": "A heel flap as deep as a high instep asks for",
    "linnet": "From the toe up, tried on as it grows",
    "ruddock": "Thick yarn for boots, on few stitches",
    "sorrel": "Two colours by a chart, exchanged on the second sock",
    "tove": "A small foot, with less ease",
    "urn": "Short rows for heel and toe: quick, with nothing to pick up",
}
"""What is to be learned from a sample, by its file's name."""


@dataclass(frozen=True)
class Sample:
    """A plan request under a short name."""

    key: str
    request: PlanRequest

    @property
    def title(self) -> str:
        """Whose socks they are."""
        return self.request.title

    @property
    def lesson(self) -> str:
        """What is to be learned from it."""
        return LESSONS.get(self.key, self.summary)

    @property
    def summary(self) -> str:
        """Construction, foot, gauge and ribbing in a line."""
        foot, gauge = self.request.foot, self.request.gauge
        built = construction_words(self.request.construction).capitalize()
        return (
            f"{built}; foot {foot.ball_circumference_cm:g} cm round the ball and {foot.length_cm:g} cm long, "
            f"{gauge.stitches_per_10cm:g} stitches over 10 cm, {self.request.cuff.rib} ribbing"
        )


def read_samples(folder: Path) -> dict[str, Sample]:
    """The samples in a folder by their file's name.

    Raises ValueError when one of them is not a plan request.
    """
    found = {}
    for path in sorted(folder.glob("*.json")):
        request, faults = read_request(read_json(path.read_bytes()))
        if request is None:
            raise ValueError(f"{path.name}: {'; '.join(map(str, faults))}")
        found[path.stem] = Sample(path.stem, request)
    return found


def samples() -> Mapping[str, Sample]:
    """The samples of this app."""
    found: Mapping[str, Sample] = current_app.extensions["samples"]
    return found


def init_app(app: Flask, folder: Path) -> None:
    """Read the samples once."""
    app.extensions["samples"] = read_samples(folder)
