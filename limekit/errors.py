"""Errors that teach: what was asked, what came, what is wanted, an example that works."""

from __future__ import annotations


class InputError(ValueError):
    """Something given to the kit cannot be used.

    Parameters
    ----------
    asked : str
        What was asked for, in words or as an argument's name.
    got : str
        What came instead.
    wanted : str
        What would be taken.
    example : str
        Something that works, ready to copy.
    """

    def __init__(self, asked: str, got: str, wanted: str, example: str = "") -> None:
        self.asked, self.got, self.wanted, self.example = asked, got, wanted, example
        lines = [f"{asked}: got {got}.", f"Wanted: {wanted}."]
        if example:
            lines.append(f"For example: {example}")
        super().__init__("\n".join(lines))

    def _render_traceback_(self) -> list[str]:
        """Show a learner the message alone; IPython calls this in place of its traceback."""
        return [f"{type(self).__name__}: {self}"]


class RecordError(InputError):
    """A person's file cannot be read; every fault in it is named at once.

    Parameters
    ----------
    path : str
        The file.
    faults : sequence of str
        One line a fault, each naming its row and column.
    """

    def __init__(self, path: str, faults: list[str] | tuple[str, ...]) -> None:
        self.path, self.faults = path, tuple(faults)
        ValueError.__init__(
            self,
            "\n".join(
                [
                    f"{path}: {len(self.faults)} thing(s) to put right; nothing was read.",
                    *(f"  {number}. {fault}" for number, fault in enumerate(self.faults, start=1)),
                ]
            ),
        )
