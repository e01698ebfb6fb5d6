"""The project, own stone to own kiln: what of a design is the learner's, and which lesson decides the rest."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape
from pathlib import Path

from limekit import glossary
from limekit.course.ladder import Lesson, ladder
from limekit.pictures.pages import CELL, TABLE
from limekit.pictures.shown import Shown
from limekit.records.examples import example_path
from limekit.records.kiln_record import EXAMPLE, Record

HEADINGS = ("Lesson", "Yours", "Still the invented example's")


@dataclass(frozen=True)
class Step:
    """What one lesson decides: what of it is the learner's and what the example's, in words."""

    lesson: Lesson
    yours: tuple[str, ...]
    invented: tuple[str, ...]

    @property
    def cells(self) -> tuple[str, str, str]:
        """The step as a row of words."""
        return self.lesson.name, ", ".join(self.yours), ", ".join(self.invented)


class Checklist(Shown):
    """What a design rests on, lesson by lesson; `checklist` makes it.

    Parameters
    ----------
    steps : iterable of Step
    """

    def __init__(self, steps: Iterable[Step]) -> None:
        self.steps = tuple(steps)

    @property
    def words(self) -> str:
        """How far the project has come, in one sentence."""
        yours, invented = (sum(len(getattr(step, whose)) for step in self.steps) for whose in ("yours", "invented"))
        left = next((step.lesson.name for step in self.steps if step.invented), None)
        told = f"{yours} of the {yours + invented} things this design rests on are yours"
        return f"{told}; next is lesson {left}." if left else f"{told}: this is your own stone in your own kiln."

    def __repr__(self) -> str:
        rows = (" · ".join(cell or "–" for cell in step.cells) for step in self.steps)
        return "\n".join((self.words, " · ".join(HEADINGS), *rows))

    def _html(self) -> str:
        head = "".join(f'<th scope="col" style="{CELL}">{escape(heading)}</th>' for heading in HEADINGS)
        body = "".join(
            f'<tr><th scope="row" style="{CELL};font-weight:normal;white-space:nowrap">{"☐" if step.invented else "☑"} '
            f'<a href="{step.lesson.file}">{escape(step.lesson.name)}</a></th>'
            + "".join(f'<td style="{CELL}">{escape(words or "–")}</td>' for words in step.cells[1:])
            + "</tr>"
            for step in self.steps
        )
        return (
            f'<p style="font-size:16px">{escape(self.words)}</p>'
            f'<table style="{TABLE}"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>'
        )


def checklist(record: Record, *sheets: Path) -> Checklist:
    """Return what of a design is the learner's own, and which lesson decides what is not yet.

    Parameters
    ----------
    record : Record
    *sheets : path
        Of the trial and of the slaking log, as `limekit.course.mine` returned them.

    Returns
    -------
    Checklist
    """
    known = glossary.entries()
    shipped = example_path(EXAMPLE).resolve().parent
    own = {path.name for path in map(Path, sheets) if path.resolve().parent != shipped}

    def told(key: str) -> tuple[bool, str]:
        section, _, name = key.partition(".")
        if section not in record:
            return key in own, key if key in own else f"no {key} yet"
        label = section if name == "name" else known[name].label if name in known else name
        return record.is_own(key), f"{label} {record[section][name]}".replace("degC", "°C")

    steps = []
    for lesson in filter(lambda lesson: lesson.decides, ladder().values()):
        found = [told(key) for key in lesson.decides]
        steps.append(
            Step(lesson, *(tuple(words for is_own, words in found if is_own is whose) for whose in (True, False)))
        )
    return Checklist(steps)
