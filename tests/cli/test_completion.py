"""A shell completes commands, options and their words: by bash itself, which reads what is printed."""

from __future__ import annotations

import shutil
import subprocess

import pytest

from companion.cli import main

BASH = shutil.which("bash")


@pytest.mark.skipif(BASH is None, reason="there is no bash here")
@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("companion re", ["restore", "recalc"]),
        ("companion plan x.json --format ", ["text", "json"]),
        ("companion plan x.json --fo", ["--format"]),
        ("companion plan --sock ", ["1", "2"]),
        ("companion deploy ca", ["caddy"]),
        ("companion serve --local --ht", ["--https", "--https-port"]),
        ("companion serve --data ", []),
        ("companion plan ingles", []),
        ("companion plan ", []),
        ("companion deploy ", ["caddy", "systemd", "container"]),
        ("companion deploy caddy socks.example --p", ["--port"]),
    ],
)
def test_bash_offers_what_may_stand_there(capsys: pytest.CaptureFixture[str], typed: str, offered: list[str]) -> None:
    """Bash Reference Manual, 8.6: words in COMP_WORDS, the place in COMP_CWORD, the answer in COMPREPLY."""
    with pytest.raises(SystemExit) as ended:
        main(["--completion"])
    assert ended.value.code == 0
    script = capsys.readouterr().out
    place = len(typed.split(" ")) - 1
    typed_words = typed + "''" * typed.endswith(" ")
    asked = f"COMP_WORDS=({typed_words}); COMP_CWORD={place}; _companion"
    ask = f"{script}\n{asked}; printf '%s\\n' \"${{COMPREPLY[@]}}\""
    found = subprocess.run([str(BASH), "-c", ask], capture_output=True, text=True, check=True)
    assert found.stderr == ""
    assert found.stdout.split() == offered
