"""The ES modules of a page as one classic script, for a page that is one file: browsers load no modules beside those.

Each module becomes a function that is called once, when it is first asked for, and returns what it exports. It is read
as the formatter of this project lays it out: each import and export at the beginning of a line.
"""

from __future__ import annotations

import json
import posixpath
import re
from collections.abc import Callable, Collection, Mapping

_IMPORT = re.compile(r'^import (?:(\{[^}]*\}) from )?"(\.[^"]+)";$', re.MULTILINE)
_PASSED_ON = re.compile(r'^export (\{[^}]*\}) from "(\.[^"]+)";$', re.MULTILINE)
_EXPORT = re.compile(r"^export (?=(?:async )?(?:function|const|class) (\w+))", re.MULTILINE)
_LATER = re.compile(r'\bimport\("(\.[^"]+)"\)')
_ADDRESS = re.compile(r'\bnew URL\("(\.[^"]+)", import\.meta\.url\)')
_LEFT = re.compile(r"^(?:import|export)\b|\bimport\.meta\b", re.MULTILINE)
_UNSAFE = re.compile(r"</script|<!--|\$(?:load|address)\b", re.IGNORECASE)

_FRAME = """(function run(entry) {{
"use strict";
const made = {{}};
const addresses = {{}};
const $load = (name) => (made[name] ??= modules[name]());
const $address = (name) =>
  (addresses[name] ??= URL.createObjectURL(new Blob([`(${{run}})("${{name}}")`], {{ type: "text/javascript" }})));
const modules = {{
{modules}
}};
$load(entry);
}})({entry});
"""


class BundleError(Exception):
    """A module cannot be brought into one script."""


def bundle(modules: Mapping[str, str], entry: str, stand_ins: Mapping[str, str], left_out: Collection[str] = ()) -> str:
    """One script of a module and all that it needs, by their paths.

    A module in `stand_ins` is taken for the one under whose path it is, but by itself and by its neighbours in its
    folder. What a module in `left_out` exports does nothing. A worker's script becomes the same script, begun at that
    module. Raises BundleError.
    """
    made = {path: _doing_nothing(modules.get(path, "")) for path in left_out}
    _bring(modules, entry, stand_ins, made, ())
    lines = ",\n".join(f"{json.dumps(path)}: () => {{\n{code}\n}}" for path, code in sorted(made.items()))
    return _FRAME.format(modules=lines, entry=json.dumps(entry))


def _bring(
    modules: Mapping[str, str], path: str, stand_ins: Mapping[str, str], made: dict[str, str], waiting: tuple[str, ...]
) -> None:
    """Add a module and those that it needs; `waiting` are those that need it."""
    if path in waiting:
        raise BundleError(f"{path} needs itself")
    if path in made:
        return
    code = modules.get(path, "")
    if not code:
        raise BundleError(f"{path} is not there")
    if _UNSAFE.search(code):
        raise BundleError(f"{path} has words that a script in a page cannot have")
    folder = posixpath.dirname(path)

    def named(given: str) -> str:
        found = posixpath.normpath(posixpath.join(folder, given))
        instead = stand_ins.get(found, found)
        return found if posixpath.dirname(instead) == folder else instead

    at_once = [named(one[2]) for pattern in (_IMPORT, _PASSED_ON) for one in pattern.finditer(code)]
    later = [named(one[1]) for pattern in (_LATER, _ADDRESS) for one in pattern.finditer(code)]
    made[path] = _as_function(code, named)
    for other in at_once:
        _bring(modules, other, stand_ins, made, (*waiting, path))
    for other in later:
        _bring(modules, other, stand_ins, made, ())


def _doing_nothing(code: str) -> str:
    return f"return {{ {', '.join(f'{found[1]}() {{}}' for found in _EXPORT.finditer(code))} }};"


def tight(code: str) -> str:
    """Code without what stands before its lines and without empty ones. Raises BundleError where a text spans lines."""
    lines = [line.strip() for line in code.splitlines()]
    for line in lines:
        if line.count("`") % 2:
            raise BundleError(f"{line!r} begins or ends a text of several lines")
    return "\n".join(line for line in lines if line)


def _as_function(code: str, named: Callable[[str], str]) -> str:
    """The body of the function that a module becomes; `named` gives a module's path for what it is called here."""
    exported = [found[1] for found in _EXPORT.finditer(code)]

    def loaded(found: re.Match[str]) -> str:
        call = f'$load("{named(found[2])}");'
        return f"const {_pairs(found[1])} = {call}" if found[1] else call

    def passed_on(found: re.Match[str]) -> str:
        exported.extend(f'{name}: $load("{named(found[2])}").{name}' for name in re.findall(r"\w+", found[1]))
        return ""

    code = _PASSED_ON.sub(passed_on, _IMPORT.sub(loaded, _EXPORT.sub("", code)))
    code = _LATER.sub(lambda found: f'Promise.resolve().then(() => $load("{named(found[1])}"))', code)
    code = _ADDRESS.sub(lambda found: f'$address("{named(found[1])}")', code)
    left = _LEFT.search(code)
    if left:
        raise BundleError(f"{code[left.start() :].splitlines()[0]!r} is not understood")
    return f"{tight(code)}\nreturn {{ {', '.join(exported)} }};"


def _pairs(names: str) -> str:
    """The names of an import as those of a pattern: `{ a as b }` is `{ a: b }` there."""
    return re.sub(r"\b(\w+) as (\w+)\b", r"\1: \2", names)
