"""The pages of a workshop's pack that tell of things: what is bought, carried, weighed, labelled and run."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from html import escape

from limekit import tables
from limekit.course.ladder import lesson
from limekit.course.lessons.the_workshop import dated
from limekit.course.pack_paper import BOX, Pause, Sheet, grid, heed, line, paged, words
from limekit.course.programme import Programme
from limekit.dates import shifted
from limekit.estimate import shown
from limekit.facts import Fact, fact
from limekit.fire.fuel import fuels
from limekit.records.forms import poster_words
from limekit.records.roster import groups
from limekit.records.supplies import Item, lime_tins, materials, tools
from limekit.units import DAY

THINGS = 34  # rows a page
SPARE = 3  # empty rows for who comes besides
LABELS = 6
WEEK = 7 * DAY
HEAPS = ("good", "cored", "over-burnt", "fines", "ash (not weighed)")
BUCKETS = 6


def wanted(programme: Programme, of: Callable[[int, int], tuple[Item, ...]]) -> list[Item]:
    """Return the tools or the materials that this workshop's work wants, and that are brought to it."""
    workshop = programme.workshop
    more = [lime_tins(_drawn(programme)[-1])] if of is tools else []
    names = {row.piece.name for row in programme.by_hand}
    return [
        item
        for item in (*of(len(workshop.people), len(workshop.everybody) - len(workshop.people)), *more)
        if not (item.works and item.works.isdisjoint(names)) and item.brought in ("", *workshop.brought)
    ]


def _drawn(programme: Programme) -> list[float]:
    """Return the least, the likely and the most mass drawn from the plan's kiln, core and inert matter with it, kg."""
    drawn = programme.plan.plain.design.drawn
    return sorted((drawn.low, drawn.middle, drawn.high))


def _amount(item: Item) -> str:
    return f"{item.amount:g} {item.unit}".strip()


def _of_kiln(programme: Programme) -> list[tuple[str, str, float]]:
    """Return what a kiln lit on the day wants besides, which is carted and not carried in the van."""
    if programme.workshop.ready != "kiln lit":
        return []
    plan = programme.plan.plain
    stone, fuel = plan.design.stone.middle, plan.forecast.fuel.high
    return [
        ("stone for the kiln, broken to size", f"{shown(stone)} kg", stone),
        (f"{fuels()[plan.fuel.kind].label} for the kiln, dry, the most it may want", f"{shown(fuel)} kg", fuel),
    ]


def shopping(programme: Programme) -> Iterator[Sheet]:
    """Yield what is bought, with its weight, and room for prices and for what it costs each."""
    people = len(programme.workshop.people)
    own = "the kiln's own; carted there"
    bought = [(item.name, _amount(item), item.mass, item.why) for item in wanted(programme, materials)]
    bought += [(*told, own) for told in _of_kiln(programme)]
    rows = [(f"{BOX} {name}", amount, shown(mass, 2), "", "", why) for name, amount, mass, why in bought]
    rows += [(name, *[""] * 5) for name in (*[""] * SPARE, "in all", f"a head, of {people}")]
    headings = ("Buy or bring", "In all", "kg, about", "Price", "Cost", "What for")
    table = grid(headings, rows, (34, 14, 12, 14, 14, 48), "small tall")
    said = f"For {people} learners in {len(groups(people))} groups. Weights are round, common practice, no source."
    yield Sheet("Shopping list", words(said) + table)


def van(programme: Programme) -> Iterator[Sheet]:
    """Yield what goes into the van, trip by trip, to tick, with its weight."""
    load = programme.workshop.van_load
    trips = _trips([*wanted(programme, tools), *wanted(programme, materials)], load)
    masses = [sum(item.mass for item in trip) for trip in trips]
    basis = f"after {load.basis}: tell your own as van_load" if isinstance(load, Fact) else "as my_workshop.toml has it"
    count = f"{len(trips)} trips" if len(trips) > 1 else "one trip"
    said = (
        f"In all about {shown(sum(masses), 2)} kg, in {count}: the van may carry {load:.0f} kg beside who sits in it, "
        f"{basis}. The heaviest on the floor and over the axle; sand and water that are on the spot need no van."
    )
    if carted := sum(mass for *_, mass in _of_kiln(programme)):
        said += (
            f" The kiln's own stone and fuel, {shown(carted, 2)} kg, are carted: {math.ceil(carted / load)} such loads."
        )
    headings = ("Into the van", "Amount", "kg, about", "Ticked")
    for number, (trip, mass) in enumerate(zip(trips, masses, strict=True), start=1):
        rows = [(f"{BOX} {item.name}", _amount(item), shown(item.mass, 2), f"{BOX} out  {BOX} back") for item in trip]
        rows.append(Pause(("this trip", "", shown(mass, 2), "TOO HEAVY IN ONE PIECE" if round(mass, 3) > load else "")))
        title = f"Van list, trip {number} of {len(trips)}" if len(trips) > 1 else "Van list"
        yield from paged(title, headings, rows, (60, 18, 14, 30), THINGS, words(said) + heed("carrying_lime"))


def _trips(items: Iterable[Item], load: float) -> list[list[Item]]:
    """Return what each trip takes, in the order given, each full (kg) but for less than one piece, litre or kg."""
    trips, room = [[]], load
    for item in items:
        each, left = item.mass / item.amount, item.amount
        while left > 0:
            taken = left if left * each <= room else max(math.floor(room / each), 0)
            if not taken and trips[-1]:
                trips.append([])
                room = load
                continue
            taken = taken or min(left, 1.0)
            trips[-1].append(replace(item, amount=taken, mass=taken * each))
            left, room = left - taken, room - taken * each
    return trips


def to_draw(programme: Programme) -> str:
    """Return when a kiln that the timetable does not draw can be drawn, with lines for who does."""
    told = programme.to_draw
    return words(told) + line("Drawn on, by, and the other beside") if told else ""


def heaps(programme: Programme) -> Iterator[Sheet]:
    """Yield a sheet for the five heaps of a draw, with what the plan expects of them."""
    told, (least, likely, most) = programme.plan.figures, _drawn(programme)
    buckets = [(heap, *[""] * (BUCKETS + 1)) for heap in HEAPS]
    first = grid(("Heap, kg", *map(str, range(1, BUCKETS + 1)), "in all"), buckets, (26, *[14] * BUCKETS, 18), "tall")
    cores = [(str(number), "", "", "") for number in range(1, BUCKETS + 1)]
    second = grid(("Cored piece", "its core, mm", "its face, mm", "core over face"), cores, (20, 30, 30, 30), "tall")
    said = (
        f"Keep each bucket's weight and add up at the end; weigh on the day of the draw. The plan draws "
        f"{told['quicklime']} of quicklime from {told['stone'].words} of stone, if all is drawn and nothing is lost; "
        f"with core and what never was lime the heaps weigh {shown(likely)} kg ({shown(least)} to {shown(most)}). "
        f"Lesson {lesson('draw_and_sort').number} reads the burn from the totals and from the cores."
    )
    lines = (
        line("Which part of the kiln, drawn by") + line("Stone charged, kg") + line("To change next time, one thing")
    )
    yield Sheet(
        "Five heaps", words(said) + to_draw(programme) + lines + first + second + heed("lime_dust", "quicklime_eyes")
    )


def labels(programme: Programme) -> Iterator[Sheet]:
    """Yield labels for tubs: made, ready, whose."""
    slaked = next((row.start for row in programme.by_hand if row.piece.name == "slake"), None)
    made = dated(slaked.date()) if slaked else ""
    keeping = programme.plan.plain.putty.keeping
    ready = ""
    if slaked and keeping.as_putty:
        uses = {use: shifted(slaked, fact(f"maturing_{use}")) for use in ("mortar", "plaster")}
        ready = "; ".join(f"{use} {day:%d %b %Y}" for use, day in uses.items())
    known = {"Made": made, "Ready": ready, "Lime from": "", "Whose": ""}
    whose = "For lime like the plan's stone gives." if keeping.as_putty else "For bought lime alone. The plan's stone:"
    kept = "Keep it under water, lid on, away from children."
    yield _labels("tubs", f"{whose} {keeping.words}", "LIME PUTTY", known, kept)
    known = dict.fromkeys(("Burnt, or bought, on", "Lime from", "Weighs, kg", "Whose"), "")
    kept = "Keep dry, lid on, nothing that burns beside it, away from children. NEVER WATER on it or on its fire."
    said = "For every tin of drawn lime, of burnt pieces and of lime that is brought."
    yield _labels("tins", said, "QUICKLIME", known, kept)


def _labels(vessels: str, said: str, holds: str, known: Mapping[str, str], kept: str) -> Sheet:
    burns = f"Lime: burns eyes and skin. Goggles and gloves. Eye: {poster_words()['Eye']} {kept}"
    label = f'<div><b>{holds}</b>{"".join(itertools.starmap(line, known.items()))}<p class="small">{burns}</p></div>'
    return Sheet(f"Labels for {vessels}", words(said) + f'<div class="labels">{label * LABELS}</div>')


def machines(programme: Programme) -> Iterator[Sheet]:
    """Yield mixer, generator, sieve and scales: before, during and after."""
    before = dated(shifted(programme.workshop.first_day, -WEEK))
    said = f"Start them on {before}, a week ahead: a machine that fails then can still be mended or borrowed."
    parts = [words(said)]
    for machine, rows in itertools.groupby(tables.rows("machines"), key=lambda row: row["machine"]):
        told = [(row["when"], row["what"], row["wants"], BOX) for row in rows]
        table = grid(("When", "What", "What it wants", "Done"), told, (16, 70, 44, 10), "small")
        parts.append(f"<h3>{escape(machine.capitalize())}</h3>{table}")
    source = '<p class="from">Common practice, no source; the maker\'s own instructions come first.</p>'
    yield Sheet("Machines before, during and after", "".join(parts) + heed("electrics") + source)
