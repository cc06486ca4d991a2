"""Pages where there is no server: from the same templates, whole or only what stands in them. Pure."""

from __future__ import annotations

from functools import cache
from types import CodeType, SimpleNamespace
from typing import Any

from jinja2 import BytecodeCache, ChoiceLoader, DictLoader, Environment, FileSystemLoader
from jinja2.bccache import Bucket
from markupsafe import Markup

from ..pair.remarks import LIMITS
from ..resources import TEMPLATES
from ..words import add_words

FRAME = {"lib/base.html": "{% block main %}{% endblock %}"}
"""In place of the frame that all pages have."""


class _Compiled(BytecodeCache):
    """Compiled templates, for both ways of showing them."""

    def __init__(self) -> None:
        self._codes: dict[tuple[str, str], CodeType | None] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        bucket.code = self._codes.get((bucket.key, bucket.checksum))

    def dump_bytecode(self, bucket: Bucket) -> None:
        self._codes[bucket.key, bucket.checksum] = bucket.code


_COMPILED = _Compiled()


@cache
def templates(*, framed: bool) -> Environment:
    """The templates; `framed` where the page is there already, and only what stands in it is made again.

    Made once: to compile them takes several times as long as to fill them in.
    """
    loaders = [*([DictLoader(FRAME)] if framed else []), FileSystemLoader(TEMPLATES)]
    made = Environment(loader=ChoiceLoader(loaders), autoescape=True, auto_reload=False, bytecode_cache=_COMPILED)
    add_words(made)
    return made


def compile_all() -> None:
    """Have all templates that are here in memory, so that no file of theirs is read any more."""
    for framed in (True, False):
        for name in templates(framed=framed).list_templates():
            templates(framed=framed).get_template(name)


def whole_page(template: str, path: str, version: str, **shown: Any) -> str:
    """The page with this path, made of a template, with the static files of a version.

    A form in it has no token: no server would take it.
    """

    def static_url(file: str) -> str:
        return f"/static/{version}/{file}"

    def stylesheets(*names: str) -> Markup:
        sheet = Markup('<link rel="stylesheet" href="{}">')
        return Markup("\n").join(sheet.format(static_url(f"css/{name}.css")) for name in names)

    page = templates(framed=False).get_template(template)
    return page.render(
        link=path.split("/")[2],
        static_url=static_url,
        stylesheets=stylesheets,
        csrf_token=str,
        remark_limits=LIMITS,
        request=SimpleNamespace(path=path, args={}),
        **shown,
    )
