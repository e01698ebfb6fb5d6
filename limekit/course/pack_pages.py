"""The pages of a workshop's pack, each a function of its programme that returns one sheet or several."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from html import escape

from limekit.chemistry import loss_on_ignition
from limekit.course.lessons.the_workshop import dated, to_ask
from limekit.course.pack_paper import BOX, Pause, Sheet, grid, heed, line, paged, words
from limekit.course.pack_things import SPARE, heaps, labels, machines, shopping, to_draw, van
from limekit.course.programme import SLAKES, WHERE, Programme, Row
from limekit.dates import shifted
from limekit.estimate import shown
from limekit.facts import fact
from limekit.pictures.yard import Yard, distances, room_drawing, yard_drawing
from limekit.records.forms import CALLS, STOPS, safety_poster
from limekit.records.roster import groups
from limekit.records.supplies import group_slaking
from limekit.records.workshop_file import Workshop
from limekit.safety import DEFER, caution_table
from limekit.units import DAY, HOUR, LITRES, MINUTE

TURNS, RISKS, PEOPLE, QUESTIONS = 13, 7, 20, 20  # rows a page
ONLY_OF_A_KILN = ("long_fire", "collapse", "closing", "kiln_wall")
UNDER = "under the roof"


def timetable(programme: Programme) -> Iterator[Sheet]:
    """Yield one day on a page, by the clock."""
    headings = ("When", "What", "Who leads", "Take care")
    for number, rows in enumerate(programme.days, start=1):
        day = rows[0].start.date()
        told = [_clocked(row, _what(row), ", ".join(row.people[:1]), _care(row)) for row in rows]
        names = ", ".join(row.piece.name for row in rows if row.piece)
        note = (
            f"Rows by name, as swap and leave_out in my_workshop.toml have them: {names}. Minutes of work by hand, and "
            "how long a fire takes to come to colour and stones to cool: common practice, no source."
        )
        watch = [turn for turn in programme.watch if turn.start.date() == day]
        turns = ", ".join(f"{turn.start:%H:%M} {' and '.join(turn.people)}" for turn in watch)
        at_fire = words(f"At the kiln from: {turns}.") if turns else ""
        if programme.row("trial_fire") in rows:
            keepers = " and ".join(next(iter(programme.beside), ()))
            at_fire += line("Embers, hearth and stones under their lid, until all is cold, by", keepers)
        if rows is programme.days[-1]:
            at_fire += to_draw(programme)
        table = grid(headings, told, (21, 52, 16, 38), "clock")
        yield Sheet(f"Day {number}: {dated(day)}", table + at_fire + f'<p class="from">{escape(note)}</p>')


def _clocked(row: Row, *cells: str) -> Sequence[str]:
    return (tuple if row.piece else Pause)((f"{row.start:%H:%M} to {row.end:%H:%M}", *cells))


def _what(row: Row) -> str:
    return row.piece.title if row.piece else row.what


def _care(row: Row) -> str:
    keys = row.piece.work.cautions if row.piece and row.piece.work else ()
    return ". ".join(caution_table()[key].title for key in keys)


def roster(programme: Programme) -> Iterator[Sheet]:
    """Yield names for every vessel and every fire, and where everybody else is."""
    workshop = programme.workshop
    roles = line("First-aider", workshop.first_aider) + line("Driver to hospital, awake", workshop.driver)
    roles += line("Leads the days", workshop.teachers[0])
    roles += "".join(line(f"{name}, to be found, is") for name in workshop.stokers[: programme.to_find])
    first = "The first named leads where a teacher is free; else one teacher walks between two."
    teams = [(str(number), ", ".join(team)) for number, team in enumerate(programme.teams, start=1)]
    beside = "".join(
        words(f"Beside trial fire {number} over the pause, and eating before or after: {' and '.join(pair)}.")
        for number, pair in enumerate(programme.beside, start=1)
    )
    table = grid(("Vessel, fire, table", "Who works there, in every row below"), teams, (20, 130), "small")
    rows = [
        (
            f"{row.start:%a %H:%M}",
            row.piece.name.replace("_", " "),
            *(", ".join(programme.elsewhere(row)[where]) or "–" for where in WHERE),
        )
        for row in programme.by_hand
    ]
    others = grid(("When", "Work", *map(str.capitalize, WHERE)), rows, (20, 24, 34, 40, 34), "small")
    yield Sheet("Who works where", roles + words(first) + table + others + beside)


def watch(programme: Programme) -> Iterator[Sheet]:
    """Yield names for every watch, while the kiln burns and while it cools; nothing where none does."""
    if not programme.kept[1]:
        return
    headings = ("Turn", "From", "To", "The kiln", "At the kiln", "Relieved at, by")
    closed = shifted(programme.lit, programme.known["burn"].high)
    turns = [
        (
            str(number),
            *(f"{end:%a %d %b %H:%M}" for end in (turn.start, turn.end)),
            "burns" if turn.start < closed else "cools, closed",
            " and ".join(turn.people),
            "",
        )
        for number, turn in enumerate(programme.watch, start=1)
    ]
    below = _asleep(programme) + to_draw(programme) + heed("gas_signs")
    turns, widths = turns or [("",) * len(headings)] * TURNS, (8, 22, 22, 18, 32, 22)
    yield from paged("Watch at the kiln", headings, turns, widths, TURNS, words(_watch_words(programme)), below)


def _watch_words(programme: Programme) -> str:
    rest, day, crew = fact("watch_rest_least") / HOUR, DAY / HOUR, len(programme.workshop.stokers)
    missing = f"NOBODY IS NAMED YET: {crew} STOKERS ARE TO BE FOUND, or no fire is lit. " if programme.to_find else ""
    return (
        f"{missing}{programme.cold_by} The turns run until then: strike out what is not wanted. {crew} people who do "
        f"nothing else, nobody alone, and everybody sleeps {rest:.0f} hours on end in every {day:.0f}."
    )


def _asleep(programme: Programme) -> str:
    """Return who is woken by night."""
    workshop = programme.workshop
    sleep = [
        f"{role} {name}"
        for role, name in (("the first-aider", workshop.first_aider), ("the driver", workshop.driver))
        if name and not any(name in turn.people for turn in programme.watch)
    ]
    return line(f"By night sleep {' and '.join(sleep)}: wake them; where they lie") if sleep else ""


def questions(programme: Programme) -> Iterator[Sheet]:
    """Yield what is asked before a fire is lit, and by when; nothing where none is."""
    fire = programme.row("light_trial") or programme.row("light_kiln")
    if fire:
        day = fire.start.date()
        rows = [(*told, "") for told in to_ask(day).rows]
        said = words(f"For the fire of {dated(day)}. Every question is put so that no is the answer that stops you.")
        headings, widths = ("Ask on", "Ask", "If the answer is no", "Yes: who asked, when"), (24, 56, 44, 30)
        yield from paged("Questions before a burn", headings, rows, widths, QUESTIONS, said)


def risks(programme: Programme) -> Iterator[Sheet]:
    """Yield every usual caution as a hazard, with room for who may be hurt, what is done here, and who sees to it."""
    left_out, said, told = (), [DEFER, gone_to_hospital(programme.workshop)], programme.plan.figures["hours"]
    if programme.workshop.ready == "trial only":
        left_out = ONLY_OF_A_KILN
    else:
        said.append(f"Hours in the cautions are usual ones; the plan's kiln burns {told.words} ({told.ends}).")
    rows = [(one.title, one.text, "", "", "") for one in caution_table().values() if one.key not in left_out]
    headings = ("Hazard", "What is usually done", "Who may be hurt", "What is done here", "Who sees to it")
    above = "".join(map(words, filter(None, said)))
    yield from paged("Risk assessment", headings, rows, (22, 66, 24, 36, 20), RISKS, above)


def gone_to_hospital(workshop: Workshop) -> str:
    """Say what stops when the driver is one of those who teach; empty where not."""
    told = f"{workshop.driver} drives and teaches. While away: {STOPS}"
    return told if workshop.driver in workshop.teachers else ""


def sign_in(programme: Programme) -> Iterator[Sheet]:
    """Yield who is there on which day, and whom to ring for each."""
    days = [f"{rows[0].start:%a} in, out" for rows in programme.days]
    headings = ("Name", "In an emergency ring", "Number", *days, "Heard the safety card")
    rows = [(name, *[""] * (len(headings) - 1)) for name in (*programme.workshop.everybody, *[""] * SPARE)]
    said = words(
        "What somebody's health asks for is told to the first-aider alone, and not written here. Keep this sheet with "
        "the telephone, and burn it when everybody is home."
    )
    yield from paged("Sign in", headings, rows, (30, 34, 28, *(20 for _ in days), 26), PEOPLE, said, look="tall")


def yard(programme: Programme) -> Iterator[Sheet]:
    """Yield room and yard in plan, and the distances that stand in it."""
    slaking, kiln = group_slaking(), programme.plan.plain.kiln
    count = len(groups(len(programme.workshop.people)))
    width = (4.0 * slaking.vessel_volume / math.pi) ** (1.0 / 3.0)
    hearths = count if programme.row("light_trial") else 0
    has_kiln = programme.workshop.ready != "trial only"
    size = (kiln.outer_diameter, kiln.kiln_height + kiln.chimney_height) if has_kiln else (0.0, 0.0)
    drawn = Yard(count, width, hearths, *size)
    absent = [end for end, is_there in (("_kiln", has_kiln), ("_hearth", hearths)) if not is_there]
    vessel = f"{slaking.vessel_volume * LITRES:.0f} L, {100 * width:.0f} cm across and as tall"
    slakes = any(SLAKES in row.piece.work.cautions for row in programme.by_hand)
    said = f"{count} slaking vessels of {vessel}." if slakes else "Nothing is slaked: the vessels' places stay free."
    if has_kiln:
        said += f" The plan's kiln is {size[0]:.1f} m across outside and, its chimney with it, {size[1]:.1f} m high."
    if hearths:
        said += " A trial hearth for each group."
    yield Sheet(
        "Yard and room", words(said) + (yard_drawing(drawn) if has_kiln or hearths else "") + room_drawing(drawn)
    )
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
    """Yield each day by the clock as it goes where it rains: what moves under cover, and what falls out."""
    decided = line("Who decides, and by when on the evening before") + line("How everybody is told")
    clock = words("The clock stays as it is. What is done instead fills a row that falls out, or the day ends sooner.")
    headings = ("When", "What", "Where, or what instead")
    for number, rows in enumerate(programme.days, start=1):
        day, told = rows[0].start.date(), []
        out = programme.falls_out(day)
        for row in rows:
            work = row.piece and row.piece.work
            falls = work and out.get(work.name)
            where = falls or (work.wet if work else UNDER)
            told.append(_clocked(row, f"FALLS OUT: {work.what}" if falls else _what(row), where))
        later = [row for row in programme.by_hand if row.start.date() > day and row.piece.name in out]
        more = [f"Falls out later for it: {row}, {out[row.piece.name]}." for row in later]
        if any(turn.start.date() == day for turn in programme.watch) and "light_kiln" not in out:
            more.append("A kiln that burns or cools is not left for the rain: who watches it stays.")
        table = grid(headings, told, (21, 58, 48), "small clock")
        title = f"Wet-day plan {number}: {dated(day)}"
        yield Sheet(title, clock + table + "".join(map(words, more)) + decided + heed("storing_lime", "electrics"))


def take_home(programme: Programme) -> Iterator[Sheet]:
    """Yield a page that each learner fills in with figures of their own, and takes home."""
    plan, told = programme.plan.plain, programme.plan.figures
    stone, slaking, mix = plan.stone, group_slaking(), plan.mortar.mix
    loss = loss_on_ignition.plain(stone.calcium_carbonate, stone.magnesium_carbonate)
    through = f"{100 * loss:.1f} % if the plan's stone burns through"
    glow = f"{told['fire_temperature'].words} in the plan's fire"
    charged = f"{slaking.lime_charge:g} kg in {slaking.water:g} kg, a group"
    minutes = f"{slaking.plan.slaking_time / MINUTE:.0f} minutes in all"
    asked = (
        ("trial_fire", "my stone, dry, before the fire [g]", ""),
        ("break_trial", "the same after it [g]", ""),
        ("break_trial", "lost: (before − after) / before [%]", through),
        ("break_trial", "burnt: lost / lost by a stone burnt through [%]", ""),
        ("trial_fire read_kiln", "hour at full colour, the glow I saw", glow),
        ("break_trial sort draw", "core left, mm across, of a piece of ... mm", ""),
        ("slake", "lime slaked, kg, in water, kg", charged),
        ("slake", "water before; hottest, after how many minutes [°C, min]", minutes),
        ("mix", "sand's voids [%]", ""),
        ("mix", "putty to sand in my panel, by volume", f"1 to {shown(mix.sand_parts / mix.lime_parts, 2)}"),
        ("mix", "my panel after a week: cracks, dusting, set to the touch", ""),
    )
    done = {row.piece.name for row in programme.by_hand}
    rows = [(what, "", ours) for works, what, ours in asked if not done.isdisjoint(works.split())]
    table = grid(("What", "Mine", "The kit's, to compare"), rows, (56, 40, 56), "tall")
    lines = line("Name") + line("My stone comes from") + line("What I shall burn next, and with whom")
    care = heed("quicklime_eyes", "quicklime_skin", "carbon_monoxide")
    yield Sheet("To take home", words(f"Print {len(programme.workshop.people)}, one each.") + lines + table + care)


def attendance(programme: Programme) -> Iterator[Sheet]:
    """Yield a page that says who was there and what they did with their hands."""
    rows = [(dated(row.start.date()), row.what, f"{row.piece.minutes}", BOX) for row in programme.by_hand]
    table = grid(("Day", "With their hands", "Minutes", "There"), rows, (40, 78, 14, 12), "")
    ends = f"{dated(programme.days[0][0].start.date())} to {dated(programme.days[-1][0].start.date())}"
    place = f" at {programme.workshop.place}" if programme.workshop.place else ""
    said = f"Was there from {ends}{place}, and did what is ticked below."
    no_licence = "This says who was there. It is no licence to burn, to slake for others or to teach."
    yield Sheet(
        "Attendance",
        line("Name") + words(said) + table + words(no_licence) + line("Signed, who taught") + line("Day"),
    )


def poster(programme: Programme) -> Iterator[Sheet]:
    """Yield the safety poster, to hang up by the fire and by the vessels, with what is known of whom to ring."""
    told = programme.workshop
    lines = (told.emergency_number, told.poisons_line, told.eye_hospital)
    known = (*lines, told.first_aider, told.driver, told.address)
    pages = safety_poster(dict(zip(CALLS, known, strict=True)), gone_to_hospital(told))
    yield from map(Sheet, ("Poster: what to do", "Poster: whom to ring"), pages)


PAGES = (
    poster,
    *(timetable, roster, watch, shopping, van, questions, risks, sign_in, yard, wet_day),
    *(heaps, labels, take_home, attendance, machines),
)
