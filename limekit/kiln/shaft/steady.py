"""A shaft kiln at a steady draw: how far the stone burns, how hot the lime comes out, where the fire lies.

One balance over the whole shaft (`limekit.kiln.shaft.counterflow`) finds the zones;
none is prescribed. Fuel lies among the stone.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from limekit.edge import Fields, Ground, edge, rests_on
from limekit.estimate import Span
from limekit.facts import fact
from limekit.fire.air_way import AirWay, spent
from limekit.fire.bed import sauter_diameter
from limekit.fire.fuel import Fuel
from limekit.kiln.column.gas import MASSES
from limekit.kiln.kiln import Kiln
from limekit.kiln.shaft.counterflow import Feed, Sinking
from limekit.kiln.shaft.feed import Shaft, feed_for, read_shaft
from limekit.kiln.shaft.state import Found, ShaftProfile, in_words, profile, zones
from limekit.limestone import USUAL_STONE, Stone
from limekit.units import (
    HOUR,
    MEGA,
    Kelvin,
    KilogramPerSecond,
    Metre,
    Pascal,
    Second,
    Share,
    Unit,
)

CELLS = (40, 160)  # fewest and most; between them, one for each length of stir
MAP_CELLS, MAP_TURNS, MAP_BALANCED = 24, 6, 1e-3
DRAWS, RATIOS = (8.0, 96.0), (1.5, 2.9)  # ends of a map: h in the shaft, MJ of fuel for a kilogram of stone
MAP_SIDE = 12
LOSSES = ("shaft_smoke_share", "shaft_cinder_share", "shaft_slip_share")


COKE = Fuel.plain(kind="coke")
ShaftKiln = Annotated[Kiln | None, Fields(("kiln_diameter", "kiln_height", "layers", "wall_kind", "altitude"))]


@dataclass(frozen=True)
class ShaftRun:
    """A shaft kiln at a steady draw.

    ``conversion`` is the mean, ``core_diameter`` that of the largest stone. ``zone_lengths`` are
    preheating, burning (from 1 to 99 % of what burns in all) and cooling. ``efficiency`` is heat
    of dissociation over the lower heating value of the fuel fed. ``heat_budget`` tells where that
    value goes, in shares that sum to 1; lime and gas count over what stone and air brought in.
    ``limits`` says what keeps this from being a good burn, and what would lift it. All of this is
    of level layers, whose fuel all burns to carbon dioxide; ``conversion_in_practice`` and
    ``efficiency_in_practice`` are what smoke, cinders and uneven layers leave of it.
    """

    conversion: Share
    core_diameter: Metre
    lime_temperature: Kelvin
    top_gas_temperature: Kelvin
    hottest_gas: Kelvin
    zone_lengths: Metre
    lime_class: str
    efficiency: Share
    fuel_burnt: Share
    conversion_in_practice: Annotated[Span, Unit("")]
    efficiency_in_practice: Annotated[Span, Unit("")]
    stone_rate: KilogramPerSecond
    fuel_rate: KilogramPerSecond
    air_rate: KilogramPerSecond
    residence_time: Second
    draught_wanted: Pascal
    stack_pressure: Pascal
    heat_budget: dict[str, float]
    limits: tuple[str, ...]
    cautions: tuple[str, ...]
    profile: ShaftProfile
    basis: tuple[Ground, ...] = ()

    @property
    def feasible(self) -> bool:
        """Whether no limit was hit."""
        return not self.limits


@dataclass(frozen=True, eq=False)
class ShaftWindow:
    """A shaft over draw and fuel ratio, in plain SI arrays of shape (draws, ratios).

    Parameters
    ----------
    draw_rates : ndarray, shape (draws,)
        kg/s, as for `run_shaft`.
    fuel_ratios : ndarray, shape (ratios,)
    conversion, lime_temperature, top_gas_temperature, efficiency : ndarray
        Shares and K.
    lime_class, limit : ndarray of str
        The word for over-burning; the first limit hit, empty where there is none.
    """

    draw_rates: np.ndarray
    fuel_ratios: np.ndarray
    conversion: np.ndarray
    lime_temperature: np.ndarray
    top_gas_temperature: np.ndarray
    efficiency: np.ndarray
    lime_class: np.ndarray
    limit: np.ndarray

    @property
    def feasible(self) -> np.ndarray:
        """Where no limit was hit."""
        return self.limit == ""


def _in_practice(shaft: Shaft, draw_rate: float, fuel_ratio: float, let_down: tuple) -> tuple[Span, Span]:
    """Return the share burnt and the efficiency that the losses leave, on the grid of a map."""
    losses = np.array([(loss, loss.high, loss.low) for loss in map(fact, LOSSES)])
    useful = np.prod(1.0 - losses, axis=0)[:, None]
    sinking = Sinking(feed_for(shaft, np.full_like(useful, draw_rate), useful * fuel_ratio, *let_down), MAP_CELLS)
    sinking.run(MAP_TURNS, MAP_BALANCED)
    found = Found(sinking)
    return Span(*map(float, found.conversion)), Span(*map(float, useful[:, 0] * found.efficiency))


def _draught(shaft: Shaft, feed: Feed, level: np.ndarray, gas_to_air: float) -> tuple[float, float, str]:
    """Return the pressure that the air wants and that the hot shaft gives, Pa, and a caution if it falls short."""
    way = AirWay.plain(
        bed_height=shaft.height,
        kiln_diameter=shaft.diameter,
        sauter_diameter=sauter_diameter.plain(shaft.sizes),
        air_opening_area=shaft.eye_area,
        eye_area=shaft.area,
        altitude=shaft.altitude,
    )
    flux = float(feed.stone_flux[0, 0] * feed.fuel_ratio[0, 0] * feed.fuel.air * (1.0 + feed.excess_air))
    state = level[::-1], level[0], feed.air_temperature, gas_to_air
    terms = way.terms(*state)
    given, wanted = terms.pressure, float(sum(spent(terms, flux).values()))
    if wanted <= given:
        return wanted, float(given), ""
    chimney = way.chimney_for(flux, *state) if level[0] > feed.air_temperature else None
    cure = f"a chimney of {chimney:.0f} m or a fan" if chimney and chimney < fact("chimney_most") else "a fan"
    words = f"The air wants {wanted:.0f} Pa and the shaft draws {float(given):.0f} Pa by itself: it needs {cure}."
    return wanted, float(given), words


@edge
def run_shaft(
    kiln: ShaftKiln = None,
    *,
    draw_rate: KilogramPerSecond,
    fuel_ratio: Share,
    fuel: Fuel = COKE,
    stone: Stone = USUAL_STONE,
    stone_size: Metre | None = None,
    excess_air: Share | None = None,
    air_temperature: Kelvin = fact("start_temperature"),
) -> ShaftRun:
    """Run a shaft kiln, its fuel among the stone, until it stands at a steady draw.

    Parameters
    ----------
    kiln : Kiln, optional
        From ``size_kiln(kind="shaft")``. Without one, `kiln_diameter`, `kiln_height` and
        `stone_size` are wanted, and with one, they take the place of its own; so do the `layers` of
        a wall, as for `steady_wall`, or its `wall_kind`. `altitude` bears on what it draws.
    draw_rate : KilogramPerSecond
        Lime drawn, counted as if burnt through: it sets the pace of the stone, which is heavier
        by what it loses.
    fuel_ratio : Share
        Fuel as it lies on the pile over stone as weighed.
    fuel : Fuel
        The fuel, or one of `limekit.fuel_names` with its fuel_moisture beside it.
    stone : Stone
        What is let down, or its fields one by one: ``calcium_carbonate=0.95``.
    stone_size : Metre, optional
        Of all the stone. A kiln's own stone is a quarter its smallest, half the middle and a
        quarter its largest size.
    excess_air : Share, optional
        Of the air that meets fuel, without it that of fuel among stone; what slips up along the
        wall is not counted.
    air_temperature : Kelvin
        Of air, stone and fuel as they go in.

    Returns
    -------
    ShaftRun
        A steady state, with heat and mass closed to 1e-6 where no limit "unsettled" is named.

    Raises
    ------
    InputError
        If the kiln is no shaft, neither it nor its measures are given, or the stone cannot be burnt.

    Notes
    -----
    Plug flow of stone and gas; one gas temperature across the shaft. Stones burn by the equations of
    `burning_time`. Fuel has the gas's temperature, burns to carbon dioxide and steam only, and a lump of
    the share m left shrinks by d(m^⅓)/dt = −(x/x_air)/(τ (1 + exp(E/R (1/T − 1/T_f)))), with the oxygen x
    around it, the facts ``fuel_burn_out`` τ and ``fuel_burns_from`` T_f and an activation energy E. What wood
    gives off as gas is counted as burning with its coal, which flatters wood. Heat is carried up and down
    by glow between lumps, λ = 4 σ d T³/(2/ε − 1), and by a stir of three stones' length. The wall loses by one
    conductance, found at 900 °C. No carbon monoxide, no fines, no channels. What they take in practice is
    told by the same balance with the share (1 − s)(1 − c)(1 − u) of the fuel: s leaves as smoke, c as
    cinders and fines, and u is spent beside the stone where layers lie unevenly and gas slips up the wall.

    Examples
    --------
    >>> from limekit import size_kiln
    >>> size = size_kiln(stone="30 tonne", largest_stone="80 mm", kind="shaft")
    >>> run = run_shaft(size, draw_rate="10 tonne/day", fuel_ratio=0.075)
    >>> print(f"efficiency {run.efficiency:.2f~P}, lime at {run.lime_temperature:.0f~P}")
    efficiency 0.76, lime at 20 °C
    """
    shaft = read_shaft(kiln, stone_size)
    let_down, one = (fuel, stone, excess_air, air_temperature), np.ones((1, 1))
    feed = feed_for(shaft, draw_rate * one, fuel_ratio * one, *let_down)
    stir = fact("shaft_mixing") * float(feed.shares @ feed.piece.diameter)
    sinking = Sinking(feed, int(np.clip(math.ceil(shaft.height / stir), *CELLS)))
    sinking.run()
    found, largest = Found(sinking), int(np.argmax(feed.piece.diameter))
    stone_rate = float(feed.stone_flux[0, 0] * shaft.area / (1.0 - stone.stone_moisture))
    fed, air = stone_rate * fuel_ratio, float(feed.fuel.air * (1.0 + feed.excess_air))
    gas = (sinking.gas[:, 0] * MASSES[:, None]).sum(axis=0)
    wanted, given, caution = _draught(shaft, feed, sinking.gas_temperature[0], gas[0] / max(gas[-1], 1e-9))
    heat = float(feed.heating[0, 0])
    conversion, efficiency = _in_practice(shaft, draw_rate, fuel_ratio, let_down)
    return ShaftRun(
        conversion=float(found.conversion[0]),
        core_diameter=float(feed.piece.diameter[largest] * np.cbrt(1.0 - sinking.stones.conversion[0, -1, largest])),
        lime_temperature=float(found.lime_temperature[0]),
        top_gas_temperature=float(found.top_gas_temperature[0]),
        hottest_gas=float(sinking.gas_temperature.max()),
        zone_lengths=zones(sinking),
        lime_class=found.lime_class[0],
        efficiency=float(found.efficiency[0]),
        fuel_burnt=float(found.fuel_burnt[0]),
        conversion_in_practice=conversion,
        efficiency_in_practice=efficiency,
        stone_rate=stone_rate,
        fuel_rate=fed,
        air_rate=fed * air,
        residence_time=float(feed.residence[0, 0]),
        draught_wanted=wanted,
        stack_pressure=given,
        heat_budget={part: float(one[0]) / heat if heat else 0.0 for part, one in found.ledger.items()},
        limits=tuple(in_words(name, figure) for name, figure in found.limits(0)),
        cautions=(caution,) if caution else (),
        profile=profile(sinking),
        basis=rests_on("shaft_mixing", "fuel_burn_out", "heat_transfer_coefficient", *LOSSES),
    )


@edge
def shaft_window(
    kiln: ShaftKiln = None,
    *,
    draw_rates: KilogramPerSecond | None = None,
    fuel_ratios: Share | None = None,
    fuel: Fuel = COKE,
    stone: Stone = USUAL_STONE,
    stone_size: Metre | None = None,
    excess_air: Share | None = None,
    air_temperature: Kelvin = fact("start_temperature"),
) -> ShaftWindow:
    """Run a shaft at many draws and fuel ratios and map where it burns well, and what hinders it elsewhere.

    Parameters
    ----------
    draw_rates : KilogramPerSecond, optional
        Lime drawn as if burnt through, (draws,); without them, twelve from a shaft that is
        drawn through in 96 h to one drawn through in 8.
    fuel_ratios : Share, optional
        Fuel over stone, (ratios,); without them, twelve from 1.5 to 2.9 MJ of fuel a kilogram of stone.
    kiln, fuel, stone, stone_size, excess_air, air_temperature
        As for `run_shaft`.

    Returns
    -------
    ShaftWindow
        On a coarser grid than `run_shaft` and not brought to as fine a balance: within about
        0.05 of its conversion, and 30 K of its top gas, away from the edges of the window.

    Raises
    ------
    InputError
        As `run_shaft`.
    """
    shaft = read_shaft(kiln, stone_size)
    let_down = (fuel, stone, excess_air, air_temperature)
    one = np.ones((1, 1))
    usual = feed_for(shaft, one, one, *let_down)
    if draw_rates is None:
        draw_rates = np.geomspace(*(float(usual.residence[0, 0]) / (HOUR * hours) for hours in DRAWS[::-1]), MAP_SIDE)
    if fuel_ratios is None:
        fuel_ratios = np.linspace(*(MEGA * heat / usual.fuel.heat for heat in RATIOS), MAP_SIDE)
    draw_rates, fuel_ratios = np.atleast_1d(draw_rates), np.atleast_1d(fuel_ratios)
    draws, ratios = (axis.reshape(-1, 1) for axis in np.meshgrid(draw_rates, fuel_ratios, indexing="ij"))
    sinking = Sinking(feed_for(shaft, draws, ratios, *let_down), MAP_CELLS)
    sinking.run(MAP_TURNS, MAP_BALANCED)
    found, shape = Found(sinking), (len(draw_rates), len(fuel_ratios))
    first = [next((name for name, _ in found.limits(case)), "") for case in range(len(draws))]
    return ShaftWindow(
        draw_rates=draw_rates,
        fuel_ratios=fuel_ratios,
        conversion=found.conversion.reshape(shape),
        lime_temperature=found.lime_temperature.reshape(shape),
        top_gas_temperature=found.top_gas_temperature.reshape(shape),
        efficiency=found.efficiency.reshape(shape),
        lime_class=np.array(found.lime_class).reshape(shape),
        limit=np.array(first).reshape(shape),
    )
