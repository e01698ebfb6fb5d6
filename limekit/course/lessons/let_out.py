"""The fire let out: what stays raw, what is burnt dead, and how long the kiln takes to cool."""

from __future__ import annotations

import numpy as np

from limekit.course.checks import UPSIDE_DOWN, Exercise, Slip
from limekit.course.controls import Slider
from limekit.course.explorer import Explorer
from limekit.course.lessons.the_firing import ended
from limekit.course.moves import Moves
from limekit.facts import fact
from limekit.frames import frame
from limekit.kiln.cooling import Cooling, cool_kiln
from limekit.pictures import firing as pictures
from limekit.plan.plan import Plan
from limekit.plan.worked import Worked
from limekit.stone.overburn import overburn_index
from limekit.units import HOUR, MM, ZERO_CELSIUS

OPENINGS = {"shut and luted": "closed", "mouth and eyes open": "open"}
LETTING_OUT = ("conversion", "fire_temperature", "largest_stone", "chimney_height", "arrangement")


def left_explorer(plan: Plan) -> Explorer:
    """Slide when the fire is let out, its heat and how the stone lies; see what stays raw and what is burnt dead."""
    moves = Moves(plan, *LETTING_OUT)
    return Explorer(
        moves.controls,
        model=moves,
        picture=lambda plan: pictures.left_raw(plan.firing.places, plan.firing.history.came_out()),
        words=_left_words,
        table=lambda plan: frame({"place": list(map(str, plan.firing.places))}),
        presets={
            "let out at three quarters": {"conversion": 0.75},
            "to the last stone": {"conversion": 0.99},
            "hot and quick": {"fire_temperature": "1300 degC"},
            "soft and slow": {"fire_temperature": "1020 degC"},
            "laid with care": {"arrangement": "graded"},
        },
        keeps=moves.kept,
        follows=moves.follows,
    )


def _left_words(plan: Worked) -> str:
    firing, rawest = plan.firing, plan.firing.rawest
    hardest = max(firing.places, key=lambda place: place.overburn)
    return (
        f"Let out {ended(plan)}, {100 * firing.conversion:.0f} % has burnt: "
        f"{firing.raw_stone:.0f} kg of stone is still raw, most of "
        f"it at the {rawest.part}{rawest.ring} ({MM * rawest.size:.0f} mm: {100 * rawest.conversion:.0f} % burnt), and "
        f"{100 * firing.overburnt_share:.0f} % of the charge may be dead-burnt; the hardest burnt are the "
        f"{MM * hardest.size:.0f} mm stones at the {hardest.part}{hardest.ring}."
    )


def cooling_explorer(plan: Plan) -> Explorer:
    """Slide how cool the lime must be; see how long the plan's kiln, let out, takes to it, shut and open."""
    slider = Slider("draw_temperature", start=f"{fact('lime_draw_temperature') - ZERO_CELSIUS} degC", looks=True)
    coldest = slider.si(slider.entry.slide_from)
    cooled = {words: cool_kiln.plain(plan.plain.firing, openings, coldest) for words, openings in OPENINGS.items()}
    return Explorer(
        [slider],
        model=lambda: cooled,
        picture=lambda cooled, draw_temperature: pictures.coolings(cooled, draw_temperature),
        words=_cooling_words,
    )


def _cooling_words(cooled: dict[str, Cooling], draw_temperature: float) -> str:
    times = [float(np.interp(-draw_temperature, -one.hottest, one.times)) / HOUR for one in cooled.values()]
    (shut, airy), (first, second) = times, cooled
    safe = fact("lime_draw_temperature")
    hot = "" if draw_temperature <= safe else f" Hands in gloves want {safe - ZERO_CELSIUS:.0f} °C: do not draw it yet."
    return (
        f"To {draw_temperature - ZERO_CELSIUS:.0f} °C the hottest lime takes {shut:.0f} hours with the kiln {first}, "
        f"and {airy:.0f} with {second}, when the air it draws brings damp to the lime.{hot}"
    )


MILD, HARD = 1050.0, 1150.0


def _as_long() -> float:
    hot, mild = (overburn_index.plain(level + ZERO_CELSIUS, HOUR) for level in (HARD, MILD))
    return hot / mild


an_hour_too_hot = Exercise(
    question=(
        f"By the kit's index, how many hours at {MILD:.0f} °C dull the lime as much as one hour at {HARD:.0f} °C?"
    ),
    answer=lambda: f"{_as_long()} h",
    unit="h",
    tolerance=0.03,
    slips=(
        Slip("that is the ratio of the temperatures; over-burning climbs far more steeply", lambda _: HARD / MILD),
        UPSIDE_DOWN,
        Slip("it is in minutes", lambda right: 60.0 * right),
        Slip(
            "that is how much more it does, not how long the cooler fire takes to do the same",
            lambda right: right - 1.0,
        ),
    ),
    hint='limekit.overburn_index("1150 degC", "1 h") and the same at the lower heat: divide the larger by the smaller.',
)
