"""Stones at a moment: what they are of (`Make`), how far they have come (`State`), and what they hold and have given.

Every field may be a number or an array of stones. Heats count from 25 °C, and those of a `State` are by volume or by
outer face; what is told by mass is per kilogram of dry stone charged.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from limekit.chemistry import CARBON_DIOXIDE, MAGNESIUM_CARBONATE
from limekit.compiled import choose, part
from limekit.stone.front import LAWS, Laws, Piece
from limekit.stone.warming import Warming, done, heat_content, straight

FILM_OF_LIME = 1e-6  # share burnt, from which a shell has a temperature of its own


class Make(NamedTuple):
    """A `Piece` as its steps take it; numbers, or arrays of stones.

    Besides what a `Piece` has: its volume by outer face (m) and 1/(kg/m²) of it, heat capacity of the
    lime (J/m³K), the kilograms of water and of carbon dioxide from either carbonate in a kilogram,
    its `Warming`, and the laws of its front.
    """

    curved: int
    radius: np.ndarray
    heat_transfer_coefficient: np.ndarray
    lime_conductivity: np.ndarray
    stone_conductivity: np.ndarray
    co2_diffusivity: np.ndarray
    reaction_coefficient: np.ndarray
    gas_film_coefficient: np.ndarray
    carbonate: np.ndarray
    carbonate_by_face: np.ndarray
    volume: np.ndarray
    by_mass: np.ndarray
    lime_capacity: np.ndarray
    water: np.ndarray
    calcium_gas: np.ndarray
    magnesium_gas: np.ndarray
    warming: Warming
    laws: Laws

    @classmethod
    def of(cls, piece: Piece) -> Make:
        """Return what a piece's steps take."""
        return cls(
            curved=piece.curved,
            radius=piece.radius,
            heat_transfer_coefficient=piece.heat_transfer_coefficient,
            lime_conductivity=piece.lime_conductivity,
            stone_conductivity=piece.stone_conductivity,
            co2_diffusivity=piece.co2_diffusivity,
            reaction_coefficient=piece.reaction_coefficient,
            gas_film_coefficient=piece.gas_film_coefficient,
            carbonate=piece.carbonate,
            carbonate_by_face=piece.carbonate_by_face,
            volume=piece.volume_by_face,
            by_mass=1.0 / (piece.density * piece.volume_by_face),
            lime_capacity=piece.lime_density * piece.lime_heat_capacity,
            water=piece.water / piece.density,
            calcium_gas=piece.carbonate / piece.density * CARBON_DIOXIDE,
            magnesium_gas=piece.magnesium_carbonate * CARBON_DIOXIDE / MAGNESIUM_CARBONATE,
            warming=Warming.of(piece),
            laws=LAWS,
        )


class State(NamedTuple):
    """Stones at a moment: what `Stones` tells of them, with the pace of their last two steps, mol/m²s.

    The core's heat is in J/m³, its highest temperature in K, the shell's heat in J/m².
    """

    conversion: np.ndarray
    front_temperature: np.ndarray
    core_heat: np.ndarray
    core_temperature: np.ndarray
    core_peak: np.ndarray
    shell_heat: np.ndarray
    burning: np.ndarray
    burnt_before: np.ndarray


@part
def make_at(makes, at):
    """Return the make of the stones in one place of arrays."""
    heat = makes.warming
    return Make(
        makes.curved,
        makes.radius[at],
        makes.heat_transfer_coefficient[at],
        makes.lime_conductivity[at],
        makes.stone_conductivity[at],
        makes.co2_diffusivity[at],
        makes.reaction_coefficient[at],
        makes.gas_film_coefficient[at],
        makes.carbonate[at],
        makes.carbonate_by_face[at],
        makes.volume[at],
        makes.by_mass[at],
        makes.lime_capacity[at],
        makes.water[at],
        makes.calcium_gas[at],
        makes.magnesium_gas[at],
        Warming(
            heat.capacity[at],
            heat.drying[at],
            heat.magnesia[at],
            heat.cold,
            heat.drying_from,
            heat.drying_to,
            heat.burning_from,
            heat.burning_to,
        ),
        makes.laws,
    )


@part
def charged(make, temperature):
    """Return stones as they are charged, at a temperature (K)."""
    none = 0.0 * temperature
    heat = none + heat_content(make.warming, temperature, 0.0)
    return State(none, temperature, heat, temperature, temperature, none, none, none)


@part
def heat_held(make, state):
    """Return `Stones.heat_held`."""
    return (make.volume * (1.0 - state.conversion) * state.core_heat + state.shell_heat) * make.by_mass


@part
def lime_temperature(make, state):
    """Return `Stones.lime_temperature`."""
    shell = make.lime_capacity * make.volume * np.maximum(state.conversion, FILM_OF_LIME)
    lime = make.warming.cold + state.shell_heat / shell
    return choose(state.conversion < FILM_OF_LIME, state.front_temperature, lime)


@part
def gone(make, state):
    """Return `Stones.gone`."""
    left, calcium = 1.0 - state.conversion, make.calcium_gas * state.conversion
    if straight(make.warming):
        return 0.0 * left, calcium
    dried, burnt = done(make.warming, state.core_peak)
    water = make.water * (1.0 - left * (1.0 - dried))
    return water, make.magnesium_gas * (1.0 - left * (1.0 - burnt)) + calcium
