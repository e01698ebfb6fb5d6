"""The pack of a workshop: one file to print, from the plan, ``my_workshop.toml`` and the lessons' own minutes."""

from __future__ import annotations

import datetime
import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from pathlib import Path

from limekit.course.cards import my_plan
from limekit.course.folder import lessons
from limekit.course.lessons.the_workshop import dated
from limekit.course.pack_pages import PAGES
from limekit.course.pack_paper import STYLE, Sheet, grid, line, words
from limekit.course.programme import Programme
from limekit.records import files
from limekit.records.examples import example_path
from limekit.records.printing import PrintedPage, html_page
from limekit.records.workshop_file import EXAMPLE, read_workshop, write_workshop_example
from limekit.safety import DEFER
from limekit.units import HOUR

FILE, PACK = "my_workshop.toml", "workshop_pack.html"
NONE = "Nothing in the timetable contradicts anything else in it, as far as the kit looks."
INVENTED = "Invented example: the names and the place of my_workshop.toml are still the kit's own."
INVENTED_KILN = "The kiln is the invented example's, Ashlet Quarry."
FIGURES = ("stone", "kiln_diameter", "hours", "fuel", "cooling_time", "quicklime", "putty_volume")


@dataclass(frozen=True)
class Made:
    """What was written, and what contradicts what in it."""

    written: list[Path]
    contradictions: tuple[str, ...]


def write_pack(folder) -> Made:
    """Write the pack of the workshop that a folder's files tell of; a pack that was there is kept beside it.

    Parameters
    ----------
    folder : str or path-like
        Where there is no ``my_workshop.toml`` yet, an invented one is written there, to fill in.

    Raises
    ------
    RecordError
        With every fault of a file; then no pack is written.
    """
    folder = files.folder(folder)
    plan, path, written = my_plan(folder), folder / FILE, []
    if not path.exists():
        written.append(write_workshop_example(path, plan.calendar.weekend))
    programme = Programme(read_workshop(path), plan, lessons()[0].parent, datetime.date.today())
    pack = folder / PACK
    if files.write_whole(pack, pack_page(programme).encode()):
        written.append(pack)
    return Made(written, programme.contradictions)


def pack_page(programme: Programme) -> PrintedPage:
    """Return the whole pack as one page to print, black on white, on A4 or Letter."""
    sheets = [sheet for of in PAGES for sheet in of(programme)]
    mark = f". {INVENTED_KILN}" if programme.plan.record.is_example else ""
    body = "\n".join(
        f"<section><h2>{escape(sheet.title)}</h2>\n"
        f'<p class="from number">sheet {number} of {len(sheets) + 1}{mark}</p>{sheet.body}</section>'
        for number, sheet in enumerate(sheets, start=2)
    )
    return html_page("Workshop pack", STYLE, f"<main><header>{_cover(programme, sheets)}</header>\n{body}</main>")


def _cover(programme: Programme, sheets: Sequence[Sheet]) -> str:
    workshop, plan = programme.workshop, programme.plan
    first, last = (dated(day[0].start.date()) for day in (programme.days[0], programme.days[-1]))
    example = read_workshop(example_path(EXAMPLE))
    marks = [INVENTED] if (workshop.people, workshop.place) == (example.people, example.place) else []
    marks += [INVENTED_KILN] if plan.record.is_example else []
    found = programme.contradictions
    numbers = {
        "Emergency number": workshop.emergency_number,
        "Address": workshop.address,
        "Poisons line": workshop.poisons_line,
        "Eye hospital": workshop.eye_hospital,
    }
    people = {"first-aider": workshop.first_aider, "driver": workshop.driver}
    empty = ", ".join(name.lower() for name, told in (numbers | people).items() if not told)
    remarks = [*programme.remarks, *([f"Not told, to find out and fill in: {empty}."] if empty else [])]
    fits = (_listed("Put right before you print:", found) or words(NONE)) + _listed("See to it:", remarks)
    told, cooling = plan.figures, programme.known["cooling"]
    ends = {"cooling_time": f"{cooling.low / HOUR:.0f} to {cooling.high / HOUR:.0f} h"}
    figures = grid(
        ("The plan's kiln", "Plan", "May turn out"),
        [(told[name].label, told[name].words, told[name].ends or ends.get(name, "–")) for name in FIGURES],
        (30, 30, 40),
        "small",
    )
    contents = "".join(f"<li>{escape(sheet.title)}</li>" for sheet in sheets)
    cold = () if any(programme.cold_by in one for one in found) else (programme.cold_by,)
    of_plan = "".join(map(words, filter(None, (*cold, *plan.remarks))))
    place = f"{workshop.place}. " if workshop.place else ""
    who = f"{len(workshop.people)} learners, {len(workshop.teachers)} who teach. Ready: {workshop.ready}."
    return (
        f"<h1>Workshop pack</h1><p><b>{first} to {last}</b></p>{words(place + who)}"
        f"{''.join(f'<p><b>{mark}</b></p>' for mark in marks)}"
        f'<div class="heed">{fits}</div>{"".join(itertools.starmap(line, numbers.items()))}{figures}{of_plan}'
        f'<h3>In this pack, from the second page on</h3><ol class="contents small">{contents}</ol>'
        f"{words('The sheets to write on, and the safety card, are written by: python -m limekit sheets FOLDER')}"
        f"{words(DEFER)}"
    )


def _listed(title: str, told: Sequence[str]) -> str:
    rows = "".join(f"<li>{escape(one)}</li>" for one in told)
    return f"<p><b>{title}</b></p><ul>{rows}</ul>" if told else ""
