"""How long one stone must burn, and what a fire of a given length does to it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.glossary import entry
from limekit.limestone import USUAL_STONE, Stone
from limekit.stone import march, quasi_steady, resolved
from limekit.stone.front import Piece, Shape, gas_pressure, threshold
from limekit.stone.history import FireHistory
from limekit.stone.warming import COLD
from limekit.units import (
    ZERO_CELSIUS,
    Kelvin,
    Metre,
    MetrePerSecond,
    Second,
    Share,
    WattPerSquareMetreKelvin,
)

HOT_ENOUGH = 60.0  # K above what just burns, in an example
RADII = 41  # places from centre to face where a history tells temperatures
WARM_THROUGH = 10.0  # K, between front and centre, within which a stone counts as warmed through

Model = Literal["resolved", "reduced", "quasi_steady"]


@dataclass(frozen=True, eq=False)
class StoneHistory:
    """A stone's way through the fire, in plain SI arrays for pictures and sliders.

    Parameters
    ----------
    times : ndarray, shape (n,)
        s.
    gas_temperature, front_temperature : ndarray, shape (n,)
        K; until it burns, the front is the outer face.
    core_radius, conversion : ndarray, shape (n,)
        m from the centre to the front (half the thickness left, in a slab), and 0 to 1.
    radii : ndarray, shape (g,)
        m from the centre.
    temperatures : ndarray, shape (n, g)
        K at each time and radius.
    heat_gap, mass_gap : float
        What the model lost of heat and of carbonate on the way, as shares of the whole.
    """

    times: np.ndarray
    gas_temperature: np.ndarray
    front_temperature: np.ndarray
    core_radius: np.ndarray
    conversion: np.ndarray
    radii: np.ndarray
    temperatures: np.ndarray
    heat_gap: float
    mass_gap: float


@dataclass(frozen=True, eq=False)
class BurntStone:
    """A stone as it leaves the fire; `core_temperature` is the centre's, whether burnt or not."""

    conversion: Share
    core_diameter: Metre
    core_temperature: Kelvin
    surface_temperature: Kelvin
    history: StoneHistory = field(repr=False)
    basis: tuple[Ground, ...] = ()


def refuse_cold_gas(gas_temperature, co2_fraction) -> None:
    """Raise `InputError` for gas (K, or arrays) in which stone never burns, and say by how much and what lifts it."""
    needed = threshold(gas_pressure(np.asarray(co2_fraction)))
    short = np.ravel(needed - gas_temperature)
    if short.max() >= 0.0:
        worst = short.argmax()
        needed, gas, fraction = (
            float(np.broadcast_to(value, np.shape(needed - gas_temperature)).flat[worst])
            for value in (needed, gas_temperature, co2_fraction)
        )
        least = needed - ZERO_CELSIUS
        raise InputError(
            "gas_temperature",
            f"{gas - ZERO_CELSIUS:.0f} °C, {needed - gas:z.1f} K below the dissociation temperature "
            f"for gas with {100 * fraction:.3g} % carbon dioxide, so the stone never burns",
            f"gas above {least:.0f} °C, by a hotter fire, or less carbon dioxide in it, by more air or draught",
            f'gas_temperature="{10 * (least // 10) + HOT_ENOUGH:.0f} degC"',
        )


def _piece(stone: Stone, diameter, heat_transfer_coefficient, gas_film_coefficient, shape: Shape) -> Piece:
    left_out = np.any(stone.stone_heat_capacity == entry("stone_heat_capacity").left_out)
    if left_out and np.any(stone.stone_moisture + stone.magnesium_carbonate):
        got = '"left out" for a stone with moisture or magnesium carbonate, which take heat before it burns'
        wanted = "a dry stone with no magnesium carbonate, or its heat capacity"
        raise InputError("stone_heat_capacity", got, wanted, 'stone_heat_capacity="1123 J/kg/K"')
    return Piece.of(
        stone,
        diameter,
        heat_transfer_coefficient=heat_transfer_coefficient,
        gas_film_coefficient=np.inf if gas_film_coefficient is None else gas_film_coefficient,
        shape=shape,
    )


def _one(*values) -> None:
    """Raise `InputError` if any value is an array: the resolved stone burns alone."""
    if any(np.ndim(value) for value in values):
        raise InputError("model", '"resolved" with more than one value', "one stone at a time", 'model="reduced"')


@edge
def burning_time(
    diameter: Metre,
    gas_temperature: Kelvin,
    co2_fraction: Share = fact("co2_fraction"),
    conversion: Share = fact("burnt_through"),
    stone: Stone = USUAL_STONE,
    heat_transfer_coefficient: WattPerSquareMetreKelvin = fact("heat_transfer_coefficient"),
    gas_film_coefficient: MetrePerSecond | None = None,
    shape: Shape = "sphere",
    model: Model = "resolved",
    start_temperature: Kelvin = fact("start_temperature"),
) -> Second:
    """Return how long a stone must lie in steady hot gas to burn to a conversion.

    Parameters
    ----------
    diameter : Metre
        Of a sphere or a long cylinder, or a slab's thickness where both faces burn. A cube burns
        like the sphere it just holds.
    gas_temperature : Kelvin
        At the stone, steady from the first moment; above the dissociation temperature.
    co2_fraction : Share
        Of the gas, by volume, at one standard atmosphere.
    conversion : Share
        Of the calcium carbonate; 1 is burnt to the centre.
    stone : Stone
        What it is made of and how it burns, or its fields one by one: ``lime_conductivity=0.5``.
    heat_transfer_coefficient : WattPerSquareMetreKelvin
        Outside, convection and glow together: the fourth resistance in the way, beside the stone's
        own at the front and through the burnt shell. ``"left out"`` takes any of them away.
    gas_film_coefficient : MetrePerSecond, optional
        Of carbon dioxide on its way from the face into the gas. Without it that film is left out:
        the published figure, ``fact("gas_film_coefficient")``, adds about 1 % to the time.
    shape : {"sphere", "cylinder", "slab"}
    model : {"resolved", "reduced", "quasi_steady"}
        Conduction cell by cell, the reference; heat held as two means, within 1.5 % of it from 20 to
        200 mm and 900 to 1250 °C; or no heat held at all, the textbook limit, too short by 5 to 15 %.
        The last two also take arrays.
    start_temperature : Kelvin
        Of the stone as it goes in.

    Returns
    -------
    Second
        The middle; `limekit.burning_time_range` tells how far it may be out before a trial burn.

    Raises
    ------
    InputError
        If the gas is too cold ever to burn stone, or the carbonates do not add up; for moisture or
        magnesium carbonate in the quasi-steady model, which holds no heat; for arrays in the resolved.

    Notes
    -----
    A shrinking core (`limekit.stone.front`). At its front, for a square metre of a sphere's face,
    (T_gas − T)/(1/α + R s/λ) = ΔH n where no heat is held, and
    n = (p(T) − p_gas)/(R_gas T (1/(c² k) + R s/D + 1/β)), with s = 1/c − 1. T is the front's temperature
    and c its radius over the stone's R; n burns a second (mol/m²), ΔH is the fact
    ``dissociation_heat_at_front``, p(T) that of `dissociation_pressure`; α, λ, k, D and β are heat
    transfer, lime's conductivity, reaction, diffusion and gas film. Lime takes no carbon dioxide up
    again, the shell neither shrinks nor cracks, and carbon dioxide leaving through the shell takes no
    heat from it.

    Examples
    --------
    >>> print(burning_time(diameter="50 mm", gas_temperature="1000 degC"))
    3.416 h
    """
    refuse_cold_gas(gas_temperature, co2_fraction)
    piece = _piece(stone, diameter, heat_transfer_coefficient, gas_film_coefficient, shape)
    pressure = gas_pressure(co2_fraction)
    if model == "reduced":
        return march.time_to(piece, gas_temperature, pressure, start_temperature, conversion)
    if model == "quasi_steady":
        if np.any(piece.moisture) or np.any(piece.magnesium_carbonate):
            got = '"quasi_steady" for a stone with moisture or magnesium carbonate'
            raise InputError("model", got, "a model that holds heat", 'model="reduced"')
        return quasi_steady.time_to(piece, gas_temperature, pressure, conversion)
    _one(*vars(piece).values(), gas_temperature, co2_fraction, conversion, start_temperature)
    steady = FireHistory.steady.plain(gas_temperature, co2_fraction)
    return resolved.burn(piece, steady, start_temperature, conversion=conversion).time


@edge
def burn_stone(
    diameter: Metre,
    gas_temperature: Kelvin | None = None,
    time: Second | None = None,
    co2_fraction: Share = fact("co2_fraction"),
    stone: Stone = USUAL_STONE,
    heat_transfer_coefficient: WattPerSquareMetreKelvin = fact("heat_transfer_coefficient"),
    gas_film_coefficient: MetrePerSecond | None = None,
    shape: Shape = "sphere",
    start_temperature: Kelvin = fact("start_temperature"),
    gas_rise_time: Second = 0.0,
    fire_history: FireHistory | None = None,
) -> BurntStone:
    """Burn one stone for a time, in steady gas, in gas that rises and holds, or through a fire's whole history.

    Parameters
    ----------
    diameter, shape, stone, start_temperature
        The piece, as in `burning_time`.
    heat_transfer_coefficient, gas_film_coefficient
        What stands in the way outside it, as in `burning_time`.
    co2_fraction : Share
        Of the gas. Gas too cold to burn stone is no error here: the stone comes out as it went in.
    gas_temperature : Kelvin
        At the stone.
    time : Second
        From the start, the rise included; without it, to the last moment of `fire_history`.
    gas_rise_time : Second
        In which the gas rises steadily from `start_temperature`.
    fire_history : FireHistory, optional
        In place of `gas_temperature`, `co2_fraction` and `gas_rise_time`.

    Returns
    -------
    BurntStone
        With `history`, its whole way there.

    Raises
    ------
    InputError
        If neither or both of gas temperature and fire history are given, no time can be told, or the
        carbonates do not add up.

    Notes
    -----
    The equations of `burning_time`, with ρ c ∂T/∂t = ∇·(λ ∇T) in core and shell; of a sphere
    conversion = 1 − (core_diameter/diameter)³.

    Examples
    --------
    >>> burnt = burn_stone("50 mm", "1000 degC", "2 h")
    >>> print(f"{burnt.conversion:.2f~P} burnt, a core of {burnt.core_diameter:.0f~P}")
    0.82 burnt, a core of 28 mm
    """
    if (fire_history is None) == (gas_temperature is None):
        both = "gas_temperature and fire_history"
        got = f"neither of {both}" if fire_history is None else f"both {both}"
        raise InputError("burn_stone()", got, "one of the two", 'gas_temperature="1000 degC", time="3 h"')
    if fire_history is None:
        fire_history = FireHistory.ramp.plain(gas_temperature, gas_rise_time, co2_fraction, start_temperature)
    if time is None:
        time = fire_history.times[-1]
        if time == 0.0:
            raise InputError("time", "no time in a steady fire", "how long the stone lies in it", 'time="3 h"')
    piece = _piece(stone, diameter, heat_transfer_coefficient, gas_film_coefficient, shape)
    _one(*vars(piece).values(), time, start_temperature, *fire_history.temperatures)
    burnt = resolved.burn(piece, fire_history, start_temperature, until=time)
    history = _history(burnt, piece, fire_history)
    return BurntStone(
        conversion=float(history.conversion[-1]),
        core_diameter=float(2.0 * history.core_radius[-1]),
        core_temperature=float(history.temperatures[-1, 0]),
        surface_temperature=float(history.temperatures[-1, -1]),
        history=history,
    )


@edge
def warming_time(
    diameter: Metre,
    gas_temperature: Kelvin,
    co2_fraction: Share = fact("co2_fraction"),
    heat_transfer_coefficient: WattPerSquareMetreKelvin = fact("heat_transfer_coefficient"),
    start_temperature: Kelvin = fact("start_temperature"),
) -> Second:
    """Return how long a sphere of stone warms before its core has come to the front's temperature.

    Parameters
    ----------
    diameter, gas_temperature, co2_fraction, heat_transfer_coefficient, start_temperature
        As in `burning_time`.

    Returns
    -------
    Second
        Until the centre is within 10 K of the burning front. The outside burns meanwhile.

    Raises
    ------
    InputError
        If the gas is too cold ever to burn stone.

    Notes
    -----
    T_front − T_centre = 10 K at the time returned, while the front burns, in the stone of `burn_stone`.

    Examples
    --------
    >>> print(f"{warming_time('80 mm', '1050 degC').to('min'):.0f~P}")
    47 min
    """
    refuse_cold_gas(gas_temperature, co2_fraction)
    _one(diameter, gas_temperature, co2_fraction, heat_transfer_coefficient, start_temperature)
    piece = Piece(diameter, heat_transfer_coefficient)
    steady = FireHistory.steady.plain(gas_temperature, co2_fraction)
    states = resolved.burn(piece, steady, start_temperature, conversion=1.0).states
    behind = states.front - states.core_warmth[:, 0]
    after = int(np.argmax((states.pace < 0.0) & (behind < WARM_THROUGH)))
    last = slice(after - 1, after + 1)
    return float(np.interp(-WARM_THROUGH, -behind[last], states.time[last]))


def _history(burnt: resolved.Burn, piece: Piece, fire_history: FireHistory) -> StoneHistory:
    """Return a burn on one set of radii."""
    cells, states = burnt.cells, burnt.states
    shares = states.core / cells.volume
    radii = np.linspace(0.0, 1.0, RADII)
    core_faces, shell_faces = cells.core_faces, cells.shell_faces
    core_nodes = 0.5 * (core_faces[:-1] + core_faces[1:])
    shell_nodes = 0.5 * (shell_faces[:-1] + shell_faces[1:])
    front = states.front
    through = np.column_stack(
        [states.core_warmth[:, 0], states.core_warmth, front, states.shell_warmth, states.surface]
    )
    temperatures = [
        np.interp(
            radii,
            np.concatenate([[0.0], share * core_nodes, [share], share + (1.0 - share) * shell_nodes, [1.0]])
            ** cells.root,
            warmths,
        )
        for share, warmths in zip(shares, through, strict=True)
    ]
    conversion = np.clip(1.0 - shares / shares[0], 0.0, 1.0)
    conversion[shares <= resolved.SPENT] = 1.0
    radius = float(piece.radius)
    return StoneHistory(
        times=states.time,
        gas_temperature=np.array([fire_history.at(time)[0] for time in states.time]),
        front_temperature=front + COLD,
        core_radius=radius * piece.core_left(conversion),
        conversion=conversion,
        radii=radius * radii,
        temperatures=np.array(temperatures) + COLD,
        heat_gap=burnt.heat_gap,
        mass_gap=burnt.mass_gap,
    )
