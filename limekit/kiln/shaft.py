"""A shaft kiln at a steady draw: how far the stone burns, how hot the lime comes out, where the fire lies.

One balance over the whole shaft (`limekit.kiln.counterflow`) finds the zones;
none is prescribed. Fuel lies among the stone.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from limekit.chemistry import loss_on_ignition
from limekit.edge import Ground, edge, rests_on
from limekit.errors import InputError
from limekit.facts import fact, rivals
from limekit.fire.bed import sauter_diameter
from limekit.fire.draught import AirWay
from limekit.fire.fuel import FuelName
from limekit.kiln.charge import read_sizes
from limekit.kiln.counterflow import Feed, Sinking
from limekit.kiln.gas import MASSES
from limekit.kiln.sizing import KilnSize, usual_wall
from limekit.kiln.stoking import Fuel
from limekit.kiln.walls import steady_wall
from limekit.stone.front import Piece
from limekit.stone.overburn import overburn_class, overburn_history
from limekit.stone.signs import unburnt_allowed
from limekit.units import (
    HOUR,
    MEGA,
    ZERO_CELSIUS,
    Kelvin,
    KilogramPerSecond,
    Metre,
    MetrePerSecond,
    Pascal,
    Second,
    Share,
)

LUMPS = ("charcoal", "coke", "anthracite")
CELLS = (40, 160)  # fewest and most; between them, one for each length of stir
MAP_CELLS, MAP_TURNS = 24, 6
MAP_BALANCED = 1e-3  # of the fuel's heat
UNSETTLED = 0.01
ZONE_ENDS = (0.01, 0.99)  # of what burns in all
DRAWS, RATIOS = (8.0, 96.0), (1.5, 2.9)  # ends of a map: h in the shaft, MJ of fuel for a kilogram of stone
MAP_SIDE = 12
CHIMNEY_MOST = 15.0  # m, beyond which a fan is named alone
LIMITS = {
    "out": ("the fire goes out", "more fuel, a slower draw, or drier and smaller fuel"),
    "unburnt fuel": ("fuel is drawn unburnt with the lime", "a slower draw, smaller fuel, or more air"),
    "raw core": (
        "the stone keeps a core",
        "smaller stone, more fuel, or a slower draw unless the fire stands at the top",
    ),
    "overburnt": ("the lime is burnt dead", "less fuel, or larger stone"),
    "hot lime": ("the lime is drawn hot", "a slower draw, or a longer shaft below the fire"),
    "hot top": ("the fire stands at the top", "a faster draw, less air, or less fuel"),
    "unsettled": ("the fire finds no place to stand", "another draw or fuel ratio: here it drifts for weeks"),
}


@dataclass(frozen=True)
class ShaftProfile:
    """What is where in a steady shaft, in plain SI arrays of the cells from the top down.

    Parameters
    ----------
    depth : ndarray, shape (cells,)
        m below the top.
    time : ndarray, shape (cells,)
        s since the stone went in.
    sizes : ndarray, shape (sizes,)
        m.
    gas_temperature, fuel_left, co2_fraction, oxygen_fraction : ndarray, shape (cells,)
        K and shares; the gas as it leaves the cell, fuel as a share of what was fed.
    stone_temperature, conversion : ndarray, shape (cells, sizes)
        K, mean of what is unburnt (of the lime where all is burnt), and share of the calcium carbonate.
    """

    depth: np.ndarray
    time: np.ndarray
    sizes: np.ndarray
    gas_temperature: np.ndarray
    fuel_left: np.ndarray
    co2_fraction: np.ndarray
    oxygen_fraction: np.ndarray
    stone_temperature: np.ndarray
    conversion: np.ndarray


@dataclass(frozen=True)
class ShaftRun:
    """A shaft kiln at a steady draw.

    ``conversion`` is the mean, ``core_diameter`` that of the largest stone. ``zone_lengths`` are
    preheating, burning (from 1 to 99 % of what burns in all) and cooling. ``efficiency`` is heat
    of dissociation over the lower heating value of the fuel fed. ``heat_budget`` tells where that
    value goes, in shares that sum to 1; lime and gas count over what stone and air brought in.
    ``limits`` says what keeps this from being a good burn, and what would lift it.
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


@dataclass(frozen=True)
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


@dataclass(frozen=True)
class _Shaft:
    """A shaft's inside, what stands in it, and its wall; SI floats."""

    diameter: float
    height: float
    density: float
    eye_area: float
    layers: tuple
    sizes: dict[float, float]

    @property
    def area(self) -> float:
        return math.pi / 4.0 * self.diameter**2


def _read_kiln(kiln, diameter, height, stone_size, layers) -> _Shaft:
    size = getattr(kiln, "size", kiln)
    example = (
        'run_shaft(size_kiln(stone="30 tonne", largest_stone="80 mm", kind="shaft"), draw_rate="8 tonne/day", ...)'
    )
    if size is None:
        if None in (diameter, height, stone_size):
            wanted = "a kiln from size_kiln, or kiln_diameter, kiln_height and stone_size together"
            raise InputError("kiln", "none", wanted, example)
        area = math.pi / 4.0 * diameter**2
        eyes, density = fact("mouth_share") * area, fact("shaft_charge_density")
        layers = layers or usual_wall(diameter)
        return _Shaft(diameter, height, density, eyes, layers, {stone_size: 1.0})
    if not isinstance(size, KilnSize) or size.kind != "shaft":
        got = f"a {size.kind} kiln, which is emptied after each burn" if isinstance(size, KilnSize) else repr(kiln)[:60]
        raise InputError("kiln", got, "a shaft kiln from size_kiln", example)
    sizes = {stone_size: 1.0} if stone_size else read_sizes(None, size.smallest_stone, size.largest_stone)
    return _Shaft(
        diameter=diameter or size.kiln_diameter,
        height=height or size.kiln_height,
        density=size.stone / size.kiln_volume,
        eye_area=size.eye_area,
        layers=layers or size.layers,
        sizes=sizes,
    )


def _feed(
    shaft: _Shaft,
    draw_rate,
    fuel_ratio,
    fuel: FuelName,
    fuel_moisture: float | None,
    excess_air: float,
    calcium_carbonate: float,
    magnesium_carbonate: float,
    moisture: float,
    reaction_coefficient: float,
    air_temperature: float,
) -> Feed:
    """Return what goes down the shaft; `draw_rate` and `fuel_ratio` of shape (cases, 1)."""
    dry = draw_rate / (1.0 - loss_on_ignition.plain(calcium_carbonate, magnesium_carbonate))
    kind = fuel if any(one.variant == fuel for one in rivals("fuel_burns_from")) else "wood"
    if fuel_moisture is None:
        fuel_moisture = float(fact("fuel_moisture", "lump") if fuel in LUMPS else fact("fuel_moisture"))
    hot = fact("charge_temperature")
    loss = steady_wall.plain(shaft.layers, hot, shaft.diameter, air_temperature).heat_flux / (hot - air_temperature)
    return Feed(
        piece=Piece(
            diameter=np.array(list(shaft.sizes)),
            reaction_coefficient=reaction_coefficient,
            carbonate_fraction=calcium_carbonate + magnesium_carbonate,
            magnesium_carbonate=magnesium_carbonate,
            moisture=moisture,
        ),
        shares=np.array(list(shaft.sizes.values())),
        fuel=Fuel.of(fuel, fuel_moisture, air_temperature),
        fuel_ratio=fuel_ratio / (1.0 - moisture),
        excess_air=excess_air,
        residence=shaft.density * (1.0 - moisture) * shaft.area * shaft.height / dry,
        stone_flux=dry / shaft.area,
        height=shaft.height,
        wall_loss=loss * math.pi * shaft.diameter * shaft.height / dry,
        air_temperature=air_temperature,
        burns_from=float(fact("fuel_burns_from", kind)),
        burn_out=float(fact("fuel_burn_out", kind)),
    )


class _Found:
    """What is read off a steady shaft, case by case; arrays of shape (cases,)."""

    def __init__(self, sinking: Sinking) -> None:
        feed, stones = sinking.feed, sinking.stones
        self.ledger = {part: heat[:, 0] for part, heat in sinking.ledger().items()}
        burnt = stones.conversion[:, -1]
        level = (1.0 - burnt) * stones.core_temperature[:, -1] + burnt * stones.lime_temperature[:, -1]
        self.conversion, self.lime_temperature = burnt @ feed.shares, level @ feed.shares
        self.top_gas_temperature = sinking.gas_temperature[:, 0]
        self.fuel_burnt = np.where(feed.fuel_ratio[:, 0] > 0.0, 1.0 - sinking.fuel_left[:, -1], 0.0)
        self.efficiency = self.ledger["dissociation"] / np.maximum(feed.heating[:, 0], 1e-9)
        self.warming = sinking.warming[:, 0]
        self.lime_class = [_lime_class(sinking, case) for case in range(len(self.conversion))]

    def limits(self, case: int) -> list[tuple[str, str]]:
        """Return the limits hit, by their names in `LIMITS`, each with the figure that tells of it."""
        if self.fuel_burnt[case] < 0.5:
            return [("out", f"{100 * self.fuel_burnt[case]:.0f} % of the fuel burns")]
        lime, top = self.lime_temperature[case], self.top_gas_temperature[case]
        unburnt, raw = 1.0 - self.fuel_burnt[case], 1.0 - self.conversion[case]
        hit = {
            "unburnt fuel": (unburnt > fact("fuel_unburnt_most"), f"{100 * unburnt:.0f} % of it"),
            "raw core": (raw > unburnt_allowed(), f"{100 * raw:.0f} % of the stone is left raw"),
            "overburnt": (self.lime_class[case] == "dead-burnt risk", "dead-burnt risk"),
            "hot lime": (lime > fact("draw_temperature_most"), f"{lime - ZERO_CELSIUS:.0f} °C"),
            "hot top": (top > fact("top_gas_most"), f"its gas has {top - ZERO_CELSIUS:.0f} °C"),
            "unsettled": (abs(self.warming[case]) > UNSETTLED, "not in balance after many turns"),
        }
        return [(name, figure) for name, (is_hit, figure) in hit.items() if is_hit]


def _lime_class(sinking: Sinking, case: int) -> str:
    feed, stones = sinking.feed, sinking.stones
    times = np.arange(1, sinking.cells + 1) / sinking.cells * feed.residence[case, 0]
    lime = np.where(stones.conversion[case] > ZONE_ENDS[0], stones.lime_temperature[case], feed.air_temperature)
    indices = [overburn_history.plain(times, level) for level in lime.T]
    return overburn_class.plain(float(feed.shares @ indices))


def _zones(sinking: Sinking) -> np.ndarray:
    """Return the lengths of preheating, burning and cooling, m; without any burning all is preheating."""
    burnt = np.append(0.0, sinking.stones.conversion[0] @ sinking.feed.shares)
    height = sinking.feed.height
    depth = np.linspace(0.0, height, burnt.size)
    if burnt[-1] <= ZONE_ENDS[0]:
        return np.array([height, 0.0, 0.0])
    starts, ends = np.interp(np.array(ZONE_ENDS) * burnt[-1], burnt, depth)
    return np.array([starts, ends - starts, height - ends])


def _profile(sinking: Sinking) -> ShaftProfile:
    feed, stones, gas = sinking.feed, sinking.stones, sinking.gas[:, 0, :-1]
    foot = np.arange(1, sinking.cells + 1) / sinking.cells
    co2, _, oxygen, _ = gas / np.maximum(gas.sum(axis=0), 1e-9)
    return ShaftProfile(
        depth=foot * feed.height,
        time=foot * feed.residence[0, 0],
        sizes=feed.piece.diameter,
        gas_temperature=sinking.gas_temperature[0],
        fuel_left=sinking.fuel_left[0],
        co2_fraction=co2,
        oxygen_fraction=oxygen,
        stone_temperature=stones.core_temperature[0],
        conversion=stones.conversion[0],
    )


def _draught(shaft: _Shaft, feed: Feed, level: np.ndarray, gas_to_air: float) -> tuple[float, float, str]:
    """Return the pressure that the air wants and that the hot shaft gives, Pa, and a caution if it falls short."""
    way = AirWay(
        bed_height=shaft.height,
        kiln_diameter=shaft.diameter,
        sauter_diameter=sauter_diameter.plain(shaft.sizes),
        air_opening_area=shaft.eye_area,
        eye_area=shaft.area,
    )
    flux = float(feed.stone_flux[0, 0] * feed.fuel_ratio[0, 0] * feed.fuel.air * (1.0 + feed.excess_air))
    state = level[::-1], level[0], feed.air_temperature, gas_to_air
    given, terms = way.terms(*state)
    wanted = float(sum(flux * (linear + square * flux) for linear, square in terms.values()))
    if wanted <= given:
        return wanted, float(given), ""
    chimney = way.chimney_for(flux, *state) if level[0] > feed.air_temperature else None
    cure = f"a chimney of {chimney:.0f} m or a fan" if chimney and chimney < CHIMNEY_MOST else "a fan"
    words = f"The air wants {wanted:.0f} Pa and the shaft draws {float(given):.0f} Pa by itself: it needs {cure}."
    return wanted, float(given), words


@edge
def run_shaft(
    kiln=None,
    *,
    draw_rate: KilogramPerSecond,
    fuel_ratio: Share,
    fuel: FuelName = "coke",
    stone_size: Metre | None = None,
    kiln_diameter: Metre | None = None,
    kiln_height: Metre | None = None,
    fuel_moisture: Share | None = None,
    excess_air: Share = fact("excess_air", "mixed_feed"),
    calcium_carbonate: Share = fact("carbonate_fraction"),
    magnesium_carbonate: Share = 0.0,
    moisture: Share = fact("stone_moisture"),
    reaction_coefficient: MetrePerSecond = fact("reaction_coefficient"),
    layers: Sequence | None = None,
    air_temperature: Kelvin = fact("start_temperature"),
) -> ShaftRun:
    """Run a shaft kiln, its fuel among the stone, until it stands at a steady draw.

    Parameters
    ----------
    kiln : KilnSize, optional
        From ``size_kiln(kind="shaft")``. Without one, `kiln_diameter`, `kiln_height` and
        `stone_size` are wanted; with one, they take the place of its own.
    draw_rate : KilogramPerSecond
        Lime drawn, counted as if burnt through: it sets the pace of the stone, which is heavier
        by what it loses.
    fuel_ratio : Share
        Fuel as it lies on the pile over stone as weighed.
    fuel : {"oak", "fir", "poplar", "pine", "charcoal", "peat", "coke", "anthracite"}
        By its ultimate analysis in ``data/fuels.csv``.
    stone_size : Metre, optional
        Of all the stone. A kiln's own stone is a quarter its smallest, half the middle and a
        quarter its largest size.
    kiln_diameter, kiln_height : Metre, optional
        Inside; straight walls, full to the rim.
    fuel_moisture : Share, optional
        Water over wet mass; without it, that of seasoned wood, or of coke kept dry.
    excess_air : Share
        Of the air that meets fuel; what slips up along the wall is not counted.
    calcium_carbonate, magnesium_carbonate : Share
        Of the dry stone.
    moisture : Share
        Of the stone as weighed.
    reaction_coefficient : MetrePerSecond
        Of the stone, as a trial burn found it.
    layers : sequence, optional
        The wall, as for `steady_wall`; without it, the kiln's own or the usual for its width.
    air_temperature : Kelvin
        Of air, stone and fuel as they go in.

    Returns
    -------
    ShaftRun
        A steady state, with heat and mass closed to 1e-6 where no limit "unsettled" is named.

    Raises
    ------
    InputError
        If the kiln is no shaft, or neither it nor its measures are given.

    Notes
    -----
    Plug flow of stone and gas; one gas temperature across the shaft. Fuel has the gas's
    temperature, burns to carbon dioxide and steam only, and shrinks at a pace that goes by the
    oxygen around it and, below its `fuel_burns_from`, falls off with an activation energy. What
    wood gives off as gas is counted as burning with its coal, which flatters wood. Heat is
    carried up and down by glow between lumps (4 σ d T³/(2/ε − 1)) and by a stir of three stones'
    length. The wall loses by one conductance, found at 900 °C. No carbon monoxide, no fines,
    no channels: a real kiln takes more fuel, and its gas is less hot where lime and fuel lie
    bare together.

    Examples
    --------
    >>> from limekit import size_kiln
    >>> size = size_kiln(stone="30 tonne", largest_stone="80 mm", kind="shaft")
    >>> run = run_shaft(size, draw_rate="10 tonne/day", fuel_ratio=0.075)
    >>> print(f"efficiency {run.efficiency:.2f~P}, lime at {run.lime_temperature:.0f~P}")
    efficiency 0.76, lime at 20 °C
    """
    shaft = _read_kiln(kiln, kiln_diameter, kiln_height, stone_size, layers)
    feed = _feed(
        shaft,
        np.array([[draw_rate]]),
        np.array([[fuel_ratio]]),
        fuel,
        fuel_moisture,
        excess_air,
        calcium_carbonate,
        magnesium_carbonate,
        moisture,
        reaction_coefficient,
        air_temperature,
    )
    stir = fact("shaft_mixing") * float(feed.shares @ feed.piece.diameter)
    sinking = Sinking(feed, int(np.clip(math.ceil(shaft.height / stir), *CELLS)))
    sinking.run()
    found, largest = _Found(sinking), int(np.argmax(feed.piece.diameter))
    stone = float(feed.stone_flux[0, 0] * shaft.area / (1.0 - moisture))
    fed, air = stone * fuel_ratio, float(feed.fuel.air * (1.0 + excess_air))
    gas = (sinking.gas[:, 0] * MASSES[:, None]).sum(axis=0)
    wanted, given, caution = _draught(shaft, feed, sinking.gas_temperature[0], gas[0] / max(gas[-1], 1e-9))
    heat = float(feed.heating[0, 0])
    return ShaftRun(
        conversion=float(found.conversion[0]),
        core_diameter=float(feed.piece.diameter[largest] * np.cbrt(1.0 - sinking.stones.conversion[0, -1, largest])),
        lime_temperature=float(found.lime_temperature[0]),
        top_gas_temperature=float(found.top_gas_temperature[0]),
        hottest_gas=float(sinking.gas_temperature.max()),
        zone_lengths=_zones(sinking),
        lime_class=found.lime_class[0],
        efficiency=float(found.efficiency[0]),
        fuel_burnt=float(found.fuel_burnt[0]),
        stone_rate=stone,
        fuel_rate=fed,
        air_rate=fed * air,
        residence_time=float(feed.residence[0, 0]),
        draught_wanted=wanted,
        stack_pressure=given,
        heat_budget={part: float(one[0]) / heat if heat else 0.0 for part, one in found.ledger.items()},
        limits=tuple(_said(name, figure) for name, figure in found.limits(0)),
        cautions=(caution,) if caution else (),
        profile=_profile(sinking),
        basis=rests_on("shaft_mixing", "fuel_burn_out", "heat_transfer_coefficient"),
    )


def _said(name: str, figure: str) -> str:
    what, cure = LIMITS[name]
    return f"{what[0].upper()}{what[1:]} ({figure}). What would lift it: {cure}."


@edge
def shaft_window(
    kiln=None,
    draw_rates: KilogramPerSecond | None = None,
    fuel_ratios: Share | None = None,
    fuel: FuelName = "coke",
    stone_size: Metre | None = None,
    kiln_diameter: Metre | None = None,
    kiln_height: Metre | None = None,
    fuel_moisture: Share | None = None,
    excess_air: Share = fact("excess_air", "mixed_feed"),
    calcium_carbonate: Share = fact("carbonate_fraction"),
    magnesium_carbonate: Share = 0.0,
    moisture: Share = fact("stone_moisture"),
    reaction_coefficient: MetrePerSecond = fact("reaction_coefficient"),
    layers: Sequence | None = None,
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
    kiln, fuel, stone_size, kiln_diameter, kiln_height, fuel_moisture, excess_air, calcium_carbonate,
    magnesium_carbonate, moisture, reaction_coefficient, layers, air_temperature
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
    shaft = _read_kiln(kiln, kiln_diameter, kiln_height, stone_size, layers)
    made_of = (calcium_carbonate, magnesium_carbonate, moisture, reaction_coefficient, air_temperature)
    one = np.ones((1, 1))
    usual = _feed(shaft, one, one, fuel, fuel_moisture, excess_air, *made_of)
    if draw_rates is None:
        draw_rates = np.geomspace(*(float(usual.residence[0, 0]) / (HOUR * hours) for hours in DRAWS[::-1]), MAP_SIDE)
    if fuel_ratios is None:
        fuel_ratios = np.linspace(*(MEGA * heat / usual.fuel.heat for heat in RATIOS), MAP_SIDE)
    draw_rates, fuel_ratios = np.atleast_1d(draw_rates), np.atleast_1d(fuel_ratios)
    draws, ratios = (axis.reshape(-1, 1) for axis in np.meshgrid(draw_rates, fuel_ratios, indexing="ij"))
    sinking = Sinking(_feed(shaft, draws, ratios, fuel, fuel_moisture, excess_air, *made_of), MAP_CELLS)
    sinking.run(MAP_TURNS, MAP_BALANCED)
    found, shape = _Found(sinking), (len(draw_rates), len(fuel_ratios))
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
