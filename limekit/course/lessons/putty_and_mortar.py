"""Putty and mortar: how much there is, when it is ready, what wall it makes, and how it sets."""

from __future__ import annotations

import datetime
import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from limekit.balance import putty_from_quicklime
from limekit.course.checks import UPSIDE_DOWN, Exercise, Slip
from limekit.course.controls import Choice, Slider
from limekit.course.explorer import Explorer
from limekit.dates import read_date
from limekit.facts import fact
from limekit.frames import frame
from limekit.kiln.sizing import stone_for_putty
from limekit.lime.carbonation import Curing, ageing, curing_calendar, time_to_depth
from limekit.lime.mortar import Limewash, MortarNeed, coat_mortar, limewash, wall_mortar
from limekit.lime.putty import PuttyStore, ReadyDate, putty_store, ready_dates
from limekit.lime.tanks import Tank, tank
from limekit.pictures import putty as pictures
from limekit.plan.plan import YOURS, Plan
from limekit.units import LITRES, MM, ZERO_CELSIUS

INVENTED_DAY = "2027-05-03"
USES = ("mortar", "plaster", "limewash")
TANKS = {
    "caged cube of 1000 L": {"tank_shape": "cube container"},
    "open drum of 200 L": {"tank_shape": "upright cylinder", "tank_height": 0.85, "tank_diameter": 0.57},
    "cattle trough": {"tank_shape": "box", "tank_height": 0.5, "tank_length": 1.8, "tank_width": 0.6},
    "farm tank with a dished bottom": {
        "tank_shape": "dished cylinder",
        "tank_height": 1.1,
        "tank_diameter": 1.2,
        "dish_depth": 0.25,
    },
    "lying barrel": {"tank_shape": "lying cylinder", "tank_diameter": 0.8, "tank_length": 1.4},
}  # measures invented


@dataclass(frozen=True)
class Stored:
    """A tank, what stands in it, and when it is ready for each use; plain SI floats."""

    tank: Tank
    store: PuttyStore
    ready: Mapping[str, tuple[ReadyDate, ...]]
    film_depth: float
    putty_density: float
    use: str
    first_burn: datetime.date


def tank_explorer(plan: Plan, first_burn) -> Explorer:
    """Slide one burn after another into a tank; see the level, the room left and the dates.

    The plan says what lime it is, how much of it slakes and how stiff its putty is. The first was slaked on a day, as a
    date or as one is written; the others follow six weeks apart.
    """
    day = read_date(first_burn, "first_burn")
    slakes, putty = plan.plain.lime.available_lime, plan.plain.putty
    lime = putty.keeping.lime

    def fill(kind: str, use: str, lime_charge: float, burns: float, putty_density: float, film_depth: float) -> Stored:
        inside = tank.plain(**TANKS[kind])
        volume = putty_from_quicklime.plain(lime_charge * slakes, putty_density).putty_volume
        days = [day + datetime.timedelta(weeks=6 * number) for number in range(int(burns))]
        store = putty_store.plain(inside, days, np.full(len(days), volume), putty_density, use, film_depth, lime)
        ready = {purpose: ready_dates.plain(days[-1], purpose, lime) for purpose in USES}
        return Stored(inside, store, ready, film_depth, putty_density, use, day)

    return Explorer(
        [
            Choice("kind", tuple(TANKS), label="tank"),
            Choice("use", USES, label="wanted for"),
            Slider("lime_charge", start="140 kg", low="20 kg", high="400 kg", step=5, label="lime slaked a burn"),
            Slider("burns", start=2, low=1, high=pictures.MOST_LAYERS, step=1, label="burns"),
            Slider("putty_density", start=f"{putty.putty_density} kg/m^3", low="1.25 kg/L", high="1.45 kg/L"),
            Slider("film_depth"),
        ],
        model=fill,
        picture=lambda stored: pictures.tank_and_dates(
            stored.tank, stored.store, stored.film_depth, stored.ready, stored.use
        ),
        words=lambda stored: (
            f"It stands {MM * stored.store.putty_level:.0f} mm deep, with room for "
            f"{LITRES * stored.store.room_left:.0f} L more: {stored.store.words}"
        ),
        table=_dates,
        keeps=_kept,
    )


def _dates(stored: Stored):
    rows = [(use, one.days, f"{one.date:%d %B %Y}", one.source) for use, dates in stored.ready.items() for one in dates]
    return frame(rows, columns=["wanted for", "days", "ready on", "by whom"])


def _kept(stored: Stored) -> dict:
    slaked = "invented: lime first" if stored.first_burn == read_date(INVENTED_DAY, "first_burn") else "lime first"
    ready = f"{stored.ready[stored.use][0].date:%d %B %Y}, for {stored.use}"
    return {
        "lime": {
            "putty_in_tank": f"{LITRES * stored.store.putty_volume:.0f} L",
            "putty_density": f"{stored.putty_density / 1000:.2f} kg/L",
            "putty_ready": f"{ready}; {slaked} slaked on {stored.first_burn:%d %B %Y}",
        }
    }


@dataclass(frozen=True)
class Walled:
    """A wall, a coat over one side of it and limewash on that; plain SI floats."""

    bedding: MortarNeed
    coat: MortarNeed
    wash: Limewash
    sand_voids: float
    in_the_tank: float
    whose: str

    @property
    def putty(self) -> dict[str, float]:
        """In m³, by work."""
        works = ("bedding", self.coat.mix.mix, "limewash")
        return dict(zip(works, (one.putty_volume for one in (self.bedding, self.coat, self.wash)), strict=True))


def wall_explorer(plan: Plan) -> Explorer:
    """Build a wall, coat one side and limewash it; see the sand, and the putty beside what the plan's tank holds."""
    there = plan.plain.decided.get("putty_in_tank")
    whose = "your tank" if plan.whose("putty_in_tank") == YOURS else f"the invented tank of {LITRES * there:.0f} L"

    def build(walling, mix, wall_area, wall_thickness, coat_thickness, sand_voids, waste) -> Walled:
        shared = {"sand_voids": sand_voids, "waste": waste}
        return Walled(
            wall_mortar.plain(wall_area, wall_thickness, walling, **shared),
            coat_mortar.plain(wall_area, coat_thickness, mix, **shared),
            limewash.plain(wall_area),
            sand_voids,
            there,
            whose,
        )

    return Explorer(
        [
            Choice("walling", ("rubble", "brick", "ashlar"), label="wall of"),
            Choice("mix", ("base coat", "float coat", "finish"), label="coat on one side"),
            Slider("wall_area", start="10 m^2", high="60 m^2"),
            Slider("wall_thickness", start="450 mm"),
            Slider("coat_thickness", start="10 mm"),
            Slider("sand_voids"),
            Slider("waste"),
        ],
        model=build,
        picture=lambda built: pictures.sand_and_wall(
            built.sand_voids, built.bedding.mix.sand_parts, built.putty, built.in_the_tank
        ),
        words=_wall_words,
        table=_wall_table,
    )


def _wall_words(built: Walled) -> str:
    total, sand = sum(built.putty.values()), built.bedding.sand_volume + built.coat.sand_volume
    share = built.in_the_tank / total
    enough = f"does it {share:.1f} times over" if share >= 1 else f"does {100 * share:.0f} % of it"
    mix = built.bedding.mix.words.split(";")[0]
    return (
        f"Bedding {mix}. Wall, coat and limewash together take {LITRES * total:.0f} L of putty and {sand:.2g} m³ of "
        f"sand: {built.whose} {enough}."
    )


def _wall_table(built: Walled):
    rows = [
        (name, f"1:{need.mix.sand_parts:.2g}", *(f"{LITRES * volume:.0f}" for volume in volumes))
        for name, need in (("bedding", built.bedding), (built.coat.mix.mix, built.coat))
        for volumes in [(need.mortar_volume, need.putty_volume, need.sand_volume)]
    ]
    wash = built.wash
    rows.append(("limewash", "–", f"{LITRES * wash.limewash_volume:.0f}", f"{LITRES * wash.putty_volume:.0f}", "–"))
    return frame(rows, columns=["work", "putty to sand", "mixed [L]", "putty [L]", "sand [L]"])


CLIMATES = {
    "inland, cold winters": (
        (-2, -1, 3, 8, 13, 16, 18, 18, 14, 9, 3, -1),
        (85, 80, 75, 68, 68, 70, 70, 72, 76, 80, 86, 88),
    ),
    "mild and wet coast": (
        (6, 6, 7, 9, 12, 14, 16, 16, 14, 11, 8, 6),
        (88, 86, 84, 80, 78, 79, 80, 81, 83, 86, 87, 88),
    ),
    "dry south": ((8, 9, 11, 14, 18, 23, 26, 26, 22, 17, 12, 9), (70, 66, 60, 55, 50, 42, 36, 38, 48, 60, 68, 72)),
}  # invented: °C and % of humidity, January first
MONTHS = ("January", "March", "May", "July", "September", "November")
YEAR, LOOKED_AHEAD = 2027, 3 * 365


@dataclass(frozen=True)
class Setting:
    """A coat's calendar, and the weather it has had by each morning; plain SI floats."""

    applied_on: datetime.date
    curing: Curing
    aged: np.ndarray
    cold: np.ndarray
    coat_thickness: float
    carbonation_rate: float


def setting_explorer() -> Explorer:
    """Choose where and when a coat is laid and how thick; see it set, and whether the frost is sooner."""

    def follow(climate: str, month: int, coat_thickness: float, carbonation_rate: float) -> Setting:
        level, humid = (np.array(row, float) for row in CLIMATES[climate])
        weather = (level + ZERO_CELSIUS, humid / 100.0)
        start = datetime.date(YEAR, month, 15)
        curing = curing_calendar.plain(start, coat_thickness, *weather, carbonation_rate)
        months, aged = ageing(start, *weather, LOOKED_AHEAD)
        cold = weather[0][months] < fact("carbonation_temperature_least")
        return Setting(start, curing, aged, cold, coat_thickness, carbonation_rate)

    return Explorer(
        [
            Choice("climate", tuple(CLIMATES), label="where (invented)"),
            Choice("month", {name: 2 * place + 1 for place, name in enumerate(MONTHS)}, start=5, label="laid in"),
            Slider("coat_thickness", start="3 mm"),
            Slider("carbonation_rate", label="set in the first month [mm]"),
        ],
        model=follow,
        picture=lambda set_: pictures.depth_in_time(
            set_.applied_on, set_.aged, set_.cold, set_.coat_thickness, set_.carbonation_rate
        ),
        words=_setting_words,
    )


def _setting_words(set_: Setting) -> str:
    curing = set_.curing
    before = (
        f" {MM * curing.depth_at_frost:.1f} mm of {MM * set_.coat_thickness:.1f} have set when cold comes in "
        f"{curing.frost_on:%B}."
        if curing.frost_on and not curing.protect
        else ""
    )
    return f"Laid on {set_.applied_on:%d %B}. {curing.words}{before}"


WANTED, CARBONATE, BURNT = 0.4, 0.92, 0.85

stone_for_a_tank = Exercise(
    question=(
        f"You want {LITRES * WANTED:.0f} L of putty. Your stone is {100 * CARBONATE:.0f} % calcium carbonate, the "
        f"rest quartz, and your kiln burns {100 * BURNT:.0f} % of the carbonate. How many kilograms of stone do you "
        "charge?"
    ),
    answer=lambda: f"{stone_for_putty.plain(WANTED, CARBONATE, BURNT)} kg",
    unit="kg",
    tolerance=0.015,
    slips=(
        Slip("you took every stone for burnt through", lambda _: stone_for_putty.plain(WANTED, CARBONATE, 1.0)),
        Slip("you took the stone for pure", lambda _: stone_for_putty.plain(WANTED, 1.0, BURNT)),
        Slip("that is what the putty weighs, and half of that is water", lambda _: WANTED * fact("putty_density")),
    ),
    hint="limekit.stone_for_putty(putty_volume=..., calcium_carbonate=..., conversion=...).",
)

VOIDS, RECIPE = 0.4, 1.0 / 3.0

richest_sand = Exercise(
    question=(
        f"A litre of dry sand takes {1000 * VOIDS:.0f} mL of water before it shows. How many parts of that sand does "
        "one part of putty fill?"
    ),
    answer=lambda: 1.0 / VOIDS,
    slips=(
        UPSIDE_DOWN,
        Slip(
            f"that is the common recipe, and leaves {100 * (1.0 - RECIPE / VOIDS):z.0f} % of this sand's voids empty",
            lambda _: 1.0 / RECIPE,
        ),
        Slip("that is the sand's grains, not its voids", lambda _: 1.0 / (1.0 - VOIDS)),
    ),
    hint="One part of putty fills the voids of as many parts of sand as the voids go into one.",
)

twice_as_thick = Exercise(
    question="A coat twice as thick, in the same weather: how many times as long until it has set through?",
    answer=lambda: time_to_depth.plain(0.02) / time_to_depth.plain(0.01),
    slips=(
        Slip("the air has to come through twice the depth already set, so it is more than twice", lambda _: 2.0),
        Slip("that is how much deeper it sets in twice the time", lambda _: math.sqrt(2.0)),
        Slip("depth goes by the root of time, so time goes by the square of depth, not its cube", lambda _: 8.0),
        UPSIDE_DOWN,
    ),
    hint="Depth is a rate times the root of time: turn it round.",
)
