"""Sizing: kilns that could be built, each fired in the model, side by side."""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np
import pandas as pd

from limekit.course.checks import PERCENT, UPSIDE_DOWN, Exercise, Slip
from limekit.course.controls import Slider
from limekit.course.explorer import Explorer
from limekit.course.recorded import design_of, firing_of
from limekit.estimate import Span, shown
from limekit.facts import fact
from limekit.kiln.column.history import Place
from limekit.kiln.ensemble import FiringRange, fire_range
from limekit.kiln.firing import Firing, fire_kiln
from limekit.kiln.kiln import Kiln
from limekit.kiln.sizing import size_kiln
from limekit.pictures import sizing as pictures
from limekit.pictures.progress import progress
from limekit.records.kiln_record import Record
from limekit.stone.assessment import Assessment
from limekit.units import DAY, HOUR, MM, TONNE, ZERO_CELSIUS

CHIMNEY, LOW = 2.0, 1.2
SMALLER, LARGER = 0.75, 1.25
REMEMBERED, MEMBERS = 3, 15
LONGEST = 5.0 * DAY  # of firing


@dataclass(frozen=True)
class Candidate:
    """A kiln that could be built, fired; in plain SI floats."""

    name: str
    size: Kiln
    chimney_height: float
    fire_temperature: float
    firing: Firing

    @functools.cached_property
    def rawest(self) -> Place:
        """The stones that burn through last."""
        return min(self.firing.places, key=lambda place: place.conversion)

    def bar(self) -> pictures.Bar:
        """Return what the picture shows of it."""
        firing = self.firing
        return pictures.Bar(
            self.name,
            firing.hours or Span(*[firing.firing_time] * 3),
            firing.finish is not None,
            firing.quicklime,
            firing.fuel_per_quicklime,
            1.0 - self.rawest.conversion,
            firing.overburnt_share,
        )

    def row(self) -> dict:
        """Return its line of the table."""
        size, firing = self.size, self.firing
        return {
            "kiln": self.name,
            "stone [kg]": f"{size.stone:.0f}",
            "largest stone [mm]": f"{MM * size.largest_stone:.0f}",
            "inside, width × height [m]": f"{size.kiln_diameter:.2f} × {size.kiln_height:.2f}",
            "outside width [m]": f"{size.outer_diameter:.2f}",
            "bricks, fire + common + arches": f"{size.fire_bricks} + {size.common_bricks} + {size.arch_bricks}",
            "iron ties, flat bar for all [m]": f"{size.ties}, {size.tie_length:.0f}",
            "set in the vault [kg]": f"{size.vault_mass:.0f}",
            "grate bars, where wanted": f"{size.grate_bars} × {size.grate_bar_length:.2f} m",
            "chimney [m]": f"{self.chimney_height:.1f}",
            "done after [h]": f"{firing.finish / HOUR:.0f}"
            if firing.finish
            else f"not in {firing.firing_time / HOUR:.0f}",
            "fuel [kg]": f"{firing.fuel_used:.0f}",
            "quicklime [kg]": f"{firing.quicklime:.0f}",
            "rawest place": str(self.rawest),
            "may be dead-burnt [%]": f"{100 * firing.overburnt_share:.0f}",
            "what held it back, and what lifts it": " ".join(map(str, firing.limits)),
        }


@dataclass(frozen=True)
class Yard:
    """Kilns side by side, the last of them the one in hand."""

    candidates: tuple[Candidate, ...]

    @property
    def own(self) -> Candidate:
        """The one in hand."""
        return self.candidates[-1]


def candidate(name: str, burning: dict, chimney_height: float, fire_temperature: float, **sized) -> Candidate:
    """Size a kiln by its rules and fire it."""
    size = size_kiln.plain(**sized)
    fire = {"chimney_height": chimney_height, "fire_temperature": fire_temperature}
    return Candidate(name, size, **fire, firing=fire_kiln.plain(size, hours=LONGEST, **(burning | fire)))


def yard_explorer(record: Record, assessment: Assessment) -> Explorer:
    """Slide a kiln of your own beside the record's and seven that differ from it in one thing; all are fired.

    Parameters
    ----------
    record : Record
        Its kiln, stone and fire are where everything starts.
    assessment : Assessment
        Of the trial; its stone is burnt.
    """
    design, burning = design_of(record, assessment), firing_of(record, assessment)
    size, evenness = design.size, design.size.smallest_stone / design.size.largest_stone
    start = {
        "stone": size.stone,
        "largest_stone": size.largest_stone,
        "height_to_diameter": size.height_to_diameter,
        "chimney_height": size.chimney_height,
        "fire_temperature": burning["fire"].fire_temperature,
    }

    def build(name: str, **changed) -> Candidate:
        wanted = start | changed
        return candidate(name, burning, smallest_stone=evenness * wanted["largest_stone"], **wanted)

    own = functools.lru_cache(REMEMBERED)(functools.partial(build, "yours, by the sliders"))
    taller = start["chimney_height"] + CHIMNEY
    larger, smaller = LARGER * size.largest_stone, SMALLER * size.largest_stone
    eased = {"chimney_height": taller, "largest_stone": larger, "height_to_diameter": LOW}
    changes = {
        "the record's kiln": {},
        "half as much stone": {"stone": size.stone / 2.0},
        "twice as much stone": {"stone": 2.0 * size.stone},
        f"stone of {MM * smaller:.0f} mm": {"largest_stone": smaller},
        f"stone of {MM * larger:.0f} mm": {"largest_stone": larger},
        "lower and wider": {"height_to_diameter": LOW},
        f"{CHIMNEY:.0f} m more of chimney": {"chimney_height": taller},
        "the last three at once": eased,
    }
    others = []
    with progress("Firing the kilns of the yard") as tell:
        for name, changed in changes.items():
            others.append(build(name, **changed))
            tell(len(others) / len(changes))
    written = {
        "stone": f"{size.stone} kg",
        "largest_stone": f"{MM * size.largest_stone} mm",
        "height_to_diameter": size.height_to_diameter,
        "chimney_height": f"{start['chimney_height']} m",
        "fire_temperature": f"{start['fire_temperature'] - ZERO_CELSIUS} degC",
    }
    ends = {
        "stone": {"low": "200 kg", "high": "4000 kg", "step": 50},
        "height_to_diameter": {"low": 1.2, "high": 1.6, "step": 0.05},
        "chimney_height": {"high": "6 m"},
        "fire_temperature": {"low": "1000 degC", "high": "1300 degC"},
    }
    return Explorer(
        [Slider(name, start=value, **ends.get(name, {})) for name, value in written.items()],
        model=lambda **moved: Yard((*others, own(**moved))),
        picture=lambda yard: pictures.side_by_side([one.bar() for one in yard.candidates]),
        words=_yard_words,
        table=lambda yard: pd.DataFrame([one.row() for one in yard.candidates]),
        presets={
            case: written | changed
            for case, changed in (
                ("no chimney", {"chimney_height": "0 m"}),
                ("the small one, built with care", {"stone": "400 kg", "chimney_height": "2 m"}),
                ("a village's kiln", {"stone": "3000 kg", "largest_stone": "120 mm", "chimney_height": "2 m"}),
                ("driven hard", {"chimney_height": "2 m", "fire_temperature": "1250 degC"}),
                ("small stone, to be quick", {"largest_stone": "40 mm"}),
                ("small stone and no chimney", {"largest_stone": "40 mm", "chimney_height": "0 m"}),
            )
        },
        keeps=lambda yard: {"kiln": _kept(yard)},
    )


def _yard_words(yard: Yard) -> str:
    own, firing = yard.own, yard.own.firing
    ratio = firing.fuel_per_quicklime
    ended = (
        f"is done after {firing.finish / HOUR:.0f} h ({firing.hours.low / HOUR:.0f} to {firing.hours.high / HOUR:.0f}) "
        f"with {firing.fuel_used:.0f} kg of fuel ({firing.fuel.low:.0f} to {firing.fuel.high:.0f}), {ratio:.2f} kg a "
        f"kilo of its {firing.quicklime:.0f} kg of quicklime"
        if firing.finish
        else f"is not done after {firing.firing_time / HOUR:.0f} h"
    )
    return (
        f"A kiln {own.size.kiln_diameter:.2f} m across for {own.size.stone:.0f} kg of stone up to "
        f"{MM * own.size.largest_stone:.0f} mm, with {own.chimney_height:.1f} m of chimney, {ended}; the "
        f"rawest stones ({own.rawest.part}{own.rawest.ring}, {MM * own.rawest.size:.0f} mm) are burnt to "
        f"{100 * own.rawest.conversion:.0f} %, and {100 * firing.overburnt_share:.0f} % of the charge may be "
        "dead-burnt."
    )


def _kept(yard: Yard) -> dict:
    size = yard.own.size
    return {
        "kind": "flare",
        "stone": f"{size.stone:.0f} kg",
        "kiln_diameter": f"{size.kiln_diameter:.3f} m",
        "kiln_height": f"{size.kiln_height:.3f} m",
        "largest_stone": f"{MM * size.largest_stone:.0f} mm",
        "smallest_stone": f"{MM * size.smallest_stone:.0f} mm",
        "chimney_height": f"{yard.own.chimney_height:.2f} m",
        "efficiency": float(f"{yard.own.firing.efficiency:.2g}"),
    }


def pace(record: Record, assessment: Assessment) -> str:
    """Say what sets the pace of the record's kiln, and how its hours stand to a rule of thumb."""
    design = design_of(record, assessment)
    firing, rule = design.firing, design.rule_time
    hours, wood = design.firing_time, design.fuel_mass
    return (
        f"The record's kiln takes **{wood.middle:.0f}** kg of wood ({wood.low:.0f} to {wood.high:.0f}) and "
        f"**{hours.middle / HOUR:.0f}** hours ({hours.low / HOUR:.0f} to {hours.high / HOUR:.0f}). "
        f"{' '.join(map(str, firing.limits))} The rule of thumb, heating up and the largest stone and a soak, comes to "
        f"{rule.middle / HOUR:.0f} hours ({rule.low / HOUR:.0f} to {rule.high / HOUR:.0f})."
    )


@dataclass(frozen=True)
class Sure:
    """A firing, and when it is done by what the trial leaves open; in plain SI floats."""

    firing: Firing
    ranged: FiringRange

    def wood(self, time: float) -> float:
        """Return the fuel fed by a time, kg, the last pace going on after the end."""
        history, end = self.firing.history, self.firing.firing_time
        return float(history.fed_by(min(time, end)) + history.fuel_rate[-1] * max(time - end, 0.0))


def sure_explorer(record: Record, assessment: Assessment) -> Explorer:
    """Slide how sure you want to be; see the hours to be ready for, by what the trial leaves open.

    Parameters
    ----------
    record : Record
        Its kiln is fired once for every stone the trial leaves possible.
    assessment : Assessment
        From `limekit.assess_trial`.
    """
    firing = design_of(record, assessment).firing
    with progress("Firing the kiln with every stone that the trial leaves open") as tell:
        known = Sure(firing, fire_range.plain(firing, assessment, MEMBERS, tell))
    spread = float(fact("draught_spread"))
    return Explorer(
        [Slider("done_share", start=0.9, low=0.5, high=0.95, step=0.05, label="how sure you want to be", looks=True)],
        model=lambda: known,
        picture=lambda sure, done_share: pictures.chance(sure.ranged, spread, done_share),
        words=_sure_words,
    )


def _sure_words(sure: Sure, done_share: float) -> str:
    ranged, spread = sure.ranged, fact("draught_spread")
    hours, middle = ranged.finish_by(done_share), ranged.finish_by(0.5)
    if not np.isfinite(hours):
        return f"To be {100 * done_share:.0f} % sure is not to be had. {ranged.verdict}"
    return (
        f"To be {100 * done_share:.0f} % sure of the charge, as far as the stone goes, be ready for {hours / HOUR:.0f} "
        f"hours and {shown(sure.wood(hours), 2)} kg of wood, against {middle / HOUR:.0f} hours in the middle; a "
        f"draught {100 * spread:.0f} % better or worse moves them all to between {hours / (1 + spread) / HOUR:.0f} and "
        f"{hours / (1 - spread) / HOUR:z.0f}."
    )


TIMES = 3.0


def _width(stone: float) -> float:
    return size_kiln.plain(stone, fact("flare_largest_stone")).kiln_diameter


three_times_the_stone = Exercise(
    question=(
        f"Two kilns of one shape; one holds {TIMES:.0f} times as much stone as the other. How many times as wide is it?"
    ),
    answer=lambda: _width(TIMES * TONNE) / _width(TONNE),
    tolerance=0.015,
    shown=".2f",
    slips=(
        Slip("that is how much more it holds; it grows in three directions at once", lambda _: TIMES),
        Slip("that is the square root, right for a floor: a kiln grows upward too", lambda _: TIMES**0.5),
        Slip("that is the growth of floor and wall, not of the width", lambda right: right**2),
        UPSIDE_DOWN,
    ),
    hint="limekit.size_kiln(stone=..., largest_stone=...).diameter for two charges, and divide.",
)

WIDER = 2.0

wall_a_kilo = Exercise(
    question=(
        f"One kiln is {WIDER:.0f} times as wide as another, and of the same shape. How much wall has it inside for "
        "each kilo of stone, as a share of what the smaller has?"
    ),
    answer=lambda: _wall_a_kilo(WIDER**3 * TONNE) / _wall_a_kilo(TONNE),
    tolerance=0.03,
    shown=".2f",
    slips=(
        Slip("that is how many times the wall has grown; the stone has grown too", lambda _: WIDER**2),
        Slip("you let the wall stay as it was while the stone grew", lambda _: WIDER**-3),
        Slip("that is for a floor's worth of stone; it grows upward too, and so does the wall", lambda _: WIDER**-2),
        UPSIDE_DOWN,
        PERCENT,
    ),
    hint="limekit.size_kiln for one tonne and for eight: width times height, over the stone; divide.",
)


def _wall_a_kilo(stone: float) -> float:
    size = size_kiln.plain(stone, fact("flare_largest_stone"))
    return size.kiln_diameter * size.kiln_height / stone
