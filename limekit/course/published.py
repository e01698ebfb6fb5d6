"""Published cases: the kit's functions called with a source's inputs, beside what the source says.

The rows of ``data/published/*.csv`` feed both a parametrised test and the
lesson on how we know.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from importlib import resources
from operator import attrgetter

import limekit
from limekit import tables
from limekit.facts import known_by
from limekit.units import quantity


@dataclass(frozen=True)
class Case:
    """One row: a call, what the source expects, and the band that counts as agreement.

    Parameters
    ----------
    topic : str
        The file it stands in: ``"chemistry"``.
    name, function, result, unit : str
        What is checked: ``limekit.function(**inputs)``, its field `result` if it has fields.
    inputs : dict
        Arguments as a person would type them.
    expected, low, high : float
        In `unit`.
    tag, source, place, note : str
        How the figure is known, where it stands, and where the kit departs from it.
    """

    topic: str
    name: str
    function: str
    inputs: dict
    result: str
    unit: str
    expected: float
    low: float
    high: float
    tag: str
    source: str
    place: str
    note: str

    def run(self) -> float:
        """Call the kit and return its answer in `unit`."""
        answer = getattr(limekit, self.function)(**self.inputs)
        if self.result:
            answer = attrgetter(self.result)(answer)
        return float(quantity(answer, self.unit).to(self.unit).magnitude)

    def agrees(self, answer: float) -> bool:
        """Whether an answer lies in the band."""
        return self.low <= answer <= self.high

    @property
    def basis(self) -> str:
        """The source and how it is known, for a reader."""
        return known_by(self.source, self.tag)


def cases() -> list[Case]:
    """Return every published case the kit ships, file by file."""
    files = sorted(file.name for file in resources.files("limekit").joinpath("data/published").iterdir())
    topics = [name.removesuffix(".csv") for name in files if name.endswith(".csv")]
    return [
        Case(
            topic=topic,
            name=row["case"],
            inputs=tomllib.loads("\n".join(row["inputs"].split(";"))),
            **{key: float(row[key]) for key in ("expected", "low", "high")},
            **{key: row[key] for key in ("function", "result", "unit", "tag", "source", "place", "note")},
        )
        for topic in topics
        for row in tables.rows(f"published/{topic}")
    ]
