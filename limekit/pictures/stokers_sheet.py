"""The stokers' schedule on paper: each turn's hours and fuel, what it should see, and room to write what it did."""

from __future__ import annotations

from html import escape

from limekit.estimate import tens
from limekit.kiln.schedule import StokingSchedule
from limekit.pictures.design_sheet import STYLE
from limekit.records.printing import html_page
from limekit.records.roster import people_to_watch
from limekit.safety import DEFER, caution_table
from limekit.stone.glow import glow_colour
from limekit.units import HOUR, ZERO_CELSIUS

CAUTIONS = ("carbon_monoxide", "gas_signs", "long_fire", "heat", "bursting_stone", "collapse", "closing", "fire")
TITLE = "Stokers' schedule"
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
OWN = """
@page { size: A4 landscape; margin: 10mm; }
body { max-width: 277mm; }
.turns td, .turns th { padding-top: 1.6mm; padding-bottom: 1.6mm; border-right: 0.15mm solid #dedad2; }
.turns .own { width: 24mm; }
"""


def _glow(kelvin: float) -> str:
    seen = glow_colour.plain(kelvin)["stirling_1905"]
    return f"{tens(kelvin - ZERO_CELSIUS)} °C" + ("" if seen.startswith("below") else f", {seen}")


def stokers_sheet(schedule: StokingSchedule, fuel: str) -> str:
    """Return a schedule as one HTML page, to print on A4 lying on its side.

    Parameters
    ----------
    schedule : StokingSchedule
        From `limekit.stoking_schedule`, in plain SI floats.
    fuel : str
        In words.

    Returns
    -------
    str
        A whole page that fetches nothing.
    """
    rows, so_far = [], 0.0
    for number, turn in enumerate(schedule.turns, start=1):
        so_far += turn.fuel
        cells = (
            f"{turn.start / HOUR:.0f} to {turn.end / HOUR:.0f}",
            f"{turn.rate * HOUR:.0f} kg",
            f"{turn.fuel:.0f} kg",
            f"{so_far:.0f} kg",
            _glow(turn.lowest_stone),
            _glow(turn.highest_stone),
            f"{100 * turn.conversion:.0f} %",
        )
        blank = '<td class="own"></td>' * 3
        rows.append(
            f'<tr><th scope="row">{number}</th>'
            + "".join(f"<td>{escape(cell)}</td>" for cell in cells)
            + blank
            + "</tr>"
        )
    head = "".join(f'<th scope="col">{escape(heading)}</th>' for heading in HEADINGS)
    usual = "\n".join(
        f"<li><b>{escape(one.title)}.</b> {escape(one.text)}</li>" for one in map(caution_table().get, CAUTIONS)
    )
    people = people_to_watch.plain(schedule.firing_time)
    line = '<span class="write">&nbsp;</span>'
    sheet = f"""<main>
<h1>{TITLE}</h1>
<p>{escape(fuel[:1].upper() + fuel[1:])}, {schedule.fuel_used:.0f} kg in {schedule.firing_time / HOUR:.0f} hours, as the
fired model has it. Feed little and often. Where the kiln and this sheet differ, the kiln is right: write down what
you see. Place: {line} Lit on: {line} at: {line}</p>
<table class="turns"><thead><tr>{head}</tr></thead>
<tbody>
{chr(10).join(rows)}
</tbody></table>
<p>Two at a time, and nobody alone: {people} people at the least, so that everybody sleeps. Plan for longer hours.</p>
<p class="from">Glow by Stirling's table of 1905, seen in shade; tables differ by 200 °C and more.</p>
<h2>Usual cautions</h2>
<ul class="usual">
{usual}
</ul>
<p>{escape(DEFER)}</p>
</main>"""
    return html_page(TITLE, f"{STYLE}{OWN}", sheet)
