"""A plan on paper: a page to fire from, then the kiln to build, whose figures they are and what they rest on."""

from __future__ import annotations

import datetime
import itertools
from html import escape

from limekit.errors import InputError
from limekit.estimate import Span, shown
from limekit.kiln.design import cautions
from limekit.pictures.pages import Page
from limekit.pictures.sheets import Chapter, chapter_html, glow, kiln_page
from limekit.plan.figures import figures
from limekit.plan.plan import Plan
from limekit.plan.worked import Worked
from limekit.records.roster import watches
from limekit.units import HOUR, MM, ZERO_CELSIUS

TITLE = "The plan of a burn"
MOVED = (  # by how much each is moved to see what the answer hangs on
    ("stone a quarter smaller", lambda plan: {"largest_stone": 0.75 * plan.kiln.largest_stone}),
    ("stone a quarter larger", lambda plan: {"largest_stone": 1.25 * plan.kiln.largest_stone}),
    ("fed a quarter slower", lambda plan: {"stoking_rate": 0.75 * plan.firing.plan.stoking_rate}),
    ("wetter wood, by a tenth", lambda plan: {"fuel_moisture": plan.fuel.moisture + 0.1}),
    ("a metre more of chimney", lambda plan: {"chimney_height": plan.kiln.chimney_height + 1.0}),
    ("a third more spare air", lambda plan: {"excess_air": 4.0 / 3.0 * plan.fire.excess_air}),
)
HANGS_ON = 4  # of these on the sheet
LIT = datetime.datetime(2000, 1, 1)  # a day like any other, to share turns out


def fire_by(plan: Worked) -> Chapter:
    """Return the figures to fire by, each with its range and what to do about it."""
    told, firing, wood = figures(plan), plan.firing, plan.forecast.fuel
    rawest = min(firing.places, key=lambda place: place.conversion)
    lowest = plan.schedule.turns[-1].lowest_stone
    asked = {
        "fire_temperature": f"as the fire gives it; seen through the mouth the lowest stones come to {glow(lowest)}",
        "hours": f"heating up and all; by {plan.own_and}real kilns of the size" if firing.finish else firing.verdict,
        "fuel": f"stack {wood.high:.0f} kg before lighting: what is left over keeps",
        "turns": plan.people.words,
        "people": "at the least, two at a time, so that everybody sleeps",
        "cooling_time": f"then draw, below {plan.cooling.draw_temperature - ZERO_CELSIUS:.0f} °C by a thermometer in "
        "the charge; never by the clock alone",
        "quicklime": f"{100 * (1.0 - firing.conversion):z.0f} % of the carbonate stays raw; the rawest lies at the "
        f"{rawest.part}{rawest.ring}, the {MM * rawest.size:.0f} mm stones, {100 * rawest.conversion:.0f} % burnt",
        "putty_volume": plan.putty.keeping.words,
    }
    rows = tuple((one.label.capitalize(), one.words, one.ends, asked.get(name, "")) for name, one in told.items())
    return Chapter("To fire by", ("What", "Plan", "May turn out", "Mind"), rows, "brief")


def turn_by_turn(plan: Worked) -> Chapter:
    """Return the wood turn by turn, what it should come to, and who keeps the fire."""
    people, turns = plan.people, plan.schedule.turns
    names = ("you", *(f"helper {number}" for number in range(1, people.people)))
    try:
        shared = watches.plain(LIT, plan.schedule.firing_time, names, people.watch_time).turns
        who = [" and ".join(turn.people) for turn in shared]
    except InputError:
        who = ["more people are wanted"] * len(turns)
    so_far = itertools.accumulate(turn.fuel for turn in turns)
    rows = tuple(
        (
            str(number),
            f"{turn.start / HOUR:.0f} to {turn.end / HOUR:.0f}",
            f"{turn.fuel:.0f} kg",
            f"{fed:.0f} kg",
            glow(turn.lowest_stone),
            f"{100 * turn.conversion:.0f} %",
            at_fire,
        )
        for number, (turn, fed, at_fire) in enumerate(zip(turns, so_far, who, strict=True), start=1)
    )
    headings = ("Turn", "Hours", "Fuel", "So far", "Lowest stones by its end", "Burnt", "At the fire")
    return Chapter("Fuel turn by turn, and who keeps it", headings, rows, "narrow")


def hangs_on(plan: Worked) -> Chapter:
    """Return what would change hours and fuel most, one thing moved at a time."""
    rows = []
    for words, moved in MOVED:
        try:
            after = plan.but(**moved(plan))
            done = after.firing.finish is not None
        except InputError:
            continue
        hours, fuel = (after.firing_time - plan.firing_time) / HOUR, after.fuel_fed - plan.fuel_fed
        rows.append((abs(hours), (words, f"{hours:+z.0f} h" if done else "never done", f"{fuel:+z.0f} kg")))
    most = tuple(row for _, row in sorted(rows, reverse=True)[:HANGS_ON])
    return Chapter("What would change it most", ("One thing changed", "Hours", "Fuel"), most, "brief")


def held_against(plan: Worked) -> Chapter:
    """Return what rules of thumb say of the same kiln."""
    hours, cooling, fuel = plan.design.rule_time, plan.design.cooling_time, plan.design.demand.fuel_mass
    rows = tuple(
        (
            what,
            f"{shown(by * rule.middle, 2)} {unit}",
            f"{shown(by * rule.low, 2)} to {shown(by * rule.high, 2)} {unit}",
            rest,
        )
        for what, rule, unit, by, rest in (
            ("firing in all", hours, "h", 1.0 / HOUR, "heating up, the largest stone and a soak"),
            ("fuel", fuel, "kg", 1.0, "heat of dissociation over the efficiency of such kilns"),
            ("cooling, closed", cooling, "h", 1.0 / HOUR, "by the kiln's width"),
        )
    )
    return Chapter("Held against rules of thumb, not to fire by", ("Rule", "Says", "May say", ""), rows, "brief")


def plan_sheet(plan: Plan) -> Page:
    """Return a plan on paper: a page to fire from; then drawings, what is built, whose figures, cautions, grounds."""
    worked = plan.plain
    remarks = "".join(f"<li>{escape(remark)}</li>" for remark in plan.remarks)
    first = "\n".join(chapter_html(of(worked)) for of in (fire_by, turn_by_turn, hangs_on, held_against))
    heed = f'<div class="heed"><ul>{remarks}</ul></div>' if remarks else ""
    whose = [(label, value, whose) for label, value, whose in plan.rests_on("people") if value != "–"]
    chapters = (Chapter("Whose figures these are", ("Decided or measured", "Is", "Whose"), tuple(whose)),)
    opening = f'{heed}{first}<div style="break-after: page"></div>'
    design, forecast = worked.design, worked.forecast
    hours = forecast.hours or Span(*[worked.firing_time] * 3)
    said = cautions(design.size, design.keeping, worked.firing, forecast.fuel, hours)
    html = kiln_page(design, chapters, design.building(), said, TITLE, opening)
    told = plan.figures
    return Page(
        html,
        f"The plan on paper: {told['stone'].words} of stone in a kiln {told['kiln_diameter'].words} across, fired for "
        f"{told['hours']} with {told['fuel']} of fuel, gives {told['quicklime'].words} of quicklime.",
    )
