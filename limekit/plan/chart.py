"""The plan's chart for the kiln mouth: what thermometers and the pile of fuel are to say hour by hour, on paper."""

from __future__ import annotations

import math
from html import escape

import numpy as np

from limekit import tables
from limekit.facts import fact
from limekit.kiln.followers import told_by_place
from limekit.pictures.burn_chart import Panel, burn_chart
from limekit.pictures.pages import Page
from limekit.pictures.sheets import STYLE, table
from limekit.plan.figures import figures
from limekit.plan.worked import Worked
from limekit.records.printing import html_page
from limekit.safety import DEFER, caution_table
from limekit.stone.posterior import FIFTY, NINETY
from limekit.units import HOUR, MM, ZERO_CELSIUS

TITLE = "Burn chart"
PLACES = {"hearth": "In the hearth", "lower": "Lowest stones", "upper": "Topmost stones", "flue": "In the flue"}
MOST, OF_FUEL = 1200.0, 300.0  # °C, and the kg that the fuel's axis ends at a multiple of
POINTS, EVERY = 121, 2  # of a band; h to which the paper's end is rounded up
CAUTIONS = ("carbon_monoxide", "gas_signs", "heat", "fire", "long_fire", "closing")
STYLE_OF_CHART = "@page { size: A4 landscape; margin: 10mm; } body { max-width: 277mm; } section { break-after: page; }"


def burn_chart_of(plan: Worked) -> Page:
    """Return a plan's chart: what is expected in each place and of the fuel, with room to pencil in what is read.

    The bands hold one burn in two, by how real kilns lie about the plan in time, and places about the model in heat; a
    dot outside says look, not stop.
    """
    told, firing = figures(plan), plan.firing
    longer, spread = plan.learnt_hours
    ends = longer * spread**-FIFTY, longer * spread**FIFTY
    last = firing.firing_time * ends[1] / HOUR
    hours = np.linspace(0.0, EVERY * math.ceil(last / EVERY), POINTS)
    moments = np.append(0.0, firing.burn.moments.time)
    start = plan.decided.get("air_temperature")

    def band(values: np.ndarray, by: float = 1.0) -> tuple[np.ndarray, np.ndarray]:
        several = [by * np.interp(HOUR * hours / factor, moments, values) for factor in ends]
        return np.min(several, axis=0), np.max(several, axis=0)

    readings = told_by_place(firing.burn, PLACES)
    panels, error = [], fact("replay_error") * FIFTY / NINETY
    for place, words in PLACES.items():
        low, high = band(np.append(start, readings[place].mean(axis=1)) - ZERO_CELSIUS)
        panels.append(Panel(f"{words}, °C", np.maximum(low - error, 0.0), high + error, MOST))
    fed = np.append(0.0, firing.history.fed_by(moments[1:]))
    low, high = band(fed, plan.learnt_fuel.factor)
    most = OF_FUEL * math.ceil(float(high[-1]) / OF_FUEL)
    sinking = plan.design.sinking
    signs = (
        ("Sinking of the top", f"{MM * sinking.low:.0f} to {MM * sinking.high:.0f} mm by the finish", ""),
        ("Flame at the eyes", "long and smoky at first; short, clear and steady towards the end", ""),
        ("Test piece from the top", "slakes right through", ""),
    )
    advice = [row.values() for row in tables.rows("burn_advice")]
    heeded = map(caution_table().get, CAUTIONS)
    usual = "".join(f"<li><b>{escape(one.title)}.</b> {escape(one.text)}</li>" for one in heeded)
    words = (
        f"{told['stone'].words} of stone, {told['hours'].words} of fire ({told['hours'].ends}), "
        f"{told['fuel'].words} of fuel; fire to hold {told['fire_temperature'].words}."
    )
    body = f"""<section><h1>{TITLE}</h1><p>{escape(words)} Pencil a dot at every reading. Half of all burns run within
the grey; a dot outside says look, not stop. Lit on: <span class="write"></span> at: <span class="write"></span></p>
{burn_chart("heat", hours, panels, 64.0)}</section>
<section>{burn_chart("fuel", hours, [Panel("Fuel fed so far, kg", low, high, most)], 150.0)}
<h2>If your dots lie outside the band (common practice, no source)</h2>
{table("brief", ("What you see", "What to look at first"), advice, ("from",))}
<h2>Three signs, together, end a burn</h2>
{table("brief", ("Sign", "Done when", "Seen at hour"), signs, ("from", "from"))}</section>
<h2>Usual cautions</h2><ul class="usual">{usual}</ul><p>{escape(DEFER)}</p>"""
    sentence = f"Burn chart to print: bands by hour for four thermometers and the fuel. {words}"
    return Page(html_page(TITLE, STYLE + STYLE_OF_CHART, f"<main>{body}</main>"), sentence)
