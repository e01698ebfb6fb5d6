"""Sheets on paper: a kiln's design with its figures, and the stokers' schedule."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import NamedTuple

from limekit import glossary
from limekit.estimate import tens
from limekit.facts import TAGS
from limekit.kiln.design import KilnDesign
from limekit.kiln.schedule import StokingSchedule
from limekit.kinds import guarded
from limekit.pictures.ground_plan import ground_plan_drawing
from limekit.pictures.looks import FONT, GRID, INK, MUTED
from limekit.pictures.section import section_drawing
from limekit.records.printing import html_page
from limekit.safety import DEFER, caution_table
from limekit.stone.glow import glow_colour
from limekit.units import HOUR, ZERO_CELSIUS

DESIGN_TITLE = "Design of a flare kiln"
DESIGN_CAUTIONS = (
    "quicklime_eyes",
    "quicklime_skin",
    "carbon_monoxide",
    "heat",
    "bursting_stone",
    "fire",
    "collapse",
    "hot_lime",
)
STYLE = f"""
@page {{ size: A4 portrait; margin: 10mm; }}
body {{ font: 10pt/1.35 {FONT}; color: {INK}; max-width: 190mm; margin: 6mm auto; }}
h1 {{ font-size: 18pt; margin: 0; }}
h2 {{ font-size: 12.5pt; margin: 5mm 0 1.5mm; break-after: avoid; }}
p {{ margin: 1mm 0 2mm; }}
svg {{ display: block; width: 100%; height: auto; break-inside: avoid; }}
table {{ border-collapse: collapse; width: 100%; }}
th, td {{ text-align: left; vertical-align: top; padding: 0.6mm 3mm 0.6mm 0; border-bottom: 0.25mm solid {GRID}; }}
thead th {{ border-bottom: 0.5mm solid {INK}; font-size: 9pt; }}
thead {{ display: table-header-group; }}
table, tr, .usual {{ break-inside: avoid; }}
tbody th {{ font-weight: normal; }}
.figure {{ font-weight: bold; }}
td.spread, td.known {{ white-space: nowrap; }}
.figures th, .figures td {{ padding-block: 0.35mm; }}
.figures th:first-child {{ width: 28%; }}
.figures td.figure {{ width: 27%; }}
.brief th:first-child {{ width: 24%; }}
.brief td.figure, .narrow td.figure {{ width: 13%; }}
.narrow th:first-child {{ width: 6%; }}
.brief td, .narrow td {{ padding-block: 0.3mm; }}
.brief td:nth-child(3), .narrow td {{ white-space: nowrap; }}
.figure, .spread {{ font-variant-numeric: tabular-nums; }}
.basis {{ font-size: 8pt; line-height: 1.2; }}
.basis th, .basis td {{ padding-block: 0.2mm; }}
.basis th:first-child {{ width: 31%; }}
.from {{ font-size: 8pt; color: {MUTED}; }}
.heed {{ border: 0.6mm solid {INK}; padding: 2mm 3mm; break-inside: avoid; }}
ul {{ margin: 0; padding-left: 5mm; }}
li {{ margin-bottom: 1mm; break-inside: avoid; }}
.usual {{ columns: 2; column-gap: 7mm; }}
.write {{ border-bottom: 0.25mm solid {INK}; display: inline-block; width: 42mm; }}
@media print {{ body {{ margin: 0; }} }}
"""
STOKERS_CAUTIONS = (
    "carbon_monoxide",
    "gas_signs",
    "long_fire",
    "heat",
    "bursting_stone",
    "collapse",
    "closing",
    "fire",
)
STOKERS_TITLE = "Stokers' schedule"
HEADINGS = (
    "Turn",
    "Hours",
    "Fuel an hour",
    "In the turn",
    "So far",
    "Lowest stones by its end",
    "Topmost stones",
    "Burnt",
    "Fuel fed",
    "Glow seen",
    "Who",
)
WRITTEN = 3  # of the columns, by hand: the last
STOKERS_STYLE = f"""
@page {{ size: A4 landscape; margin: 10mm; }}
body {{ max-width: 277mm; font-size: 9.5pt; line-height: 1.25; }}
h2 {{ margin-top: 3mm; }}
.usual {{ columns: 3; font-size: 8.5pt; }}
.turns td, .turns th {{ padding-top: 1.6mm; padding-bottom: 1.6mm; border-right: 0.15mm solid {GRID}; }}
.turns .own {{ width: 24mm; }}
"""


def table(kind: str, headings: Sequence[str], rows, looks: Sequence[str]) -> str:
    """Return rows of words as a table of HTML; `looks` are the classes of their cells after the first."""
    head = "".join(f'<th scope="col">{escape(heading)}</th>' for heading in headings)
    body = "\n".join(
        f'<tr><th scope="row">{escape(first)}</th>'
        + "".join(
            (f'<td class="{look}">' if look else "<td>") + f"{escape(cell)}</td>"
            for cell, look in zip(rest, looks, strict=True)
        )
        + "</tr>"
        for first, *rest in rows
    )
    return f'<table class="{kind}"><thead><tr>{head}</tr></thead>\n<tbody>\n{body}\n</tbody></table>'


def _grounds(design: KilnDesign):
    known = glossary.entries()
    for ground in dict.fromkeys(design.basis):
        name = known[ground.name].label if ground.name in known else ground.name
        source = ground.source.replace(f" ({TAGS['practice']})", "").removeprefix("common practice, ")
        yield name, _pretty(ground.value), ground.kind, source


def _pretty(printed: str) -> str:
    for plain, pretty in (("tonne", "t"), ("^2", "²"), ("^3", "³"), ("deg", "°"), ("delta_", "")):
        printed = printed.replace(plain, pretty)
    return printed


class Chapter(NamedTuple):
    """A table more on a design's page: its title, its headings and its rows of words."""

    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    kind: str = "figures"


def chapter_html(chapter: Chapter) -> str:
    """Return a chapter as HTML."""
    looks = ("figure", *["from"] * len(chapter.headings))[: len(chapter.headings) - 1]
    return f"<h2>{escape(chapter.title)}</h2>\n{table(chapter.kind, chapter.headings, chapter.rows, looks)}"


@guarded
def design_sheet(design: KilnDesign, chapters: tuple[Chapter, ...] = ()) -> str:
    """Return a design as one HTML page, to read on a screen or print on A4.

    Parameters
    ----------
    design : KilnDesign
        From `design_kiln`.
    chapters : tuple of Chapter
        What else belongs on it, after the figures.

    Returns
    -------
    str
        A whole page that fetches nothing: section and plan, every figure with its range and what it
        rests on, cautions, and the basis of the whole.
    """
    return kiln_page(design, chapters, design.rows(), design.cautions)


def kiln_page(design: KilnDesign, chapters, rows, cautions, title: str = DESIGN_TITLE, opening: str = "") -> str:
    """Return the page of `design_sheet` with rows, cautions and a title of its own, after an opening in HTML."""
    usual = "\n".join(
        f"<li><b>{escape(one.title)}.</b> {escape(one.text)}</li>" for one in map(caution_table().get, DESIGN_CAUTIONS)
    )
    own = "\n".join(f"<li>{escape(caution).replace(' %', '&nbsp;%')}</li>" for caution in cautions)
    headings = ("What", "Figure to plan with", "May turn out", "Rests on")
    figures = table("figures", headings, rows, ("figure", "spread", "from"))
    basis = table("basis", ("What", "Value", "How known", "From where"), _grounds(design), ("known", "known", "from"))
    more = "\n".join(map(chapter_html, chapters))
    write = " ".join(f'{word}: <span class="write">&nbsp;</span>' for word in ("Place", "Date", "Drawn up by"))
    sheet = f"""<main>
<h1>{escape(title)}</h1>
<p>{write}</p>
{opening}
{section_drawing(design.size)}
{ground_plan_drawing(design.size)}
<h2>Before you build or light it</h2>
<div class="heed"><ul>
{own}
<li>{escape(DEFER)} Walls and arches are built, and looked over, by people licensed or practised in it.</li>
</ul></div>
<h2>The figures, each with its range</h2>
{figures}
{more}
<h2>Usual cautions</h2>
<ul class="usual">
{usual}
</ul>
<h2>What the figures rest on</h2>
{basis}
</main>"""
    return html_page(title, STYLE, sheet)


def glow(kelvin: float) -> str:
    """Say a temperature to the nearest ten degrees, with the glow a table has for it."""
    seen = glow_colour.plain(kelvin)["stirling_1905"]
    return f"{tens(kelvin - ZERO_CELSIUS)} °C" + ("" if seen.startswith("below") else f", {seen}")


def stokers_sheet(schedule: StokingSchedule, fuel: str, people: str) -> str:
    """Return a schedule (plain SI floats) as one HTML page that fetches nothing, to print on A4 lying on its side.

    What is fed, and who feeds it, is told in words.
    """
    rows, so_far = [], 0.0
    for number, turn in enumerate(schedule.turns, start=1):
        so_far += turn.fuel
        told = (
            f"{number}",
            f"{turn.start / HOUR:.0f} to {turn.end / HOUR:.0f}",
            f"{turn.rate * HOUR:.0f} kg",
            f"{turn.fuel:.0f} kg",
            f"{so_far:.0f} kg",
            glow(turn.lowest_stone),
            glow(turn.highest_stone),
            f"{100 * turn.conversion:.0f} %",
        )
        rows.append((*told, *[""] * WRITTEN))
    looks = [""] * (len(HEADINGS) - WRITTEN - 1) + ["own"] * WRITTEN
    usual = "\n".join(
        f"<li><b>{escape(one.title)}.</b> {escape(one.text)}</li>" for one in map(caution_table().get, STOKERS_CAUTIONS)
    )
    line = '<span class="write">&nbsp;</span>'
    sheet = f"""<main>
<h1>{STOKERS_TITLE}</h1>
<p>{escape(fuel[:1].upper() + fuel[1:])}, {schedule.fuel_used:.0f} kg in {schedule.firing_time / HOUR:.0f} hours, as the
fired model has it. Feed little and often. Where the kiln and this sheet differ, the kiln is right: write down what
you see. Place: {line} Lit on: {line} at: {line}</p>
{table("turns", HEADINGS, rows, looks)}
<p>{escape(people)} Nobody alone, and everybody sleeps. Plan for longer hours.</p>
<p class="from">Glow by Stirling's table of 1905, seen in shade; tables differ by 200 °C and more.</p>
<h2>Usual cautions</h2>
<ul class="usual">
{usual}
</ul>
<p>{escape(DEFER)}</p>
</main>"""
    return html_page(STOKERS_TITLE, f"{STYLE}{STOKERS_STYLE}", sheet)
