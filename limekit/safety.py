"""The usual cautions (``data/cautions.csv``), for lessons, errors and printed sheets."""

from __future__ import annotations

import functools
from dataclasses import dataclass

from limekit import tables
from limekit.facts import known_by, refuse_unsourced

DEFER = (
    "These are the usual cautions, not a safety plan: local codes, fire rules and a licensed or experienced "
    "practitioner on the spot come first."
)


@dataclass(frozen=True)
class Caution:
    """One usual caution, with where its figures come from."""

    key: str
    title: str
    text: str
    tag: str
    source: str
    place: str

    @property
    def basis(self) -> str:
        """Where it comes from and how it is known."""
        return known_by(self.source, self.tag)


@functools.cache
def caution_table() -> dict[str, Caution]:
    """Return every caution the kit ships, by key."""
    for row in tables.rows("cautions"):
        refuse_unsourced(row, f"cautions, {row['key']}")
    return {row["key"]: Caution(**row) for row in tables.rows("cautions")}
