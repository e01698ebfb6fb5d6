"""Draw and sort: what a burn came to, told by its heaps, and what to change next."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from limekit.chemistry import CALCIUM_HYDROXIDE, CALCIUM_OXIDE, CARBON_DIOXIDE, WATER, loss_on_ignition
from limekit.course.checks import PERCENT, THE_REST, Exercise, Slip
from limekit.course.controls import Choice, Slider
from limekit.course.explorer import Explorer
from limekit.course.ladder import lesson
from limekit.errors import InputError
from limekit.fire.fuel import lower_heating_value
from limekit.frames import frame
from limekit.lime.drawing import Draw, core_share, sort_draw
from limekit.limestone import Stone
from limekit.pictures import draw as pictures
from limekit.plan.plan import Plan
from limekit.stone.signs import CONTRADICTORY, ENOUGH, UNSEEN, Diagnosis, diagnose

SIGNS = {
    "heft": ("in the hand", ("light", "heavy")),
    "sound": ("two knocked together", ("ring", "thud")),
    "slakes": ("in water it slakes", ("quick", "medium", "slow", "late", "partly", "not")),
    "skin": ("its skin is", ("clean", "shrunken", "glassy", "discoloured")),
    "plaster": ("plaster made of it", ("sound", "pops")),
}
INVENTED = {"good_lime": 0.637, "cored": 0.249, "overburnt": 0.0506, "fines": 0.0633}  # of what is drawn
INVENTED_CONVERSION = 0.95
INTO_WATER = ("all but the over-burnt heap", "the good heap and the fines", "everything")
DOUBTED = "weigh again"
FIRST = {"slakes": "partly", "skin": "glassy"}


@dataclass(frozen=True)
class Seen:
    """A piece in the hand, and what it tells."""

    core_ratio: float
    diagnosis: Diagnosis


@dataclass(frozen=True)
class Sorted:
    """A draw, what of it goes into the water, and whether its heaps are the invented ones; plain SI floats."""

    draw: Draw
    into_water: str
    is_invented: bool

    @property
    def available_lime(self) -> float:
        """The share that will slake of what goes into the water."""
        draw = self.draw
        return {
            INTO_WATER[0]: draw.available_lime / (1.0 - draw.overburnt_share),
            INTO_WATER[1]: draw.available_in_good,
            INTO_WATER[2]: draw.available_lime,
        }[self.into_water]


def piece_explorer() -> Explorer:
    """Pick up a piece and say what you see; hear what each sign means and what they come to together."""

    def look(core_ratio: float, **seen: str) -> Seen:
        return Seen(core_ratio, diagnose.plain(core_ratio, **seen))

    return Explorer(
        [
            Slider("core_ratio", start=0.5, label="core across the broken piece"),
            *(Choice(name, (UNSEEN, *words), FIRST.get(name), label) for name, (label, words) in SIGNS.items()),
        ],
        model=look,
        picture=lambda seen: pictures.broken_piece(seen.core_ratio, seen.diagnosis),
        words=_piece_words,
        presets={
            "soft and lively": _piece(0.0, "light", "ring", "quick", "clean"),
            "from the cold corner": _piece(0.6, "heavy", "thud", "partly", "clean"),
            "from over the fire": _piece(0.0, "heavy", "ring", "late", "shrunken"),
        },
    )


def _piece(core_ratio: float, *seen: str) -> dict:
    return {"core_ratio": core_ratio, **dict(zip(SIGNS, seen, strict=False))}


def _piece_words(seen: Seen) -> str:
    told = seen.diagnosis
    opening = {
        CONTRADICTORY: "These signs cannot all be true of one piece, so look again",
        ENOUGH: "This piece has burnt enough, and nothing yet tells whether too much",
    }.get(told.verdict, f"This piece is {told.verdict}")
    return f"{opening}: {'; '.join(told.signs)}. One thing to do next: {told.changes[0]}"


def invented_heaps(plan: Plan) -> dict[str, str]:
    """Return invented heaps for `draw_explorer`, as large as a plan's kiln and stone give; yours take their place."""
    stone = plan.plain.stone
    drawn = stone.mass * (1.0 - stone.stone_moisture) * (1.0 - INVENTED_CONVERSION * _loss(stone))
    return {name: f"{float(f'{share * drawn:.3g}'):g} kg" for name, share in INVENTED.items()}


def drawn(plan: Plan, heaps: Mapping, core_ratio: float) -> str:
    """Say what a plan's kiln gave by its heaps, as for `draw_explorer`, and how well the fire's heat was used."""
    stone, fuel = plan.plain.stone, plan.plain.fuel
    weighed = {name: Slider(name).si(Slider(name).shown(weight)) for name, weight in heaps.items()}
    core = weighed["cored"] * core_share.plain(core_ratio, _loss(stone))
    heat = plan.plain.forecast.fuel.middle * lower_heating_value.plain(fuel.kind, fuel.moisture)
    draw = sort_draw.plain(**weighed, core=core, stone=stone.mass, **stone.made_of, fuel_heat=heat)
    whose = "These heaps are invented, to the size of the kiln. " if dict(heaps) == invented_heaps(plan) else ""
    by_heaps, balanced = 100 * draw.conversion_by_sorting, 100 * draw.conversion_by_mass
    return (
        f"{whose}From {stone.mass:.0f} kg of stone you drew **{draw.drawn:.0f} kg**, with {core:.0f} kg of core still "
        f"in it. By the heaps {by_heaps:.0f} % of the carbonate has burnt; by what went in and what came out, "
        f"{balanced:.0f} %. If it burnt the plan's wood, the fire gave {100 * draw.efficiency:.0f} % of its heat to "
        f"making lime. {draw.doubt}"
    )


def _loss(stone: Stone) -> float:
    return loss_on_ignition.plain(stone.calcium_carbonate, stone.magnesium_carbonate)


def draw_explorer(plan: Plan, heaps: Mapping, core_ratio: float) -> Explorer:
    """Slide the heaps of a drawn kiln; hear whether it is good, and what to change.

    Heaps of what the plan charged are ``good_lime``, ``cored``, ``overburnt`` and ``fines``, as a person would write
    them; `core_ratio` is of the cored pieces, broken.
    """
    stone = plan.plain.stone
    loss, charged = _loss(stone), stone.mass
    step = 10.0 ** round(math.log10(charged / 400.0))

    def heap(name: str, most: float, **told) -> Slider:
        return Slider(name, start=heaps[name], low=0.0, high=step * round(most * charged / step), step=step, **told)

    invented = dict(heaps) == invented_heaps(plan)
    begun = {name: Slider(name).shown(weight) for name, weight in heaps.items()}

    def judge(core_ratio: float, into_water: str, **weighed: float) -> Sorted:
        core = weighed["cored"] * core_share.plain(core_ratio, loss)
        still = invented and all(math.isclose(weighed[name], weight) for name, weight in begun.items())
        return Sorted(sort_draw.plain(core=core, **weighed, **stone.made_of), into_water, still)

    return Explorer(
        [
            heap("good_lime", 1.0),
            heap("cored", 0.7),
            Slider("core_ratio", start=core_ratio, low=0.1, label="their core across the piece"),
            heap("overburnt", 0.3),
            heap("fines", 0.3),
            Slider("stone", start=f"{charged} kg", low=0.5 * charged, high=1.5 * charged, step=step),
            Choice("into_water", INTO_WATER, label="you will slake"),
        ],
        model=judge,
        picture=lambda found: pictures.sorted_heaps(found.draw),
        words=_words,
        table=lambda found: _table(found.draw),
        keeps=_kept,
    )


def _kept(found: Sorted) -> dict:
    if found.draw.verdict == DOUBTED:
        raise InputError("keep this", "weights that cannot all be right", "weights that agree", "")
    here = f"the lesson {lesson('draw_and_sort').title}"
    whose = f"the invented heaps of {here}, no draw of yours" if found.is_invented else f"your heaps in {here}"
    known = {"available_lime": round(found.available_lime, 2), "available_lime_from": f"{whose}: {found.into_water}"}
    return {"lime": known}


def _words(found: Sorted) -> str:
    draw = found.draw
    if draw.verdict == DOUBTED:
        return f"No verdict: weigh again. {draw.doubt} {draw.next_change}"
    return (
        f"{draw.verdict.capitalize()}. {draw.reason} As it lies it would count as {draw.lime_class}, because the "
        f"oxides outside its cores are {100 * draw.oxide_share:.0f} %; the good heap alone for {draw.class_of_good}. "
        f"{draw.next_change} Of what you slake, {100 * found.available_lime:.0f} % will."
    )


def _table(draw: Draw):
    by_mass = "–" if draw.conversion_by_mass is None else f"{100 * draw.conversion_by_mass:.1f}"
    rows = [
        ("drawn [kg]", f"{draw.drawn:.0f}"),
        ("core in it [kg]", f"{draw.core:.1f}"),
        ("burnt, by sorting [%]", f"{100 * draw.conversion_by_sorting:.1f}"),
        ("burnt, by mass balance [%]", by_mass),
        ("carbon dioxide left [%]", f"{100 * draw.carbon_dioxide_left:.1f}"),
        ("lime that will slake, all heaps [%]", f"{100 * draw.available_lime:.0f}"),
        ("lime that will slake, good heap [%]", f"{100 * draw.available_in_good:.0f}"),
    ]
    return frame(rows, columns=["what", "found"])


FRESH, LATER = 100.0, 106.0
DRUNK = LATER - FRESH

lime_gone_to_the_air = Exercise(
    question=(
        f"{FRESH:.0f} kg of good lime from pure stone were forgotten for a fortnight, and now weigh {LATER:.0f} kg. If "
        "all of that gain is water out of the air, how many kilos of the lime have slaked already?"
    ),
    answer=lambda: f"{DRUNK * CALCIUM_OXIDE / WATER} kg",
    unit="kg",
    shown=".1f",
    slips=(
        Slip("that is the water; each kilo of it slakes more than three of lime", lambda _: DRUNK),
        Slip("that is the hydrate they have become, water and all", lambda _: DRUNK * CALCIUM_HYDROXIDE / WATER),
        Slip("that is the lime that has not slaked yet", lambda right: FRESH - right),
        Slip(
            "you divided the other way round: lime takes up less than a third of its weight",
            lambda _: DRUNK * WATER / CALCIUM_OXIDE,
        ),
        Slip(
            "that would be carbon dioxide; it is water it drinks first",
            lambda _: DRUNK * CALCIUM_OXIDE / CARBON_DIOXIDE,
        ),
    ),
    hint='limekit.slake(lime_charge="1 kg", water="4 kg") tells what a kilo of lime binds: water less free_water.',
)

HALF = 0.5

stone_in_a_piece = Exercise(
    question="A piece of pure stone broke open on a core half as wide as itself. What share of its weight is stone?",
    answer=lambda: core_share.plain(HALF),
    tolerance=0.03,
    slips=(
        Slip("you compared widths: a piece is a solid, so the core counts by its cube", lambda _: HALF),
        Slip("that is its share of the room; the lime round it has lost weight, the core has not", lambda _: HALF**3),
        Slip("you compared areas: a piece is a solid, so the core counts by its cube", lambda _: HALF**2),
        PERCENT,
        THE_REST,
    ),
    hint="limekit.core_share(core_ratio=...) does it: the cube first, then the weight the lime has lost.",
)

LIME, CORE = 450.0, 36.0

gas_in_a_batch = Exercise(
    question=(
        f"{LIME:.0f} kg of lime from pure stone hold {CORE:.0f} kg of core. What share of the whole is carbon dioxide "
        "that the fire should have driven off?"
    ),
    answer=lambda: sort_draw.plain(good_lime=LIME - 2.0 * CORE, cored=2.0 * CORE, core=CORE).carbon_dioxide_left,
    tolerance=0.015,
    slips=(
        Slip("that is the core; less than half of a core is gas, the rest of it is lime", lambda _: CORE / LIME),
        Slip("you took the lime without its core for the whole", lambda right: right * LIME / (LIME - CORE)),
        PERCENT,
        Slip("that is the lime in the core, not the gas", lambda right: CORE / LIME - right),
    ),
    hint="The core is stone: of pure stone, its loss on ignition is gas.",
)
