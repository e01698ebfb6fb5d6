"""A first kiln: from the putty wanted to stone, size, hours, wood and a drawing."""

from __future__ import annotations

import math

from limekit.balance import mass_balance
from limekit.course.checks import Exercise, Slip
from limekit.course.explorer import Explorer
from limekit.course.moves import Moves
from limekit.estimate import Span, shown
from limekit.facts import fact
from limekit.frames import frame
from limekit.kiln.firing import beside_others
from limekit.kiln.sizing import size_kiln, stone_for_putty
from limekit.pictures import sizing as pictures
from limekit.pictures.ground_plan import ground_plan_drawing
from limekit.pictures.pages import Sketch
from limekit.pictures.section import section_drawing
from limekit.plan.figures import figures
from limekit.plan.plan import Plan
from limekit.plan.worked import Worked
from limekit.units import HOUR, TONNE

MOVED = ("largest_stone", "stoking_rate", "fuel", "fuel_moisture", "chimney_height")
HEADINGS = ["what", "figure", "may turn out"]


def kiln_explorer(plan: Plan) -> Explorer:
    """Slide the putty wanted, the stone, the wood, what is fed and the chimney; see the kiln that follows.

    Where the stone may not be kept as putty, the stone charged is slid in its place. The rest is as the plan has it.
    """
    as_putty = plan.plain.verdict.keeping.as_putty
    moves = Moves(plan, "putty_volume" if as_putty else "stone", *MOVED)
    presets = {"wet wood": {"fuel_moisture": 0.45}, "a chimney": {"chimney_height": "4 m"}}
    if as_putty:
        presets = {
            "a wall's worth": {"putty_volume": "300 L", "largest_stone": "60 mm"},
            "a house's worth": {"putty_volume": "2500 L", "largest_stone": "100 mm"},
        } | presets
    return Explorer(
        moves.controls,
        model=moves,
        picture=_picture,
        words=words,
        table=lambda plan: frame(
            [(one.label, one.words, one.ends) for one in figures(plan).values()], columns=HEADINGS
        ),
        presets=presets,
        keeps=moves.kept,
        follows=moves.follows,
    )


def _picture(plan: Worked):
    hours = plan.forecast.hours or Span(*[plan.firing.firing_time] * 3)
    return pictures.masses_and_hours(
        plan.design, hours, plan.forecast.fuel, plan.cooling.cooling_time, plan.people.watch_time
    )


def words(plan: Worked) -> str:
    """Say a plan in one sentence, and what sets the pace of its firing."""
    told, firing = figures(plan), plan.firing
    asked = (
        f"{told['putty_volume'].words} of putty ask for {told['stone'].words} of stone"
        if plan.putty.keeping.as_putty
        else f"{told['quicklime'].words} of quicklime, and no putty, come of {told['stone'].words} of stone"
    )
    kiln = f"in a kiln {told['kiln_diameter'].words} across and {told['kiln_height'].words} high inside"
    fed = f"{told['fuel'].words} of fuel ({told['fuel'].ends})"
    if firing.finish is None:
        return f"{asked} {kiln}. {fed}, and it is never done: {firing.verdict}"
    hours = f"{told['hours'].words} of firing ({told['hours'].ends}{_if_fed(plan)})"
    return f"{asked} {kiln}, {fed}, and {hours}. {' '.join(map(str, firing.limits))}"


def _if_fed(plan: Worked) -> str:
    """Say of a range of hours that it is so narrow for a feeding held to, and how wide it is for any other."""
    rate, hours = plan.fire.stoking_rate, plan.forecast.hours
    if rate is None or hours is None:
        return ""
    other = beside_others(hours.middle, "hours")
    return (
        f" if up to {HOUR * rate:.0f} kg/h are fed, else {shown(other.low / HOUR, 2)} to {shown(other.high / HOUR, 2)}"
    )


def drawings(plan: Plan) -> Sketch:
    """Draw a plan's kiln in section and in plan, to one scale."""
    size, told = plan.plain.kiln, plan.figures
    return Sketch(
        section_drawing(size) + ground_plan_drawing(size),
        f"Section and plan to scale: {told['kiln_diameter'].words} across and {told['kiln_height'].words} high inside, "
        f"{size.outer_diameter:.2f} m across outside, with {size.mouths} firing mouth"
        f"{'s' if size.mouths > 1 else ''} and {size.draw_eyes} draw eyes, and {size.ties} iron ties round it.",
    )


WANTED = 0.6


def _stone_for(conversion: float = fact("flare_conversion")) -> float:
    return stone_for_putty.plain(WANTED, calcium_carbonate=1.0, conversion=conversion)


def _quicklime_of(stone: float) -> float:
    return mass_balance.plain(stone, 1.0, fact("flare_conversion")).quicklime


stone_for_a_tank = Exercise(
    question=(
        f"You want {1000 * WANTED:.0f} L of putty at {shown(fact('putty_density') / 1000, 3)} kg/L, from a pure stone "
        f"of which {100 * fact('flare_conversion'):.0f} % burns. How much stone is that?"
    ),
    answer=lambda: f"{_stone_for()} kg",
    unit="kg",
    slips=(
        Slip("that takes every bit of stone as burnt", lambda _: _stone_for(1.0)),
        Slip("that is the quicklime in it; stone weighs nearly twice as much", _quicklime_of),
    ),
    hint="limekit.stone_for_putty(putty_volume=..., calcium_carbonate=1, conversion=...) does it.",
)

CHARGE = 1200.0

how_wide = Exercise(
    question=(
        f"A flare kiln takes {fact('flare_charge_density') / TONNE:.1f} t of stone on each cubic metre of its inside "
        f"and is {fact('flare_height_to_diameter'):.1f} times as high as wide. How wide is one for {CHARGE:.0f} kg?"
    ),
    answer=lambda: f"{size_kiln.plain(CHARGE, fact('flare_largest_stone')).kiln_diameter} m",
    unit="m",
    slips=(
        Slip("that is the radius, from the middle to the wall", lambda right: right / 2),
        Slip("that is how high it is", lambda right: right * fact("flare_height_to_diameter")),
        Slip("that is a cube of the same room; a kiln is round, and higher than wide", lambda _: _room() ** (1 / 3)),
        Slip(
            "you left out that it is higher than it is wide",
            lambda right: right * fact("flare_height_to_diameter") ** (1 / 3),
        ),
    ),
    hint="limekit.size_kiln(stone=..., largest_stone='80 mm').diameter does it; the room is 0.785 × width² × height.",
)

BANDS, ACROSS = 3, 1.7

iron_to_buy = Exercise(
    question=(
        f"{BANDS} iron ties go round a kiln {ACROSS:g} m across outside, and each wants "
        f"{fact('tie_lap'):g} m more for the bolt that tightens it. How much flat bar do you buy?"
    ),
    answer=lambda: f"{BANDS * (math.pi * ACROSS + fact('tie_lap'))} m",
    unit="m",
    slips=(
        Slip("that is for one tie", lambda right: right / BANDS),
        Slip("the ends for the bolts are missing", lambda _: BANDS * math.pi * ACROSS),
        Slip("you went round with twice the width: round is 3.14 times the width", lambda right: 2 * right),
        Slip("you took the width for the way round", lambda _: BANDS * (ACROSS + fact("tie_lap"))),
    ),
    hint="Round a circle it is 3.14 times the width; then the end for the bolt, then all the ties.",
)


def _room() -> float:
    return CHARGE / fact("flare_charge_density")
