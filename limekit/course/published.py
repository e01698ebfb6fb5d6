"""Published cases: the kit's functions called with a source's inputs, beside what the source says.

The rows of ``data/published/*.csv`` feed both a parametrised test and the
lesson on how we know. Four kinds stand apart: what was published and the kit
agrees with; a published figure it is known to miss; what is practice and was
not published; and the kit's own arithmetic worked a second time.
"""

from __future__ import annotations

import functools
import tomllib
from dataclasses import dataclass
from importlib import resources
from operator import attrgetter

import limekit
from limekit import tables
from limekit.facts import known_by
from limekit.units import quantity

PUBLISHED, MISS, PRACTICE, OWN = KINDS = ("published", "known miss", "practice", "own arithmetic")
WEIGHS = 0.14  # half of the band over the figure: no wider than the 50 % range of a burning time before a trial
CLOSE = 0.02  # a band as narrow as this is arithmetic or a good measurement
AS_STATED = 0.1  # of the miss: how far the kit may lie from what a known miss says it gives


@dataclass(frozen=True)
class Case:
    """One row: a call, what the source expects, and the band that counts as agreement.

    Parameters
    ----------
    topic : str
        The file it stands in: ``"chemistry"``.
    name, kind, function, result, unit : str
        What is checked, and as which of `KINDS`: ``limekit.function(**inputs)``, its field `result` if it has fields.
    inputs : str
        Arguments as a person would type them: TOML pairs joined by ``;``.
    expected, low, high : float
        In `unit`.
    band_reason : str
        Why the band is as wide as it is.
    kit_gives : float or None
        Of a known miss: what the kit makes of it, in `unit`.
    tag, source, place, note : str
        How the figure is known, where it stands, and where the kit departs from it.
    """

    topic: str
    name: str
    kind: str
    function: str
    inputs: str
    result: str
    unit: str
    expected: float
    low: float
    high: float
    band_reason: str
    kit_gives: float | None
    tag: str
    source: str
    place: str
    note: str

    def run(self) -> float:
        """Call the kit and return its answer in `unit`."""
        answer = _called(self.function, self.inputs)
        if self.result:
            answer = attrgetter(self.result)(answer)
        return float(quantity(answer, self.unit).to(self.unit).magnitude)

    def agrees(self, answer: float) -> bool:
        """Whether an answer lies in the band."""
        return self.low <= answer <= self.high

    def holds(self, answer: float) -> bool:
        """Whether the row is true: the kit agrees, or misses by as much as a known miss says."""
        if self.kind != MISS:
            return self.agrees(answer)
        return not self.agrees(answer) and abs(answer - self.kit_gives) <= AS_STATED * abs(
            self.kit_gives - self.expected
        )

    @property
    def width(self) -> float:
        """Half of the band over the source's figure."""
        return (self.high - self.low) / 2 / abs(self.expected)

    @property
    def weighs(self) -> bool:
        """Whether agreement says something of the kit: published, in a band not too wide."""
        return self.kind == PUBLISHED and self.width <= WEIGHS

    @property
    def basis(self) -> str:
        """The source and how it is known, for a reader."""
        return known_by(self.source, self.tag)


COUNTED = {
    f"published, band to {100 * CLOSE:.0f} %": lambda case: case.kind == PUBLISHED and case.width <= CLOSE,
    f"published, band to {100 * WEIGHS:.0f} %": lambda case: case.weighs and case.width > CLOSE,
    "published, wider": lambda case: case.kind == PUBLISHED and not case.weighs,
    "known misses": lambda case: case.kind == MISS,
    "practice": lambda case: case.kind == PRACTICE,
    "own arithmetic": lambda case: case.kind == OWN,
}  # the columns of README's table


@functools.cache
def _called(function: str, inputs: str):
    return getattr(limekit, function)(**tomllib.loads("\n".join(inputs.split(";"))))


def topics() -> list[str]:
    """Return what is checked: the names of the files."""
    files = resources.files("limekit").joinpath("data/published").iterdir()
    return sorted(file.name.removesuffix(".csv") for file in files if file.name.endswith(".csv"))


def cases(topic: str | None = None) -> list[Case]:
    """Return the cases of one topic, or every case the kit ships, file by file."""
    return [
        Case(
            topic=one,
            name=row["case"],
            kit_gives=float(row["kit_gives"]) if row["kit_gives"] else None,
            **{key: float(row[key]) for key in ("expected", "low", "high")},
            **{key: row[key] for key in ("kind", "function", "inputs", "result", "unit", "band_reason")},
            **{key: row[key] for key in ("tag", "source", "place", "note")},
        )
        for one in ([topic] if topic else topics())
        for row in tables.rows(f"published/{one}")
    ]
