"""Errors that teach: what was asked, what came, what is wanted, an example that works."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

LONGEST_TOLD, LONGEST_GOT = 80, 400  # characters
MOST_NAMED, MOST_FAULTS = 40, 20  # known words named, and faults of a file shown


class InputError(ValueError):
    """Something given to the kit cannot be used: what was `asked` for, what it `got`, and what it `wanted` instead.

    The `example` is something that works, ready to copy.
    """

    def __init__(self, asked: str, got: str, wanted: str, example: str = "") -> None:
        got = got if len(got) <= LONGEST_GOT else f"{got[:LONGEST_GOT]}…"
        self.asked, self.got, self.wanted, self.example = asked, got, wanted, example
        lines = [f"{asked}: got {got}.", f"Wanted: {wanted}."]
        if example:
            lines.append(f"For example: {example}")
        super().__init__("\n".join(lines))

    def _render_traceback_(self) -> list[str]:
        """Show a learner the message alone; IPython calls this in place of its traceback."""
        return [f"{type(self).__name__}: {self}"]


def told(given) -> str:
    """Return how an error names what came: on one line, and no longer than a line."""
    text = " ".join(repr(given).split())
    return text if len(text) <= LONGEST_TOLD else f"{text[:LONGEST_TOLD]}…"


def not_among(known: Iterable[str], asked: str, given, example: str = '{asked}="{near}"') -> InputError:
    """Return an error to raise for a word that is not among those known.

    `asked` is what was asked for, in words or as an argument's name; the example has ``{near}`` where the known word
    most like it goes.
    """
    known = list(known)
    said = str(given)[:LONGEST_TOLD].lower()
    near = difflib.get_close_matches(said, known, n=5) or known[:5]
    got = f'"{given}"' if isinstance(given, str) else told(given)
    wanted = f"one of {', '.join(known)}" if len(known) <= MOST_NAMED else f"one of {len(known)}, as {', '.join(near)}"
    return InputError(asked, got, wanted, example.format(asked=asked, near=near[0]))


class RecordError(InputError):
    """A person's file cannot be read; every fault in it is named at once, a line each, by its row and column.

    The message shows the first twenty and their number.
    """

    def __init__(self, path: str, faults: list[str] | tuple[str, ...]) -> None:
        self.path, self.faults = path, tuple(faults)
        shown = [f"  {number}. {fault}" for number, fault in enumerate(self.faults[:MOST_FAULTS], start=1)]
        more = [f"  and {len(self.faults) - MOST_FAULTS} more"] if len(self.faults) > MOST_FAULTS else []
        ValueError.__init__(
            self, "\n".join([f"{path}: {len(self.faults)} thing(s) to put right; nothing was read.", *shown, *more])
        )
