"""The front where stone turns into lime: what resists heat going in and carbon dioxide coming out.

Everything is told per square metre of the piece's outer face, so a sphere, a
cylinder and a slab differ only in how areas shrink inward. ``core`` is the
front's place, 1 at the outer face and 0 at the centre.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal, NamedTuple

import numpy as np

from limekit.chemistry import ATMOSPHERE, CALCIUM_CARBONATE, CARBON_DIOXIDE, MAGNESIUM_CARBONATE, refuse_unburnable
from limekit.compiled import choose, largest, part
from limekit.facts import fact
from limekit.limestone import Stone

Shape = Literal["sphere", "cylinder", "slab"]
CURVED_SIDES = {"slab": 0, "cylinder": 1, "sphere": 2}

SPHERE = CURVED_SIDES["sphere"]

NO_GAS = 1e-9  # Pa; stands for no carbon dioxide where a logarithm is taken
LEVEL_TOLERANCE = 1e-7  # K, to which a front temperature is solved
MOST_TURNS = 60


@dataclass(frozen=True)
class Piece:
    """One piece of stone and what carries heat and gas to and from its front.

    Parameters
    ----------
    diameter : float or ndarray
        m; of a sphere or a cylinder, or the thickness of a slab burnt from both faces.
    heat_transfer_coefficient : float or ndarray
        W/m²K, convection and radiation together.
    lime_conductivity, stone_conductivity : float or ndarray
        W/mK, of the burnt shell and of the core.
    reaction_coefficient, gas_film_coefficient : float or ndarray
        m/s, at the front and from the outer face into the gas. No film counts where it is infinite.
    co2_diffusivity : float or ndarray
        m²/s, through the burnt shell.
    density : float or ndarray
        kg/m³, of the dry stone.
    carbonate_fraction, magnesium_carbonate : float or ndarray
        Shares of the dry stone: both carbonates together, and the magnesium carbonate alone.
    moisture : float or ndarray
        Water as a share of the wet mass.
    shape : {"sphere", "cylinder", "slab"}
    stone_heat_capacity, lime_heat_capacity : float or ndarray
        J/kgK, means from 25 to 900 °C.

    Notes
    -----
    Every field may be an array; they broadcast against each other.
    """

    diameter: float
    heat_transfer_coefficient: float = fact("heat_transfer_coefficient")
    lime_conductivity: float = fact("lime_conductivity")
    co2_diffusivity: float = fact("co2_diffusivity")
    reaction_coefficient: float = fact("reaction_coefficient")
    gas_film_coefficient: float = np.inf
    density: float = fact("stone_density")
    carbonate_fraction: float = fact("calcium_carbonate")
    magnesium_carbonate: float = 0.0
    moisture: float = 0.0
    shape: Shape = "sphere"
    stone_conductivity: float = fact("stone_conductivity")
    stone_heat_capacity: float = fact("stone_heat_capacity")
    lime_heat_capacity: float = fact("lime_heat_capacity")

    @classmethod
    def of(cls, stone: Stone, diameter, **around) -> Piece:
        """Return a piece of a stone, with what is around it by field.

        Raises
        ------
        InputError
            If the carbonates come to more than the stone, or nothing in it burns.
        """
        refuse_unburnable(stone.calcium_carbonate, stone.magnesium_carbonate)
        return cls(
            diameter,
            lime_conductivity=stone.lime_conductivity,
            co2_diffusivity=stone.co2_diffusivity,
            reaction_coefficient=stone.reaction_coefficient,
            density=stone.density,
            carbonate_fraction=stone.calcium_carbonate + stone.magnesium_carbonate,
            magnesium_carbonate=stone.magnesium_carbonate,
            moisture=stone.stone_moisture,
            stone_conductivity=stone.stone_conductivity,
            stone_heat_capacity=stone.stone_heat_capacity,
            lime_heat_capacity=stone.lime_heat_capacity,
            **around,
        )

    @property
    def figures(self) -> dict:
        """Every field by name but the shape."""
        return {name: value for name, value in vars(self).items() if name != "shape"}

    def with_each(self, change: Callable) -> Piece:
        """Return the piece with each of its figures changed alike."""
        return replace(self, **{name: change(value) for name, value in self.figures.items()})

    @property
    def radius(self):
        """From the centre, or a slab's middle, to the outer face; m."""
        return 0.5 * self.diameter

    @property
    def curved(self) -> int:
        """How many ways areas shrink inward: 0 in a slab, 1 in a cylinder, 2 in a sphere."""
        return CURVED_SIDES[self.shape]

    @property
    def carbonate(self):
        """Calcium carbonate in the stone; mol/m³."""
        return self.density * (self.carbonate_fraction - self.magnesium_carbonate) / CALCIUM_CARBONATE

    @property
    def water(self):
        """Moisture in the stone as charged; kg/m³ of stone."""
        return self.density * self.moisture / (1.0 - self.moisture)

    @property
    def volume_by_face(self):
        """Volume behind each square metre of outer face; m."""
        return self.radius / (self.curved + 1)

    @property
    def lime_density(self):
        """Of the burnt shell, which does not shrink in this model; kg/m³."""
        magnesium_gas = self.magnesium_carbonate / MAGNESIUM_CARBONATE * self.density
        return self.density - CARBON_DIOXIDE * (self.carbonate + magnesium_gas)

    @property
    def carbonate_by_face(self):
        """Calcium carbonate behind each square metre of outer face; mol/m²."""
        return self.carbonate * self.volume_by_face

    def core_left(self, conversion):
        """Return the front's place at a conversion, 1 to 0."""
        return core_left(self.curved, conversion)

    def shell_path(self, core):
        """Return the way through the burnt shell, over the radius and allowing for the shape."""
        return shell_path(self.curved, core)

    def heat_resistance(self, core):
        """Return what resists heat from the gas to the front; m²K/W of outer face."""
        return 1.0 / self.heat_transfer_coefficient + self.radius * self.shell_path(core) / self.lime_conductivity

    def gas_resistance(self, core):
        """Return what resists carbon dioxide from the front to the gas; s/m on the outer face."""
        return gas_resistance(self, core)


@part
def core_left(curved, conversion):
    """Return `Piece.core_left`."""
    left = 1.0 - conversion
    if curved == SPHERE:
        return np.cbrt(left)
    return np.sqrt(left) if curved else left


@part
def shell_path(curved, core):
    """Return `Piece.shell_path`."""
    if curved == SPHERE:
        return 1.0 / core - 1.0
    return -np.log(core) if curved else 1.0 - core


@part
def gas_resistance(piece, core):
    """Return `Piece.gas_resistance`."""
    return (
        1.0 / (core**piece.curved * piece.reaction_coefficient)
        + piece.radius * shell_path(piece.curved, core) / piece.co2_diffusivity
        + 1.0 / piece.gas_film_coefficient
    )


class Laws(NamedTuple):
    """The balance of dissociation, ``factor · exp(−slope / T)`` in Pa, the gas constant, and the front's J/mol."""

    factor: float
    slope: float
    gas_constant: float
    heat: float


LAWS = Laws(
    float(fact("dissociation_factor")),
    float(fact("dissociation_slope")),
    float(fact("gas_constant")),
    float(fact("dissociation_heat_at_front")),
)


@part
def threshold(co2_pressure, laws=LAWS):
    """Return the temperature (K) at and below which nothing burns in gas of a carbon dioxide pressure (Pa)."""
    return laws.slope / np.log(laws.factor / np.maximum(co2_pressure, NO_GAS))


@part
def front_balance(idle, supply, co2_pressure, resistance, guess, heat, tolerance=LEVEL_TOLERANCE, laws=LAWS):
    """Solve the heat balance of a front, ``supply (idle − T) = heat · burning(T)``.

    Parameters
    ----------
    idle : float or ndarray
        The temperature the front would have if nothing burned; K. Without stored heat, the gas's.
    supply : float or ndarray
        Heat to the front for each kelvin below `idle`; W/m²K of outer face.
    co2_pressure : float or ndarray
        In the gas; Pa.
    resistance : float or ndarray
        From `Piece.gas_resistance`; s/m.
    guess : float or ndarray
        Where to start, K.
    heat : float or ndarray
        Taken by a mole of carbonate; J/mol.
    tolerance : float
        K, of the last step in T.
    laws : Laws

    Returns
    -------
    temperature, burning : float or ndarray
        K, and mol/s of carbon dioxide per m² of outer face: `idle` and 0 where that is too cold to
        burn. Lime does not take carbon dioxide up again in this model.

    Notes
    -----
    ``burning = (balance pressure − co2_pressure)/(gas constant · T · resistance)`` rises with
    T ever more steeply, so Newton's steps from above run straight down to the root, and a step
    from below lands above it; both are kept between threshold and `idle`. The burning returned is
    where the two sides' tangents cross: exact to second order whichever side is the stiff one.
    """
    floor = np.minimum(threshold(co2_pressure, laws), idle)
    weight = heat / (laws.gas_constant * resistance)
    level = np.minimum(np.maximum(guess, floor), idle)
    burning = 0.0 * level
    for _ in range(MOST_TURNS):
        balance = laws.factor * np.exp(-laws.slope / level)
        sink = weight * (balance - co2_pressure) / level
        steepness = (weight * balance * laws.slope / level**2 - sink) / level
        source = supply * (idle - level)
        burning = (source * steepness + sink * supply) / (heat * (steepness + supply))
        better = np.minimum(np.maximum(level + (source - sink) / (steepness + supply), floor), idle)
        change = largest(np.abs(better - level))
        level = better
        if change < tolerance:
            break
    return level, choose(idle > floor, np.maximum(burning, 0.0), 0.0)


@part
def front_steepness(level, burning, co2_pressure, resistance, heat, laws=LAWS):
    """Return how much more heat a burning front takes for each kelvin it is hotter; W/m²K, 0 where nothing burns.

    Parameters
    ----------
    level, burning : float or ndarray
        From `front_balance`, with the arguments after it as there.
    """
    weight, sink = heat / (laws.gas_constant * resistance), heat * burning
    rise = ((sink * level + weight * co2_pressure) * laws.slope / level**2 - sink) / level
    return choose(burning > 0.0, rise, 0.0)


def gas_pressure(co2_fraction):
    """Return the carbon dioxide's partial pressure (Pa) in gas at one standard atmosphere."""
    return co2_fraction * ATMOSPHERE
