"""The one glossary: every public quantity's unit, plausible band, label and help.

Signatures, error texts, slider limits, axis labels and blank record sheets
all draw on ``data/quantities.csv``.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass

from limekit import tables

FORMER = {"carbonate_fraction": "calcium_carbonate", "kiln_efficiency": "efficiency"}  # what a name is called now


@dataclass(frozen=True)
class Entry:
    """One quantity as the glossary knows it, its figures in the unit it is shown in.

    What lies outside `low` and `high` is refused. A slider's ends and step are there where the course slides it;
    `bare` says whether a number without a unit is taken. `left_out` is the value in SI at which a model no longer
    reckons with it, where it can be left out.
    """

    name: str
    unit: str
    low: float
    high: float
    slide_from: float | None
    slide_to: float | None
    step: float | None
    bare: bool
    example: str
    label: str
    help: str
    left_out: float | None = None

    @property
    def written(self) -> str:
        """An example as a person would type it: ``diameter="60 mm"``."""
        return f'{self.name}="{self.example}"' if self.unit else f"{self.name}={self.example}"

    @property
    def axis(self) -> str:
        """Label and unit, for an axis or a column: ``diameter of the piece [mm]``."""
        unit = self.unit.replace("degC", "°C").replace("delta_", "").replace("^2", "²").replace("^3", "³")
        return f"{self.label} [{unit}]" if unit else self.label


def _optional(cell: str) -> float | None:
    return float(cell) if cell else None


@functools.cache
def entries() -> dict[str, Entry]:
    """Return every glossary entry by name."""
    left_out = tables.by("name", "left_out")
    return {
        row["name"]: Entry(
            **{k: row[k] for k in ("name", "unit", "example", "label", "help")},
            low=float(row["low"]),
            high=float(row["high"]),
            slide_from=_optional(row["slide_from"]),
            slide_to=_optional(row["slide_to"]),
            step=_optional(row["step"]),
            bare=row["bare"] == "yes",
            left_out=float(left_out[row["name"]]["value"]) if row["name"] in left_out else None,
        )
        for row in tables.rows("quantities")
    }


def entry(name: str) -> Entry:
    """Return one entry; a name that is not there is a fault of the kit's own."""
    return entries()[name]


def label(name: str) -> str:
    """Return the words for a name, or the name itself where it is no quantity."""
    return entries()[name].label if name in entries() else name.replace("_", " ")


def written(name: str) -> str:
    """Return an argument as a person would type it, ``diameter="60 mm"``."""
    return entries()[name].written if name in entries() else f"{name}=..."
