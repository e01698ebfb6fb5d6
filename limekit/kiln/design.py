"""One kiln drawn up as a whole: stone, size, hours, fuel, lime, each with its range."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Annotated

from limekit.balance import MassBalance, mass_balance
from limekit.edge import Fields, Ground, edge, give, rests_on
from limekit.errors import InputError
from limekit.estimate import Span, shown
from limekit.facts import Fact, fact
from limekit.fire.bed import sauter_diameter
from limekit.fire.draught import Draught, draught_flow
from limekit.fire.fuel import OAK, Fuel, FuelKind, air_demand
from limekit.grading import Keeping, judge_stone
from limekit.kiln.firing import Firing, fire_kiln
from limekit.kiln.heat import FuelDemand, fuel_demand
from limekit.kiln.keeping import USUAL_FIRE, Fire
from limekit.kiln.kiln import Kiln
from limekit.kiln.lighting import BESIDE
from limekit.kiln.particulars import Row, building, burning, charging
from limekit.kiln.sizing import size_kiln, stone_for_putty
from limekit.limestone import USUAL_STONE, Stone
from limekit.stone.burning import burning_time as time_to_burn
from limekit.stone.burning import refuse_cold_gas
from limekit.things import Thing
from limekit.units import HOUR, CubicMetre, Kelvin, KilogramPerCubicMetre, Metre, Second, Share, Unit


@dataclass(frozen=True, repr=False)
class BurningTime(Thing):
    """How long the largest stone burns, with its ends where they are known, or how far it may be out either way."""

    word = "burning_time"

    burning_time: Second | None = None
    burning_time_low: Second | None = None
    burning_time_high: Second | None = None
    burning_time_spread: Share = fact("burning_time_spread")


FROM_THE_MODEL, AS_THE_RULES = BurningTime.plain(), Kiln.plain()
DECIDED = "largest_stone", "smallest_stone", "height_to_diameter", *BESIDE
Outline = Annotated[Kiln, Fields(DECIDED)]
Kept = Annotated[Fire, Fields(("conversion", "excess_air", "stoking_rate"))]


@dataclass(frozen=True)
class KilnDesign:
    """A first design of a flare kiln; `rows` sets it out for a sheet.

    A `Span` is a figure to plan with and how far it may turn out otherwise. `firing_time`, `fuel_mass` and
    `fuel_rate` are those of `firing`, with the range that other kilns leave them; `rule_time` (of `heat_up_time`,
    `burning_time` and `soak_time`) and `demand` are rules of thumb, to hold against them. `putty_volume` is of a
    lime that may be kept as putty; `keeping` says whether this one may.
    """

    fuel: FuelKind
    fuel_moisture: Share
    gas_temperature: Kelvin
    chimney_height: Metre
    size: Kiln
    demand: FuelDemand
    balance: MassBalance
    keeping: Keeping
    draught: Draught
    firing: Firing = field(repr=False)
    stone: Annotated[Span, Unit("kg")]
    kiln_diameter: Annotated[Span, Unit("m")]
    kiln_height: Annotated[Span, Unit("m")]
    heat_up_time: Annotated[Span, Unit("s")]
    burning_time: Annotated[Span, Unit("s")]
    soak_time: Annotated[Span, Unit("s")]
    rule_time: Annotated[Span, Unit("s")]
    firing_time: Annotated[Span, Unit("s")]
    fuel_mass: Annotated[Span, Unit("kg")]
    cooling_time: Annotated[Span, Unit("s")]
    fuel_rate: Annotated[Span, Unit("kg/s")]
    quicklime: Annotated[Span, Unit("kg")]
    drawn: Annotated[Span, Unit("kg")]
    putty_volume: Annotated[Span, Unit("m^3")]
    sinking: Annotated[Span, Unit("m")]
    cautions: tuple[str, ...] = ()
    basis: tuple[Ground, ...] = ()

    @property
    def kiln(self) -> Kiln:
        """The kiln itself."""
        return self.size

    def rows(self) -> tuple[Row, ...]:
        """Return the design line by line: what, how much, how far it may be out, what it rests on."""
        return (*charging(self._given), *self.building(), *burning(self._given))

    def building(self) -> tuple[Row, ...]:
        """Return those of its lines that tell what is built."""
        return tuple(building(self._given))

    @property
    def _given(self) -> KilnDesign:
        return self if hasattr(self.stone.middle, "units") else give(self, KilnDesign, "")


def _scaled(known: Fact, by: float = 1.0) -> Span:
    return Span(known * by, known.low * by, known.high * by)


def _inside(stone: float, height_to_diameter: float | None) -> tuple[Span, Span]:
    density, usual = fact("flare_charge_density"), fact("flare_height_to_diameter")
    proportion = _scaled(usual) if height_to_diameter is None else Span(*[height_to_diameter] * 3)

    def diameter(packed: float, tall: float) -> float:
        return (4.0 * stone / packed / (math.pi * tall)) ** (1.0 / 3.0)

    widest, narrowest = diameter(density.low, proportion.low), diameter(density.high, proportion.high)
    tallest = proportion.high * diameter(density.low, proportion.high)
    lowest = proportion.low * diameter(density.high, proportion.low)
    middle = diameter(density, proportion.middle)
    return Span(middle, narrowest, widest), Span(proportion.middle * middle, lowest, tallest)


def _charge(stone: float | None, putty_volume: float | None, conversions: Span, **made_of) -> Span:
    if (stone is None) is (putty_volume is None):
        got = "both" if stone is not None else "neither"
        wanted = "one of the two: the stone you have or the putty you want"
        raise InputError("stone, putty_volume", got, wanted, 'putty_volume="500 L"')
    if stone is not None:
        return Span(stone, stone, stone)
    needed = [
        stone_for_putty.plain(putty_volume, conversion=share, **made_of)
        for share in (conversions.middle, conversions.high, conversions.low)
    ]
    return Span(*needed)


def _burning(told: BurningTime, middle: float) -> Span:
    spread = told.burning_time_spread
    low = middle * (1.0 - spread) if told.burning_time_low is None else told.burning_time_low
    high = middle * (1.0 + spread) if told.burning_time_high is None else told.burning_time_high
    if not low <= middle <= high:
        got = f"{middle / HOUR:.3g} h outside {low / HOUR:.3g} to {high / HOUR:.3g} h"
        wanted = "a burning time inside its own range: give all three from the trial"
        example = 'burning_time="5 h", burning_time_low="4 h", burning_time_high="7 h"'
        raise InputError("burning_time", got, wanted, example)
    return Span(middle, low, high)


def cautions(size: Kiln, keeping: Keeping, fired: Firing, wood: Span, hours: Span) -> tuple[str, ...]:
    """Return what is to be said of a design before it is built or lit."""
    found = list(size.warnings) if keeping.way == "putty" else [*size.warnings, keeping.words]
    if fired.finish is None:
        found.append(f"Fired so, the charge is never done: {fired.verdict}")
    found.append(
        f"Stack the upper figure of fuel, {shown(wood.high, 2)} kg, before lighting: "
        "a fire that runs out of wood before the end leaves a kiln of half-burnt stone."
    )
    if hours.high > fact("watch_stretch_most"):
        found.append(
            f"Two people cannot watch a fire of up to {shown(hours.high / HOUR, 2)} h and sleep: its turns want more."
        )
    return tuple(found)


@edge
def design_kiln(
    putty_volume: CubicMetre | None = None,
    stone: Stone = USUAL_STONE,
    *,
    kiln: Outline = AS_THE_RULES,
    fuel: Fuel = OAK,
    fire: Kept = USUAL_FIRE,
    putty_density: KilogramPerCubicMetre = fact("putty_density"),
    efficiency: Share | None = None,
    gas_temperature: Kelvin = fact("flare_gas_temperature"),
    co2_fraction: Share = fact("co2_fraction"),
    burning_time: BurningTime = FROM_THE_MODEL,
    air_temperature: Kelvin = fact("start_temperature"),
) -> KilnDesign:
    """Draw up a first flare kiln from the putty wanted, or from the stone at hand.

    Parameters
    ----------
    putty_volume : CubicMetre, optional
        Of putty wanted, where the stone's mass is not given.
    stone : Stone
        To be charged, ``stone="500 kg"`` as weighed, or without its mass where putty is wanted; or
        its fields one by one: ``calcium_carbonate=0.95``.
    kiln : Kiln
        What is decided of it, or that one by one: `largest_stone` and `smallest_stone` across the
        pieces charged (without a smallest, half the largest), `height_to_diameter` of the inside, as for
        `size_kiln`, `chimney_height` over the draw eyes, as wide as they are together, the `altitude` of the
        ground, and how it is walled, covered and laid, as for `fire_kiln`.
    fuel : Fuel
        The fuel, or one of `limekit.fuel_names` with its fuel_moisture beside it.
    fire : Fire
        What of it is decided, or that one by one: `conversion`, the share of the calcium carbonate that
        burns, over the whole charge, and what the largest stone is burnt to, without which it is what
        flare kilns reach between burns; and `excess_air`, air beyond the least that burns the fuel.
    putty_density : KilogramPerCubicMetre
        Of the putty wanted.
    efficiency : Share, optional
        Heat of dissociation over the fuel's lower heating value; without one, as published.
    gas_temperature : Kelvin
        Of the gas among the stones once the fire is full.
    co2_fraction : Share
        Of carbon dioxide in that gas, by volume.
    burning_time : BurningTime
        For the largest stone, from a trial burn, or its fields one by one: `burning_time_low` and
        `burning_time_high` where they are known, else `burning_time_spread` either way. Without
        one, from the model of one stone.
    air_temperature : Kelvin
        Outside; the stone starts there.

    Returns
    -------
    KilnDesign
        The size is for the middle figure of stone. Hours are heating up, burning and soak, as
        kilns that draw well take; their upper end is what the draught reckoned here needs for the
        upper figure of fuel, where that is longer.

    Raises
    ------
    InputError
        If both or neither of putty and stone are given, the gas is too cool ever to burn the stone
        (also where the burning time is given), or no such kiln can be (`size_kiln`).

    Notes
    -----
    firing_time = heat_up_pace · kiln_height + burning_time + soak_time, of facts and the burning time, and at
    its upper end no less than fuel_mass/fuel_rate_most of the draught; fuel_rate = fuel_mass/firing_time.
    The rest is `size_kiln`, `fuel_demand`, `mass_balance` and `draught_flow`.

    Examples
    --------
    >>> design = design_kiln(stone="500 kg", largest_stone="80 mm")
    >>> print(f"{design.kiln_diameter.middle:.2f~P} across, {design.demand.fuel_mass.middle:.0f~P} of oak")
    0.69 m across, 380 kg of oak
    """
    refuse_cold_gas(gas_temperature, co2_fraction)
    told = {"flare_largest_stone": kiln.largest_stone, "flare_conversion": fire.conversion}
    known = fact("flare_conversion")
    conversion = known if fire.conversion is None else fire.conversion
    conversions = Span(conversion, min(known.low, conversion), max(known.high, conversion))
    made_of = stone.made_of
    charged = _charge(stone.mass, putty_volume, conversions, putty_density=putty_density, **made_of)
    largest = fact("flare_largest_stone") if kiln.largest_stone is None else kiln.largest_stone
    proportion = kiln.height_to_diameter
    size = size_kiln.plain(
        charged.middle, largest, smallest_stone=kiln.smallest_stone, height_to_diameter=proportion
    ).but(**{name: getattr(kiln, name) for name in BESIDE})
    usual = rests_on(*(key for key, said in told.items() if said is None))
    diameter, height = _inside(charged.middle, proportion)
    demand = fuel_demand.plain(
        charged.middle,
        conversion=conversion,
        fuel=fuel.kind,
        fuel_moisture=fuel.fuel_moisture,
        efficiency=efficiency,
        **made_of,
    )

    needed = burning_time.burning_time
    if needed is None:
        needed = time_to_burn.plain(
            largest,
            gas_temperature,
            co2_fraction,
            conversion=conversion,
            stone=stone,
            start_temperature=air_temperature,
        )
    parts = (
        _scaled(fact("heat_up_pace"), size.kiln_height),
        _burning(burning_time, needed),
        _scaled(fact("soak_time")),
    )
    wanted = Span(*(sum(getattr(part, end) for part in parts) for end in ("middle", "low", "high")))
    fired = fire_kiln.plain(
        size,
        fuel,
        stone=stone.but(mass=None),
        fire=fire.but(conversion=conversion),
        air_temperature=air_temperature,
    )
    hours, wood = fired.hours or Span(*[fired.firing_time] * 3), fired.fuel
    rates = Span(*(wood_end / hours.middle for wood_end in (wood.middle, wood.low, wood.high)))
    draught = draught_flow.plain(
        size.air_way(sauter_diameter.plain({size.largest_stone: 1.0, size.smallest_stone: 1.0})),
        (gas_temperature + air_temperature) / 2,
        air_temperature=air_temperature,
        air_demand=air_demand.plain(fuel.kind, fuel.moisture),
        excess_air=fire.excess_air,
        fuel_rate=fired.burnt_share * rates.middle,
    )
    keeping = judge_stone.plain(stone.calcium_carbonate, stone.magnesium_carbonate, stone.clay).keeping

    least, balance, most = (
        mass_balance.plain(charged.middle, conversion=share, putty_density=putty_density, **made_of)
        for share in (conversions.low, conversions.middle, conversions.high)
    )
    return KilnDesign(
        fuel=fuel.kind,
        fuel_moisture=fuel.moisture,
        gas_temperature=gas_temperature,
        chimney_height=size.chimney_height,
        size=size,
        demand=demand,
        balance=balance,
        keeping=keeping,
        draught=draught,
        stone=charged,
        kiln_diameter=diameter,
        kiln_height=height,
        heat_up_time=parts[0],
        burning_time=parts[1],
        soak_time=parts[2],
        firing=fired,
        firing_time=hours,
        fuel_mass=wood,
        rule_time=wanted,
        cooling_time=_scaled(fact("cooling_pace"), size.kiln_diameter),
        fuel_rate=rates,
        quicklime=Span(balance.quicklime, least.quicklime, most.quicklime),
        drawn=Span(balance.drawn, most.drawn, least.drawn),
        putty_volume=Span(balance.putty_volume, least.putty_volume, most.putty_volume),
        sinking=_scaled(fact("charge_sinking"), size.kiln_height),
        cautions=cautions(size, keeping, fired, wood, hours),
        basis=size.basis
        + demand.basis
        + usual
        + rests_on("heat_up_pace", "soak_time", "cooling_pace", "charge_sinking"),
    )
