"""Going through the words of a row, and saying where one is not what was expected."""

from __future__ import annotations

from .tokens import Token, tokens_of


class ReadingError(ValueError):
    """A row that cannot be read: where it stops being understood, and what was expected there."""

    def __init__(self, row: str, token: Token, expected: str) -> None:
        found = f"“{row[token.at :][:20].strip()}”" if token.kind != "end" else "its end"
        super().__init__(f"at {found} {expected}")


class Words:
    """The words of one row from the first on; what is taken is passed."""

    def __init__(self, row: str) -> None:
        self._row = row
        self._tokens = tokens_of(row)
        self._next = 0

    @property
    def here(self) -> Token:
        """The word that comes next; at the end of the row that."""
        return self._tokens[self._next]

    @property
    def before(self) -> Token:
        """The word that was passed last."""
        return self._tokens[self._next - 1]

    @property
    def ahead(self) -> Token:
        """The word after that."""
        return self._tokens[min(self._next + 1, len(self._tokens) - 1)]

    def sees(self, *texts: str) -> bool:
        """Whether the next word is one of these."""
        return self.here.text in texts

    def takes(self, *texts: str) -> bool:
        """Whether the next word is one of these; it is passed then."""
        found = self.sees(*texts)
        self._next += found
        return found

    def skips(self, *texts: str) -> None:
        """Passes all the next words that are some of these."""
        while self.takes(*texts):
            pass

    def word(self) -> Token:
        """The next word, whatever it is; it is passed."""
        self._next += 1
        return self._tokens[self._next - 1]

    def number(self, most: int, what: str = "a number") -> int:
        """The number that comes next, from 1 to `most`; raises ReadingError at anything else."""
        token = self.here
        if token.kind != "number" or not 0 < int(token.text[:4]) <= most:
            raise self.expected(f"{what} from 1 to {most} is expected")
        self._next += 1
        return int(token.text)

    def expected(self, what: str, at: Token | None = None) -> ReadingError:
        """The error that says so of the word that comes next, or of another one."""
        return ReadingError(self._row, at or self.here, what)
