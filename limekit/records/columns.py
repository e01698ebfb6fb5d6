"""The columns of a sheet that a person keeps."""

from __future__ import annotations

from dataclasses import dataclass

from limekit import glossary
from limekit.edge import unit_of
from limekit.units import Unit


@dataclass(frozen=True)
class Column:
    """One column: a quantity of the glossary, one of a few words, or free text, by its name in the file's header.

    A quantity is read into its `limekit.units` alias, and its help stands in the glossary; what a word or text column
    is for tells `about`.
    """

    name: str
    alias: object = str
    required: bool = False
    words: tuple[str, ...] = ()
    about: str = ""

    @property
    def unit(self) -> Unit | None:
        """The unit a quantity is read into; None for words and text."""
        return unit_of(self.alias)

    @property
    def entry(self) -> glossary.Entry:
        """A quantity's row in the glossary."""
        return glossary.entry(self.name)

    @property
    def header(self) -> str:
        """What the file's header says: ``largest_size [mm]``."""
        return f"{self.name} [{self.entry.unit}]" if self.unit and self.entry.unit else self.name

    @property
    def heading(self) -> str:
        """What a reader sees: ``largest width of the piece [mm]``."""
        return self.entry.axis if self.unit else self.name.replace("_", " ")

    @property
    def help(self) -> str:
        """What to write down, in words."""
        if self.unit:
            return self.entry.help
        return f"{self.about}: {', '.join(self.words)}" if self.words else self.about
