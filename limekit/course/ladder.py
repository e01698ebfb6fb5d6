"""The lessons in their order (``data/lessons.csv``): code knows a lesson by its slug, and a page by its number too."""

from __future__ import annotations

import functools
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from limekit import tables
from limekit.errors import not_among


@dataclass(frozen=True)
class Lesson:
    """One lesson: its number is its place, from 0; it `decides` keys of the kiln record, and sheets."""

    slug: str
    number: int
    title: str
    minutes: int
    decides: tuple[str, ...]

    @property
    def digits(self) -> str:
        """Its number as files and timetables write it: ``13``."""
        return f"{self.number:02d}"

    @property
    def notebook(self) -> str:
        """What its notebook is called, and its picture: ``NN_slake``."""
        return f"{self.digits}_{self.slug}"

    @property
    def file(self) -> str:
        """Its notebook's file: ``NN_slake.ipynb``."""
        return f"{self.notebook}.ipynb"

    @property
    def name(self) -> str:
        """Number and title: ``13 Slake``."""
        return f"{self.number} {self.title}"


def in_order(rows: Iterable[Mapping[str, str]]) -> dict[str, Lesson]:
    """Return lessons by slug, numbered as their rows stand."""
    return {
        row["slug"]: Lesson(row["slug"], number, row["title"], int(row["minutes"]), tuple(row["decides"].split()))
        for number, row in enumerate(rows)
    }


@functools.cache
def ladder() -> dict[str, Lesson]:
    """Return every lesson of the course by its slug, in order."""
    return in_order(tables.rows("lessons"))


def lesson(name: str) -> Lesson:
    """Return a lesson by its slug, or by what its notebook is called, whatever number stands before it.

    Raises
    ------
    InputError
        If there is none of that name.

    Examples
    --------
    >>> lesson("slake").name == lesson("9_slake.ipynb").name
    True
    """
    slug = re.sub(r"^\d+_|\.ipynb$", "", name)
    if slug not in ladder():
        raise not_among(ladder(), "lesson", name)
    return ladder()[slug]
