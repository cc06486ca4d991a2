"""A script for a shell to complete the command's words, made from its own options: `eval "$(companion --completion)"`.

Both bash and zsh read it, zsh by its stand-in for bash's own way. Where a file or a number is wanted the shell offers
files, as it does for any other command.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator, Mapping
from shlex import quote

FRAME = """\
[ -n "${{ZSH_VERSION-}}" ] && autoload -Uz compinit bashcompinit && compinit && bashcompinit
_companion() {{
  local now="${{COMP_WORDS[COMP_CWORD]}}" words=""
  case "$COMP_CWORD ${{COMP_WORDS[1]}} ${{COMP_WORDS[COMP_CWORD-1]}} $now" in
    "1 "*) words={commands};;
{cases}
  esac
  COMPREPLY=($(compgen -W "$words" -- "$now"))
}}
complete -o default -F _companion companion
"""


def completion_script(commands: Mapping[str, argparse.ArgumentParser]) -> str:
    """The script for these commands, each with its own options and the words that they may have."""
    cases = (f"    {pattern}) words={_words(words)};;" for pattern, words in _cases(commands))
    return FRAME.format(commands=_words(commands), cases="\n".join(cases))


def _cases(commands: Mapping[str, argparse.ArgumentParser]) -> Iterator[tuple[str, Iterable[str]]]:
    """What may stand next, by the command, the word before and what is typed: a value after an option that has one, an
    option after a dash, otherwise a word that the command wants."""
    for name, command in commands.items():
        options: list[str] = []
        wanted: list[str] = []
        for action in command._actions:  # argparse has no other way to ask
            allowed = [str(choice) for choice in action.choices or ()]
            options += action.option_strings
            wanted += [] if action.option_strings else allowed
            for option in action.option_strings if action.nargs != 0 else ():
                yield f'*" {name} {option} "*', allowed
        yield f'*" {name} "*" -"*', options
        yield f'*" {name} "*', wanted


def _words(words: Iterable[str]) -> str:
    return quote(" ".join(words))
