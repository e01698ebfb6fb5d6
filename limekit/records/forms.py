"""Every sheet the course prints, by name: what is written down, and the cautions that belong to it."""

from __future__ import annotations

import html
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from limekit import tables
from limekit.errors import not_among
from limekit.records import files, printing
from limekit.records.burn_log import COLUMNS as BURN_LOG
from limekit.records.columns import Column
from limekit.records.printing import html_page
from limekit.records.sheets import STYLE, blank_sheet
from limekit.records.slaking_log import COLUMNS as SLAKING_LOG
from limekit.safety import DEFER, caution_table
from limekit.units import CubicMetre, Kelvin, Kilogram, KilogramPerCubicMetre, Metre, Share

CARD_STYLE = """
@page { size: A4 portrait; margin: 12mm; }
body { font-size: 10.5pt; }
ul { list-style: none; padding: 0; columns: 2; column-gap: 6mm; }
li { break-inside: avoid; border-top: 0.3mm solid #444; padding: 1.5mm 0; }
h1 { font-size: 18pt; margin: 0 0 2mm; }
h2 { font-size: 12pt; margin: 0; }
li p { margin: 0; }
"""


@dataclass(frozen=True)
class Form:
    """One sheet to print: its title, columns, blank rows with their height in mm, and the keys of its cautions.

    Columns named in `beside` stand on a second sheet, and with `rows_a_page` each sheet is a page of its own.
    """

    title: str
    columns: tuple[Column, ...]
    rows: int
    cautions: tuple[str, ...]
    row_height: int = 8
    upright: bool = False
    beside: tuple[str, ...] = ()
    rows_a_page: int = 0


FORMS = {
    "burn log": Form(
        "Burn log",
        BURN_LOG,
        48,
        ("carbon_monoxide", "gas_signs", "fire", "heat", "collapse", "closing", "long_fire"),
        beside=("lower_temperature", "middle_temperature", "test_piece", "sinking", "damper", "weather", "note"),
        row_height=9,
        rows_a_page=16,
    ),
    "slaking log": Form(
        "Slaking log: the test in the jar",
        SLAKING_LOG,
        22,
        ("boil_over", "quicklime_eyes", "quicklime_skin", "lime_dust"),
        upright=True,
    ),
    "slaking charges": Form(
        "Slaking, charge by charge",
        (
            Column("charge", required=True, about="its number, and the batch it is from"),
            Column("time", about="by the clock, as the lime goes in"),
            Column("lime_charge", Kilogram),
            Column("water", Kilogram),
            Column("water_temperature", Kelvin),
            Column("peak_temperature", Kelvin),
            Column("hottest at", about="by the clock"),
            Column("residue", Kilogram),
            Column("putty_density", KilogramPerCubicMetre),
            Column("putty_level", Metre),
            Column("note", about="slow, quick, boiling, lumps, colour"),
        ),
        10,
        ("boil_over", "quicklime_eyes", "quicklime_skin", "lime_dust", "aluminium", "children"),
    ),
    "mix": Form(
        "Mixes",
        (
            Column("mix", required=True, about="its name or number, and the batch of putty"),
            Column("date", about="mixed on"),
            Column("putty_volume", CubicMetre),
            Column("sand_volume", CubicMetre),
            Column("sand_voids", Share),
            Column("water_volume", CubicMetre),
            Column("place", about="where it was laid, and which way the wall looks"),
            Column("coat_thickness", Metre),
            Column("weather_temperature", Kelvin),
            Column("after a week", about="cracks, dusting, set to the touch"),
        ),
        12,
        ("quicklime_skin", "quicklime_eyes", "stone_dust", "electrics"),
    ),
    "incident": Form(
        "Incidents and near misses",
        (
            Column("when", required=True, about="date and clock"),
            Column("who", about="who was hurt, or might have been"),
            Column("what happened", required=True, about="what was seen, not whose fault it was"),
            Column("first aid", about="what was done, by whom, and when"),
            Column("help called", about="whom, and at what time"),
            Column("what is changed", about="so that it does not happen again"),
        ),
        5,
        ("quicklime_skin", "quicklime_eyes", "gas_signs"),
        row_height=20,
    ),
}
TRIAL, SAFETY_CARD, SAFETY_POSTER = "trial", "safety card", "safety poster"
STOPS = "work stops, lids on, fires closed."
CALLS = ("Emergency", "Poisons line", "Eye hospital", "First-aider", "Driver", "We are at")
POSTER_STYLE = """
.poster { font-size: 40pt; line-height: 1.12; break-inside: avoid; }
.poster p, .poster h2 { margin: 0 0 4mm; }
.poster h2 { font-size: 44pt; }
.poster .call { display: flex; gap: 4mm; align-items: end; margin: 0 0 3mm; }
.poster .call span { flex: 1; display: flex; align-items: end; min-height: 19mm; }
.poster .call span { border-bottom: 0.6mm solid #000; overflow-wrap: anywhere; }
.poster + .poster { break-before: page; }
"""


def sheet_names() -> tuple[str, ...]:
    """Return the names `sheet` knows."""
    return (TRIAL, *FORMS, SAFETY_CARD, SAFETY_POSTER)


def sheet(name: str) -> str:
    """Return one printed sheet as an HTML page for A4, with no script, and nothing fetched.

    Parameters
    ----------
    name : str
        One of `sheet_names()`.

    Raises
    ------
    InputError
        If there is no sheet of that name.

    Examples
    --------
    >>> "fuel fed [kg]" in sheet("burn log")
    True
    """
    if not isinstance(name, str) or name not in sheet_names():
        raise not_among(sheet_names(), "name of a sheet", name, 'sheet("{near}")')
    if name == TRIAL:
        return blank_sheet()
    if name == SAFETY_CARD:
        return _safety_card()
    if name == SAFETY_POSTER:
        return html_page("Safety poster", STYLE + CARD_STYLE + POSTER_STYLE, "\n".join(safety_poster({})))
    form = FORMS[name]
    usual = [caution_table()[key] for key in form.cautions]
    box = " ".join(f"{caution.title}." for caution in usual)
    asked = {name: getattr(form, name) for name in ("title", "rows", "row_height", "upright", "beside", "rows_a_page")}
    return blank_sheet(form.columns, caution=box, usual=tuple(usual), **asked)


def poster_words() -> dict[str, str]:
    """Return what a poster says of each danger: a caution of ``data/cautions.csv``, as short as it can be."""
    return {row["what"]: row["words"] for row in tables.rows("poster")}


def safety_poster(told: Mapping[str, str], then: str = "") -> tuple[str, str]:
    """Return the two pages of a poster to read from two metres, in HTML: what to do, and whom to ring.

    For what is not told of `CALLS` there is a line to write on; `then` is done besides when somebody is driven to
    hospital.

    Notes
    -----
    ISO 9241-3 wants capitals 16 minutes of arc high at the least: 9.3 mm from two metres.
    """
    do = "".join(f"<p><b>{html.escape(what)}:</b> {html.escape(words)}</p>" for what, words in poster_words().items())
    where = html.escape(told.get(CALLS[-1], ""))
    lines = [(call, html.escape(told.get(call, ""))) for call in CALLS[:-1]]
    lines += [] if where else [(CALLS[-1], ""), ("", ""), ("", "")]
    ring = "".join(f'<div class="call"><b>{call}</b><span>{words}</span></div>' for call, words in lines)
    ring += f"<p><b>{CALLS[-1]}:</b> {where}</p>" if where else ""
    ring += f"<p>{html.escape(then)}</p>" if then else ""
    return (
        f'<div class="poster"><h2>Lime burns and blinds</h2>{do}</div>',
        f'<div class="poster"><h2>Whom to ring</h2>{ring}</div>',
    )


def write_sheets(folder) -> list[Path]:
    """Write every blank sheet into a folder, made if it is not there, as PDF too where a browser can.

    Earlier versions are kept; returned is what was not there as it is now.
    """
    folder, written = files.folder(folder), []
    for name in sheet_names():
        path = folder / f"{name.replace(' ', '_')}.html"
        if files.write_whole(path, sheet(name).encode()):
            written.append(path)
            if printing.browser():
                written.append(printing.print_pdf(path, path.with_suffix(".pdf")))
    return written


def _safety_card() -> str:
    cautions = "\n".join(
        f"<li><h2>{html.escape(one.title)}</h2><p>{html.escape(one.text)}</p></li>" for one in caution_table().values()
    )
    card = f"""<h1>Before the fire is lit</h1>
<p class="caution">Emergency number: _______________ This place is: ______________________________</p>
<p>First-aider: _______________________ Eyewash and first-aid box: _______________________</p>
<p>Poisons line: _______________ Eye hospital: _______________ Driver: _______________________</p>
<ul>
{cautions}
</ul>
<p>{html.escape(DEFER)}</p>"""
    return html_page("Safety card", STYLE + CARD_STYLE, card)
