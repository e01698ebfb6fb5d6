"""The project, own stone to own kiln: what of a design is the learner's, and which lesson decides the rest."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape
from pathlib import Path

from limekit.course.cards import is_there
from limekit.course.ladder import Lesson, ladder
from limekit.glossary import label as label_of
from limekit.pictures.pages import CELL, TABLE
from limekit.pictures.shown import Shown
from limekit.plan.decisions import SECTIONS
from limekit.plan.plan import EXAMPLES, KITS, YOURS, Plan
from limekit.plan.worked import RESTS_ON

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
    """What a design rests on, lesson by lesson; `checklist` makes it."""

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


def checklist(plan: Plan, folder: Path | str = ".") -> Checklist:
    """Return what of a plan is the learner's own, and which lesson decides what is not yet.

    Parameters
    ----------
    plan : Plan
    folder : path
        Where the learner's files are; the notebook's folder unless said otherwise.

    Returns
    -------
    Checklist
    """
    steps = []
    for lesson in filter(lambda lesson: lesson.decides, ladder().values()):
        found = [_told(plan, key, folder) for key in lesson.decides]
        steps.append(
            Step(lesson, *(tuple(words for is_own, words in found if is_own is whose) for whose in (True, False)))
        )
    return Checklist(steps)


def _told(plan: Plan, key: str, folder: Path | str) -> tuple[bool, str]:
    """Return whether what a design rests on, a sheet or an answer, is the learner's own, and its words."""
    section, _, name = key.partition(".")
    if section not in plan.record:
        own = is_there(key, folder)
        return own, key if own else f"no {key} yet"
    name = plan.plain.decided.heeded(name)
    section = SECTIONS.get(name, section)
    label = section if name == "name" else label_of(name)
    return plan.record.is_own(f"{section}.{name}"), f"{label} {plan.record[section][name]}".replace("degC", "°C")


def whose(plan: Plan, part: str = "firing") -> str:
    """Say which of the decisions that a part of a plan rests on are the learner's own, and which are still invented.

    Parameters
    ----------
    plan : Plan
    part : str
        As for `limekit.Plan.rests_on`.
    """
    by: dict[str, list[str]] = {YOURS: [], EXAMPLES: [], KITS: []}
    for name in RESTS_ON[part]:
        if plan.plain.decided.heeded(name) == name:
            by[plan.whose(name)].append(label_of(name))
    yours, invented = (", ".join(by[owner]) for owner in (YOURS, EXAMPLES))
    if not yours:
        said = "Every figure that this rests on is the invented example's; none is yours yet."
    else:
        said = f"Yours: {yours}." + (f" Still the invented example's: {invented}." if invented else "")
    return " ".join((said, *plan.remarks))
