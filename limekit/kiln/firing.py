"""A flare kiln fired hour by hour: when it is done, with how much fuel, what is left raw, and where the heat went."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Annotated

import numpy as np

from limekit.balance import mass_balance
from limekit.edge import Fields, Ground, edge, rests_on
from limekit.errors import InputError
from limekit.estimate import Span
from limekit.facts import fact
from limekit.fire.fuel import OAK, Fuel, grounds
from limekit.kiln.column.budget import HeatBudget, heat_budget
from limekit.kiln.column.burn import Burn
from limekit.kiln.column.charge import Arrangement, read_sizes
from limekit.kiln.column.history import FiringHistory, Place, history
from limekit.kiln.column.limits import Limit, find_limits
from limekit.kiln.column.stoking import BurntFuel
from limekit.kiln.keeping import USUAL_FIRE, Fire
from limekit.kiln.kiln import Kiln
from limekit.kiln.lighting import BESIDE, FiringPlan, flare_kiln, read_stoking
from limekit.limestone import USUAL_STONE, Stone
from limekit.stone.posterior import NINETY
from limekit.units import DAY, HOUR, Kelvin, Kilogram, Pascal, Second, Share, Unit

LEVELS, MOST_LEVELS = 20, 200
RINGS, MOST_RINGS = 2, 5
SAME_MASS = 1e-6  # of a charge, within which two are one
LONGEST_FIRING = 14 * DAY  # s, where no hours are set
LEAST_A_DAY = 0.002  # mean conversion below which a day's firing stands still
NEARLY_ALL = 1.0 - 1e-6


@dataclass(frozen=True)
class Firing:
    """A firing and what came of it.

    `finish` is None where the charge was never done, and `hours` with it. `hours` and `fuel` have the model's own
    figure in the middle, and the range (90 %) in which real kilns lie about it. `efficiency` is the heat of
    dissociation at 25 °C over the lower heating value of all the fuel burnt. `limits` say what held the
    firing back and what would lift it; `verdict` says how it ended. `plan` is what was asked, in SI floats, and
    `burn` the kiln as the fire was let out: `limekit.fire_range` and `limekit.cool_kiln` go on from them.
    """

    finish: Second | None
    hours: Annotated[Span | None, Unit("s")]
    fuel: Annotated[Span, Unit("kg")]
    firing_time: Second
    fuel_used: Kilogram
    conversion: Share
    quicklime: Kilogram
    raw_stone: Kilogram
    fuel_per_quicklime: Share | None
    efficiency: Share
    heat_budget: HeatBudget
    lime_temperature: Kelvin
    overburnt_share: Share
    limits: tuple[Limit, ...]
    cautions: tuple[str, ...]
    verdict: str
    history: FiringHistory = field(repr=False)
    plan: FiringPlan = field(repr=False)
    burn: Burn = field(repr=False)
    basis: tuple[Ground, ...] = ()

    @property
    def burnt_share(self) -> float:
        """Of the fuel, what gave its heat to the gas; the rest left as smoke and embers."""
        budget = self.heat_budget
        return float(1.0 - budget.unburnt_heat / budget.fuel_heat) if self.fuel_used else 1.0

    @property
    def places(self) -> tuple[Place, ...]:
        """How each size of stone came out in each third of the charge."""
        return self.history.places()

    @property
    def rawest(self) -> Place:
        """The stones that burn through last."""
        return min(self.places, key=lambda place: place.conversion)

    @property
    def raw(self) -> tuple[Place, ...]:
        """The places whose stone is still raw and would be picked out, the rawest first."""
        least = fact("raw_below")
        return tuple(sorted((p for p in self.places if p.conversion < least), key=lambda place: place.conversion))


def keep_up(burn: Burn, hours: float | None, conversion: float, after: Callable | None = None) -> None:
    """Keep the fire up until all is burnt as wanted, the hours have passed, or a day has brought nothing more."""
    last = min(LONGEST_FIRING if hours is None else hours, burn.stoker.last_fed)
    while burn.clock < last and burn.burnt.min() < conversion:
        before, gas = burn.burnt, burn.column.gas_temperature.copy()
        burn.run(min(burn.clock + DAY, last), conversion, after)
        settled = np.abs(burn.column.gas_temperature - gas).max() < 1.0
        if hours is None and settled and np.all(burn.burnt - before < LEAST_A_DAY):
            break


def finish_times(burn: Burn, conversion: float) -> np.ndarray:
    """Return when each member reached a mean conversion, s; infinite where it never did."""
    times = np.append(0.0, burn.moments.time)
    burnt = np.vstack([np.zeros_like(burn.burnt), burn.moments.burnt])
    return np.array(
        [
            np.interp(conversion, column, times) if column[-1] >= conversion else np.inf
            for column in np.maximum.accumulate(burnt).T
        ]
    )


def beside_others(figure: float, what: str) -> Span:
    """Return a figure of the model with the 90 % range in which real kilns lie about it."""
    factor = fact(f"{what}_between_kilns") ** NINETY
    return Span(figure, figure / factor, figure * factor)


def _verdict(finish: float | None, firing: dict, limits: tuple[Limit, ...]) -> str:
    if finish is None:
        return " ".join(map(str, limits[:2]))
    done = (
        f"Done after {finish / HOUR:.3g} h and {firing['fuel_used']:.3g} kg of fuel: "
        f"{firing['quicklime']:.3g} kg of quicklime, {firing['raw_stone']:.2g} kg of stone left raw."
    )
    return " ".join([done, *(str(limit) for limit in limits if limit.name == "heat")])


@edge
def fire_kiln(
    kiln: Annotated[Kiln, Fields(BESIDE)],
    fuel: Fuel = OAK,
    *,
    stone: Stone = USUAL_STONE,
    fire: Fire = USUAL_FIRE,
    stone_sizes: Mapping | None = None,
    arrangement: Arrangement = "mixed",
    air_temperature: Kelvin = fact("start_temperature"),
    wind_pressure: Pascal = 0.0,
    levels: int = LEVELS,
    rings: int = RINGS,
) -> Firing:
    """Fire a flare kiln in the model, from lighting until the charge is done.

    Parameters
    ----------
    kiln : Kiln, KilnDesign or mapping
        From `limekit.size_kiln` or `limekit.design_kiln`, or what the first would be given; filled
        with the stone it was sized for. Altitude, chimney, wall, cover and how the charge is laid
        may be given beside it: ``chimney_height="2 m", wall_kind="rubble", laid="by hand"``.
    fuel : Fuel
        The fuel, or one of `limekit.fuel_names` with its fuel_moisture beside it.
    stone : Stone
        What is charged, or its fields one by one: ``calcium_carbonate=0.95``. Its moisture is
        driven off first.
    fire : Fire
        How the fire is kept, or its fields one by one: ``excess_air=0.8, hours="20 h"``.
    stone_sizes : mapping, optional
        As for `limekit.sauter_diameter`; the sizes are those of balls that burn alike. Without it,
        a quarter each of the kiln's smallest and largest stone and half of the size between.
    arrangement : {"mixed", "graded"}
        How the sizes lie: all at every level, or the largest at the bottom.
    air_temperature : Kelvin
        Outside; stone and wall start there.
    wind_pressure : Pascal
        That wind adds to the draught: 5 Pa are no rare thing, and nobody knows them beforehand.
    levels : int
        Into which the charge is cut. Twenty give hours some 2 % too long against very many.
    rings : int
        Of one section each, into which the charge is cut from the heart to the rim; one has no rim.

    Returns
    -------
    Firing
        A kiln that cannot draw, a fire that cannot reach what is asked and a charge that is never
        done are no error: `finish` is then None, and `limits` say why and what would lift it.

    Raises
    ------
    InputError
        If the kiln is no flare kiln, fuel is wetter than keeps its own fire, nothing is to be burnt, or
        an argument cannot be read.

    Notes
    -----
    Level by level, H_out = H_in + H_given − Q_stones − Q_wall − Q_leaks, with the heat H in the gas
    (`sensible_heat`) and in what the stones give to it, and Q = α A (T_gas − T_face). Each stone burns by the
    equations of `burning_time`, the wall warms by those of `fire_wall`, the air is that of `draught_flow`;
    column and fire are told in `limekit.kiln.column.column`, its rings and flames in `limekit.kiln.column.rings`.
    The charge does not sink, steam does not settle on cold stone, lime takes up no carbon dioxide as it
    cools, gas keeps its make-up ring by ring, and a flame's heat comes to the stone by the gas about it.

    Examples
    --------
    >>> from limekit import size_kiln
    >>> firing = fire_kiln(size_kiln(stone="500 kg", largest_stone="100 mm"), chimney_height="1.5 m")
    >>> print(f"{firing.finish:.0f~P}, {firing.fuel_used:.0f~P}; {firing.efficiency:.2f~P}")
    17 h, 620 kg; 0.09
    """
    if not 1 <= levels <= MOST_LEVELS:
        raise InputError("levels", f"{levels}", f"1 to {MOST_LEVELS}", f"levels={LEVELS}")
    if not 1 <= rings <= MOST_RINGS:
        raise InputError("rings", f"{rings}", f"1 to {MOST_RINGS}", f"rings={RINGS}")
    kiln = flare_kiln(kiln)
    if stone.mass is not None and not math.isclose(stone.mass, kiln.stone, rel_tol=SAME_MASS):
        got = f"{stone.mass:.4g} kg for a kiln sized for {kiln.stone:.4g} kg"
        example = f'size_kiln(stone="{stone.mass:.4g} kg", largest_stone="80 mm")'
        raise InputError("stone", got, "the kiln sized for the stone", example)
    wanted = fact("flare_conversion") if fire.conversion is None else fire.conversion
    if wanted <= 0.0:
        raise InputError("conversion", f"{wanted:g}", "a share of the charge to be burnt", "conversion=0.95")
    usual = rests_on("flare_conversion") if fire.conversion is None else ()
    conversion, excess_air = min(wanted, NEARLY_ALL), fire.excess_air
    if fire.air_door == "open":
        excess_air = None
    elif fire.fire_temperature is not None:
        hottest = BurntFuel.of(fuel.kind, fuel.moisture, air_temperature).excess_air(fire.fire_temperature)
        excess_air = max(hottest, float(fact("excess_air").low))
    plan = FiringPlan(
        kiln=kiln,
        fuel=fuel,
        stone=stone,
        fire=fire.but(excess_air=excess_air, conversion=conversion, stoking=read_stoking(fire.stoking)),
        shares=tuple(read_sizes(stone_sizes, kiln.smallest_stone, kiln.largest_stone).items()),
        arrangement=arrangement,
        air_temperature=air_temperature,
        wind_pressure=wind_pressure,
        levels=levels,
        rings=rings,
    )
    burn = plan.light()
    keep_up(burn, fire.hours, conversion)

    told, (reached, magnesium) = history(burn, kiln), (float(share[0]) for share in burn.column.burnt)
    balance = mass_balance.plain(
        kiln.stone,
        conversion=reached,
        conversion_of_magnesium=magnesium,
        **stone.made_of,
    )
    fuel_used = float(np.diff([0.0, *told.times]) @ told.fuel_rate)
    budget = heat_budget(burn)
    known = {
        "fuel_used": fuel_used,
        "quicklime": balance.quicklime,
        "raw_stone": balance.core,
        "overburnt_share": told.dead_share,
    }
    finish = float(finish_times(burn, conversion)[0])
    finish = finish if np.isfinite(finish) else None
    limits = find_limits(burn, conversion, None if excess_air is None else fire.fire_temperature, told.dead_share)
    is_fed = fire.stoking_rate is not None or fire.stoking is not None
    return Firing(
        finish=finish,
        hours=None if finish is None else beside_others(finish, "hours_where_feeding_is_known" if is_fed else "hours"),
        fuel=beside_others(fuel_used, "fuel"),
        firing_time=burn.clock,
        conversion=reached,
        fuel_per_quicklime=fuel_used / balance.quicklime if reached > 0.0 else None,
        efficiency=budget.dissociation_heat / budget.fuel_heat if fuel_used else 0.0,
        heat_budget=budget,
        lime_temperature=float(max(one.stone_temperature[-1].max() for one in told.rings or (told,))),
        limits=limits,
        cautions=(*kiln.outside_data, *burn.column.wall.over_limit()),
        verdict=_verdict(finish, known, limits),
        history=told,
        plan=plan,
        burn=burn,
        basis=(*grounds(fuel.kind, fuel.fuel_moisture), *usual, *rests_on("mouth_open_share", "cover_thickness")),
        **known,
    )
