"""The modules that run on the phone, in one archive: our own and those of the libraries that they stand on.

The libraries are those that this server itself runs on, so that both calculate by the same. Of pydantic-core only the
part in Python is in it; its compiled part comes with the runtime.
"""

from __future__ import annotations

import importlib.util
import io
import zipfile
from collections.abc import Iterator
from pathlib import Path

from jinja2.meta import find_referenced_templates

from ..resources import TEMPLATES
from .form_answer import COUNTS, FORM
from .pages import PAGES
from .rendering import templates

PACKAGE = Path(__file__).resolve().parents[1]
ROOMS = ("planning", "pair", "drawings", "on_phone", "forms")
MODULES = ("__init__", "resources", "strict_json", "words")

LIBRARIES = (
    *("annotated_types", "jinja2", "markupsafe", "pydantic", "pydantic_core", "typing_extensions", "typing_inspection"),
    "wtforms",
)
LEFT_OUT = {"pydantic/v1"}
"""An older pydantic within the newer, which nothing here asks for."""

EPOCH = (1980, 1, 1, 0, 0, 0)
"""The date of every file, so that the same files make the same archive."""


def code_archive() -> bytes:
    """A zip archive to be unpacked where Python looks for modules."""
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as packed:
        for name, path in sorted(_files()):
            packed.writestr(zipfile.ZipInfo(name, EPOCH), path.read_bytes(), zipfile.ZIP_DEFLATED)
    return archive.getvalue()


def _files() -> Iterator[tuple[str, Path]]:
    """Each file with its name in the archive."""
    for room in ROOMS:
        yield from (
            (f"companion/{path.relative_to(PACKAGE).as_posix()}", path) for path in (PACKAGE / room).rglob("*.py")
        )
    yield from ((f"companion/{name}.py", PACKAGE / f"{name}.py") for name in MODULES)
    yield from ((f"companion/templates/{name}", TEMPLATES / name) for name in _shown())
    for library in LIBRARIES:
        yield from _library(library)


def _shown() -> set[str]:
    """The templates that a phone asks for, and those that stand in them."""
    found, left = set[str](), {COUNTS, FORM, *(page.template for page in PAGES.values())}
    made = templates(framed=False)
    while left:
        found |= left
        sources = [(TEMPLATES / name).read_text() for name in left]
        within = (find_referenced_templates(made.parse(source)) for source in sources)
        left = {name for names in within for name in names if name} - found
    return found


def _library(name: str) -> Iterator[tuple[str, Path]]:
    found = importlib.util.find_spec(name)
    assert found
    assert found.origin
    origin = Path(found.origin)
    if not found.submodule_search_locations:
        yield origin.name, origin
        return
    for path in origin.parent.rglob("*.py"):
        inside = path.relative_to(origin.parent.parent).as_posix()
        if not any(inside.startswith(f"{left}/") for left in LEFT_OUT):
            yield inside, path
