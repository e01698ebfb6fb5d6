"""The pages of a workshop's pack, each a function of its programme that returns one sheet or several."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator
from html import escape

from limekit import tables
from limekit.chemistry import loss_on_ignition
from limekit.course.lessons.the_workshop import dated, to_ask
from limekit.course.pack_paper import BOX, Sheet, grid, heed, in_pages, line, words
from limekit.course.programme import Programme, Row
from limekit.dates import shifted
from limekit.estimate import shown
from limekit.facts import fact
from limekit.fire.fuel import fuels
from limekit.pictures.yard import Yard, distances, room_drawing, yard_drawing
from limekit.records.forms import CALLS, safety_poster
from limekit.records.roster import groups
from limekit.records.supplies import Item, group_slaking, materials, tools
from limekit.safety import DEFER, caution_table
from limekit.units import DAY, HOUR, LITRES, MINUTE

TURNS, RISKS, PEOPLE, THINGS, QUESTIONS = 13, 7, 20, 34, 20  # rows a page
SPARE = 3  # empty rows for who comes besides
LABELS = 6
WEEK = 7 * DAY
ONLY_OF_A_KILN = ("long_fire", "collapse", "closing", "kiln_wall")
SEVERAL_VESSELS, FEW_VESSELS, SEVERAL_ROWS = 4, 3, 4  # columns of the roster, and its rows where they are many
HEAPS = ("good", "cored", "over-burnt", "fines", "ash (not weighed)")
BUCKETS = 6


def timetable(programme: Programme) -> Iterator[Sheet]:
    """Yield one day on a page, by the clock."""
    headings = ("When", "What", "Who leads", "Take care")
    for number, rows in enumerate(programme.days, start=1):
        told, pauses = [], []
        for place, row in enumerate(rows):
            if row.piece is None:
                pauses.append(place)
            told.append((_hours(row), _what(row), ", ".join(row.people[:1]), _care(row)))
        table = grid(headings, told, (21, 52, 16, 38), "clock", pauses)
        names = ", ".join(row.piece.name for row in rows if row.piece)
        note = (
            f"Rows by name, as swap and leave_out in my_workshop.toml have them: {names}. Minutes of work by hand, and "
            "how long a fire takes to come to colour and stones to cool: common practice, no source."
        )
        watch = [turn for turn in programme.watch if turn.start.date() == rows[0].start.date()]
        turns = ", ".join(f"{turn.start:%H:%M} {' and '.join(turn.people)}" for turn in watch)
        at_fire = words(f"At the kiln from: {turns}.") if turns else ""
        day = dated(rows[0].start.date())
        yield Sheet(f"Day {number}: {day}", table + at_fire + f'<p class="from">{escape(note)}</p>')


def _hours(row: Row) -> str:
    return f"{row.start:%H:%M} to {row.end:%H:%M}"


def _what(row: Row) -> str:
    return row.piece.title if row.piece else row.what


def _care(row: Row) -> str:
    keys = row.piece.work.cautions if row.piece and row.piece.work else ()
    return ". ".join(caution_table()[key].title for key in keys)


def by_hand(programme: Programme) -> list[Row]:
    """Return the rows that are work by hand."""
    return [row for day in programme.days for row in day if row.piece and row.piece.work]


def roster(programme: Programme) -> Iterator[Sheet]:
    """Yield names for every vessel and every fire."""
    workshop, rows = programme.workshop, by_hand(programme)
    count = max((len(row.teams) for row in rows), default=0)
    roles = line("First-aider", workshop.first_aider) + line("Driver to hospital, awake", workshop.driver)
    roles += line("Leads the days", workshop.teachers[0])
    first = "The first named at a vessel leads it where a teacher is free; else one teacher walks between two."
    beside = ""
    if any(row.piece.name == "light_trial" for row in rows):
        two = " and ".join(workshop.everybody[-int(fact("watch_people_least")) :])
        beside = words(f"Beside the trial fire over the pause, and eating before or after: {two}.")
    most = len(rows) if count <= FEW_VESSELS else SEVERAL_ROWS
    for begin in range(0, max(count, 1), SEVERAL_VESSELS):
        spots = range(begin, min(begin + SEVERAL_VESSELS, count))
        headings = ("When", "Work", *(f"Vessel or fire {spot + 1}" for spot in spots), "At the kiln, or asleep")
        told = [
            (
                f"{row.start:%a %H:%M}",
                row.piece.name.replace("_", " "),
                *(", ".join(row.teams[spot]) if spot < len(row.teams) else "–" for spot in spots),
                ", ".join(programme.away(row)) or "–",
            )
            for row in rows
        ]
        named = f"vessels {begin + 1} to {spots.stop}" if count > SEVERAL_VESSELS else ""
        for title, part in in_pages(", ".join(filter(None, ("Who works where", named))), told, most):
            table = grid(headings, part, (11, 15, *(24 for _ in spots), 22), "small")
            yield Sheet(title, (roles + words(first) if part[0] is told[0] and not begin else "") + table + beside)


def watch(programme: Programme) -> Iterator[Sheet]:
    """Yield names for every watch, while the kiln burns and while it cools; nothing where none is lit on the day."""
    if programme.workshop.ready != "kiln lit":
        return
    headings = ("Turn", "From", "To", "The kiln", "At the kiln", "Relieved at, by")
    turns = [
        (
            str(number),
            f"{turn.start:%a %d %b %H:%M}",
            f"{turn.end:%a %d %b %H:%M}",
            "burns" if turn.start < programme.closed else "cools, closed",
            " and ".join(turn.people),
            "",
        )
        for number, turn in enumerate(programme.watch, start=1)
    ]
    for title, rows in in_pages("Watch at the kiln", turns or [("", "", "", "", "", "")] * TURNS, TURNS):
        said = "The timetable lights no kiln." if programme.lit is None else _watch_words(programme)
        yield Sheet(title, words(said) + grid(headings, rows, (8, 22, 22, 18, 32, 22), "small") + heed("gas_signs"))


def _watch_words(programme: Programme) -> str:
    burns, cools = (programme.known[step].high / HOUR for step in ("burn", "cooling"))
    rest, day = fact("watch_rest_least") / HOUR, DAY / HOUR
    return (
        f"Lit on {programme.lit:%A at %H:%M}. The turns run for the longest the kiln may burn ({burns:.0f} h, by the "
        f"plan) and the longest it may cool ({cools:.0f} h): strike out what is not wanted. Nobody alone, and "
        f"everybody sleeps {rest:.0f} hours on end in every {day:.0f}: who could not is let off work by hand. The kiln "
        f"is drawn from {dated(programme.drawn_from.date())} on, and not before it is cold."
    )


def wanted(programme: Programme, of: Callable[[int], tuple[Item, ...]]) -> list[Item]:
    """Return the tools or the materials that this workshop's work wants, and that are brought to it."""
    names = {row.piece.name for row in by_hand(programme)}
    return [
        item
        for item in of(len(programme.workshop.people))
        if not (item.works and item.works.isdisjoint(names)) and item.brought in ("", *programme.workshop.brought)
    ]


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
    rows = [(item.name, _amount(item), f"{shown(item.mass, 2)}", item.why) for item in wanted(programme, materials)]
    rows += [
        (name, amount, shown(mass, 2), "the kiln's own; carted there") for name, amount, mass in _of_kiln(programme)
    ]
    told = [(f"{BOX} {name}", amount, mass, "", "", why) for name, amount, mass, why in rows]
    more = [
        *[("", "", "", "", "", "")] * SPARE,
        ("in all", "", "", "", "", ""),
        (f"a head, of {people}", "", "", "", "", ""),
    ]
    headings = ("Buy or bring", "In all", "kg, about", "Price", "Cost", "What for")
    table = grid(headings, [*told, *more], (34, 14, 12, 14, 14, 48), "small tall")
    said = f"For {people} learners in {len(groups(people))} groups. Weights are round, common practice, no source."
    yield Sheet("Shopping list", words(said) + table)


def van(programme: Programme) -> Iterator[Sheet]:
    """Yield what goes into the van, to tick, with its weight, and how many trips."""
    workshop = programme.workshop
    items = (*wanted(programme, tools), *wanted(programme, materials))
    mass = sum(item.mass for item in items)
    rows = [(f"{BOX} {item.name}", _amount(item), shown(item.mass, 2), f"{BOX} out  {BOX} back") for item in items]
    said = f"In all about {shown(mass, 2)} kg, and what people carry themselves comes on top."
    if workshop.van_load:
        trips = math.ceil(mass / workshop.van_load)
        said += f" The van may carry {workshop.van_load:.0f} kg: {trips} {'trips' if trips > 1 else 'trip'}"
        said += (
            ", the heaviest on the floor and over the axle." if trips == 1 else ", or have sand and water on the spot."
        )
    headings = ("Into the van", "In all", "kg, about", "Ticked")
    for title, part in in_pages("Van list", rows, THINGS):
        ends = words(said) + heed("carrying_lime") if part[0] is rows[0] else words(said)
        yield Sheet(title, ends + grid(headings, part, (60, 18, 14, 30), "small"))


def questions(programme: Programme) -> Iterator[Sheet]:
    """Yield what is asked before a fire is lit, and by when."""
    day = (
        programme.lit.date()
        if programme.workshop.ready == "kiln lit" and programme.lit
        else programme.workshop.first_day
    )
    rows = [(when, ask, no, "") for when, ask, no in to_ask(day).rows]
    said = f"For the fire of {dated(day)}. Every question is put so that no is the answer that stops you."
    for title, part in in_pages("Questions before a burn", rows, QUESTIONS):
        table = grid(("Ask on", "Ask", "If the answer is no", "Yes: who asked, when"), part, (24, 56, 44, 30), "small")
        yield Sheet(title, words(said) + table)


def risks(programme: Programme) -> Iterator[Sheet]:
    """Yield every usual caution as a hazard, with room for who may be hurt, what is done here, and who sees to it."""
    left_out = ONLY_OF_A_KILN if programme.workshop.ready == "trial only" else ()
    hazards = [one for one in caution_table().values() if one.key not in left_out]
    headings = ("Hazard", "What is usually done", "Who may be hurt", "What is done here", "Who sees to it")
    for title, part in in_pages("Risk assessment", hazards, RISKS):
        rows = [(one.title, one.text, "", "", "") for one in part]
        yield Sheet(title, words(DEFER) + grid(headings, rows, (22, 66, 24, 36, 20), "small"))


def sign_in(programme: Programme) -> Iterator[Sheet]:
    """Yield who is there on which day, and whom to ring for each."""
    days = [f"{rows[0].start:%a} in, out" for rows in programme.days]
    headings = ("Name", "In an emergency ring", "Number", *days, "Heard the safety card")
    blank = ("",) * (len(headings) - 1)
    rows = [(name, *blank) for name in (*programme.workshop.everybody, *[""] * SPARE)]
    said = (
        "What somebody's health asks for is told to the first-aider alone, and not written here. Keep this sheet with "
        "the telephone, and burn it when everybody is home."
    )
    for title, part in in_pages("Sign in", rows, PEOPLE):
        yield Sheet(title, words(said) + grid(headings, part, (30, 34, 28, *(20 for _ in days), 26), "tall"))


def yard(programme: Programme) -> Iterator[Sheet]:
    """Yield room and yard in plan, and the distances that stand in it."""
    slaking, kiln = group_slaking(), programme.plan.plain.kiln
    count = len(groups(len(programme.workshop.people)))
    width = (4.0 * slaking.vessel_volume / math.pi) ** (1.0 / 3.0)
    hearths = count if any(row.piece.name == "light_trial" for row in by_hand(programme)) else 0
    has_kiln = programme.workshop.ready != "trial only"
    size = (kiln.outer_diameter, kiln.kiln_height + kiln.chimney_height) if has_kiln else (0.0, 0.0)
    drawn = Yard(count, width, hearths if has_kiln else count, *size)
    absent = [end for end, is_there in (("_kiln", has_kiln), ("_hearth", drawn.hearths)) if not is_there]
    vessel = f"{slaking.vessel_volume * LITRES:.0f} L, {100 * width:.0f} cm across and as tall"
    said = f"{count} slaking vessels of {vessel}."
    if has_kiln:
        said += f" The plan's kiln is {size[0]:.1f} m across outside and, its chimney with it, {size[1]:.1f} m high."
    if drawn.hearths:
        said += " A trial hearth for each group."
    yield Sheet("Yard and room", words(said) + yard_drawing(drawn) + room_drawing(drawn))
    rows = [
        (one.what, f"at {one.bound} {one.metres:.1f} m", ". ".join(filter(None, (one.basis, one.note))), "")
        for one in distances().values()
        if not one.key.endswith(tuple(absent))
    ]
    table = grid(("What from what", "How far", "Rests on", "Here"), rows, (50, 22, 58, 22), "small")
    place = words(f"Place: {programme.workshop.place}") if programme.workshop.place else line("Place")
    lines = "".join(
        line(asked)
        for asked in (
            "Where the wind comes from, as a rule",
            "Nearest house, road, hedge and dry growth, in metres",
            "Water that runs, and how far",
            "Where people meet if everybody must leave",
            "Where a telephone works",
        )
    )
    yield Sheet("Distances in the yard", place + table + words(DEFER) + "<h3>On the spot</h3>" + lines)


def wet_day(programme: Programme) -> Iterator[Sheet]:
    """Yield what is done where it rains, row by row."""
    rows = [(f"{row.start:%a %H:%M}", row.what, row.piece.work.wet, "") for row in by_hand(programme)]
    table = grid(("When", "Planned", "If it rains", "Decided by, at"), rows, (14, 52, 52, 22), "small")
    lines = line("Who decides, and by when on the evening before") + line("How everybody is told")
    yield Sheet("Wet-day plan", table + lines + heed("storing_lime", "electrics"))


def heaps(programme: Programme) -> Iterator[Sheet]:
    """Yield a sheet for the five heaps of a draw, with what the plan expects of them."""
    told = programme.plan.figures
    buckets = [(heap, *[""] * (BUCKETS + 1)) for heap in HEAPS]
    first = grid(("Heap, kg", *map(str, range(1, BUCKETS + 1)), "in all"), buckets, (26, *[14] * BUCKETS, 18), "tall")
    cores = [(str(number), "", "", "") for number in range(1, BUCKETS + 1)]
    second = grid(("Cored piece", "its core, mm", "its face, mm", "core over face"), cores, (20, 30, 30, 30), "tall")
    said = (
        f"Keep each bucket's weight and add up at the end; weigh on the day of the draw. The plan draws "
        f"{told['quicklime']} of quicklime from {told['stone'].words} of stone, if all is drawn and nothing is lost. "
        "Lesson 12 reads the burn from the totals and from the cores."
    )
    lines = (
        line("Which part of the kiln, drawn by") + line("Stone charged, kg") + line("To change next time, one thing")
    )
    yield Sheet("Five heaps", words(said) + lines + first + second + heed("lime_dust", "quicklime_eyes"))


def labels(programme: Programme) -> Iterator[Sheet]:
    """Yield labels for tubs: made, ready, whose."""
    slaked = next((row.start for row in by_hand(programme) if row.piece.name == "slake"), None)
    made = dated(slaked.date()) if slaked else ""
    keeping = programme.plan.plain.putty.keeping
    ready = ""
    if slaked and keeping.as_putty:
        uses = {use: shifted(slaked, fact(f"maturing_{use}")) for use in ("mortar", "plaster")}
        ready = "; ".join(f"{use} {day:%d %b %Y}" for use, day in uses.items())
    lines = "".join(line(*one) for one in (("Made", made), ("Ready", ready), ("Lime from", ""), ("Whose", "")))
    burns = "Lime: burns eyes and skin. Goggles and gloves. In the eye: rinse 20 minutes, then a doctor."
    kept = "Keep it under water, lid on, away from children."
    label = f'<div><b>LIME PUTTY</b>{lines}<p class="small">{burns} {kept}</p></div>'
    said = "For lime like the plan's stone gives. " + keeping.words
    yield Sheet("Labels for tubs", words(said) + f'<div class="labels">{label * LABELS}</div>')


def take_home(programme: Programme) -> Iterator[Sheet]:
    """Yield a page that each learner fills in with figures of their own, and takes home."""
    plan, told = programme.plan.plain, programme.plan.figures
    stone = plan.stone
    loss = loss_on_ignition.plain(stone.calcium_carbonate, stone.magnesium_carbonate)
    slaking = group_slaking()
    mine = (
        ("my stone, dry, before the fire [g]", "", ""),
        ("the same after it [g]", "", ""),
        ("lost: (before − after) / before [%]", "", f"{100 * loss:.1f} % if the plan's stone burns through"),
        ("burnt: lost / lost by a stone burnt through [%]", "", ""),
        ("hour at full colour, the glow I saw", "", told["fire_temperature"].words + " in the plan's fire"),
        ("core left, mm across, of a piece of ... mm", "", ""),
        ("lime slaked, kg, in water, kg", "", f"{slaking.lime_charge:g} kg in {slaking.water:g} kg, a group"),
        (
            "water before; hottest, after how many minutes [°C, min]",
            "",
            f"{slaking.plan.slaking_time / MINUTE:.0f} minutes in all",
        ),
        ("sand's voids [%]", "", ""),
        (
            "putty to sand in my panel, by volume",
            "",
            f"1 to {shown(plan.mortar.mix.sand_parts / plan.mortar.mix.lime_parts, 2)}",
        ),
        ("my panel after a week: cracks, dusting, set to the touch", "", ""),
    )
    table = grid(("What", "Mine", "The kit's, to compare"), mine, (56, 40, 56), "tall")
    lines = line("Name") + line("My stone comes from") + line("What I shall burn next, and with whom")
    said = f"Print {len(programme.workshop.people)}, one each."
    yield Sheet(
        "To take home", words(said) + lines + table + heed("quicklime_eyes", "quicklime_skin", "carbon_monoxide")
    )


def attendance(programme: Programme) -> Iterator[Sheet]:
    """Yield a page that says who was there and what they did with their hands."""
    rows = [(dated(row.start.date()), row.what, f"{row.piece.minutes}", BOX) for row in by_hand(programme)]
    table = grid(("Day", "With their hands", "Minutes", "There"), rows, (40, 78, 14, 12), "")
    ends = f"{dated(programme.days[0][0].start.date())} to {dated(programme.days[-1][0].start.date())}"
    place = f" at {programme.workshop.place}" if programme.workshop.place else ""
    said = f"Was there from {ends}{place}, and did what is ticked below."
    no_licence = "This says who was there. It is no licence to burn, to slake for others or to teach."
    yield Sheet(
        "Attendance",
        line("Name") + words(said) + table + words(no_licence) + line("Signed, who taught") + line("Day"),
    )


def machines(programme: Programme) -> Iterator[Sheet]:
    """Yield mixer, generator, sieve and scales: before, during and after."""
    before = dated(shifted(programme.workshop.first_day, -WEEK))
    said = f"Start them on {before}, a week ahead: a machine that fails then can still be mended or borrowed."
    parts = [words(said)]
    for machine, rows in itertools.groupby(tables.rows("machines"), key=lambda row: row["machine"]):
        told = [(row["when"], row["what"], BOX) for row in rows]
        parts.append(
            f"<h3>{escape(machine.capitalize())}</h3>" + grid(("When", "What", "Done"), told, (16, 110, 14), "small")
        )
    source = '<p class="from">Common practice, no source; the maker\'s own instructions come first.</p>'
    yield Sheet("Machines before, during and after", "".join(parts) + heed("electrics") + source)


def poster(programme: Programme) -> Iterator[Sheet]:
    """Yield the safety poster, to hang up by the fire and by the vessels, with what is known of whom to ring."""
    told = programme.workshop
    known = (told.emergency_number, told.poisons_line, told.eye_hospital, told.driver, told.address)
    pages = safety_poster(dict(zip(CALLS, known, strict=True)))
    yield from map(Sheet, ("Poster: what to do", "Poster: whom to ring"), pages)


PAGES = (
    poster,
    *(timetable, roster, watch, shopping, van, questions, risks, sign_in, yard, wet_day),
    *(heaps, labels, take_home, attendance, machines),
)
