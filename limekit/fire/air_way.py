"""The way of the air through a kiln: what lifts the gas, what holds it back, and the flow at which both are even."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np

from limekit.compiled import choose, part
from limekit.facts import fact
from limekit.fire.air import AIR, GAS_CONSTANT, GRAVITY, air_pressure, gas_viscosity
from limekit.fire.bed import bed_resistance, flue_resistance, flues_share
from limekit.things import Thing
from limekit.units import (
    Metre,
    Pascal,
    Share,
    SquareMetre,
)

PARTS = {
    "opening": ("the air openings", "wider fire mouths or more grate"),
    "bed": ("the charge of stone", "larger stone, more even in size, fines sieved out, or a lower charge"),
    "eye": ("the draw eyes", "more or wider draw eyes"),
    "damper": ("the damper", "opening the damper"),
    "chimney": ("the chimney", "a wider chimney"),
}
LEAST_CHIMNEY = 1e-6
TINY = 1e-300
TURNS = 5  # of Newton, which comes from above and doubles its digits at each


@part
def natural_flux(pressure, linear, quadratic):
    """Return the mass flux at which a draught is used up: linear G + quadratic G² = pressure.

    Parameters
    ----------
    pressure, linear, quadratic : float or ndarray
        Pressure in pascal; without any, nothing flows. `quadratic` above 0.

    Returns
    -------
    float or ndarray
        kg/(m² s), by the form of the root that loses no digits.
    """
    pressure = np.maximum(pressure, 0.0)
    return 2.0 * pressure / (linear + np.sqrt(linear**2 + 4.0 * quadratic * pressure) + TINY)


class Heads(NamedTuple):
    """What a kiln's air way holds back and what lifts the gas in it, as `AirWay` has it from sizes; SI floats.

    Parameters
    ----------
    lift : float
        Pascal in a metre of height, times kelvin.
    bed_height, hearth_height, chimney_height, kiln_area : float
        m and m².
    wind : float
        Pa, that wind adds.
    viscous, inertial : float
        Of the charge: for a viscosity of 1 Pa s, and for one kelvin.
    flues : float
        Of the flues in the charge: what they carry, by kelvin; none where there are no flues.
    opening, eye, flue, chimney : float
        Of the openings by kelvin: mouths, eyes, a flue with its damper open, a chimney.
    contraction_least, contraction_rise : float
        Share of a damper's gap that its jet fills, shut and how that rises.
    sutherland_factor, sutherland_temperature : float
        Of the air's viscosity.
    """

    lift: float
    bed_height: float
    hearth_height: float
    chimney_height: float
    kiln_area: float
    wind: float
    viscous: float
    inertial: float
    flues: float
    opening: float
    eye: float
    flue: float
    chimney: float
    contraction_least: float
    contraction_rise: float
    sutherland_factor: float
    sutherland_temperature: float


class Terms(NamedTuple):
    """The draught (Pa), the charge's friction by G, and what each part takes by G², with G the flux of air.

    `flues` is the other way round: the G² that flues in the charge carry for each pascal across it.
    """

    pressure: float
    friction: float
    flues: float
    opening: float
    bed: float
    eye: float
    damper: float
    chimney: float


@part
def air_terms(heads, colder, stickiness, hotness, hearth, top, air, gas_to_air, damper):
    """Return the draught and what holds the air back.

    Parameters
    ----------
    heads : Heads
    colder, stickiness, hotness : float or ndarray
        Means over the charge of 1/T, of viscosity times T, and of T.
    hearth, top, air : float or ndarray
        K.
    gas_to_air : float or ndarray
        Mass of gas over mass of air.
    damper : float
        Open share, above 0.

    Returns
    -------
    Terms
    """
    lift = heads.bed_height * (1.0 / air - colder)
    lift = lift + heads.hearth_height * (1.0 / air - 1.0 / hearth) + heads.chimney_height * (1.0 / air - 1.0 / top)
    jet = damper * (heads.contraction_least + heads.contraction_rise * damper**3)
    hot = top * gas_to_air**2
    return Terms(
        lift * heads.lift + heads.wind,
        heads.viscous * gas_to_air * stickiness,
        heads.flues / (gas_to_air**2 * hotness + TINY),
        heads.opening * air,
        heads.inertial * gas_to_air**2 * hotness,
        heads.eye * hot,
        heads.flue * (1.0 / jet - 1.0) ** 2 * hot,
        heads.chimney * hot,
    )


@part
def across(terms, among):
    """Return the pressure lost in a charge by air among its stones, Pa, and the air it drives through flues."""
    lost = among * (terms.friction + terms.bed * among)
    return lost, np.sqrt(terms.flues * lost)


@part
def air_drawn(terms):
    """Return the air that a draught draws, kg/(m² s): among the stones, and beside them through flues.

    Stones and flues have one pressure lost across them; openings, eyes and chimney see both. Where there
    are no flues it is `natural_flux`.
    """
    rest = terms.opening + terms.eye + terms.damper + terms.chimney
    quadratic = terms.opening + terms.bed + terms.eye + terms.damper + terms.chimney
    rough = np.sqrt(terms.flues * terms.bed)  # through flues over among stones, but for friction
    among = natural_flux(terms.pressure, terms.friction, quadratic + rest * rough * (2.0 + rough))
    for _ in range(TURNS):
        lost, beside = across(terms, among)
        steeper = terms.friction + 2.0 * terms.bed * among
        steepness = steeper + rest * (2.0 * (among + beside) + terms.flues * steeper * (1.0 + among / (beside + TINY)))
        over = lost + rest * (among + beside) ** 2 - np.maximum(terms.pressure, 0.0)
        among = among - choose(terms.flues > 0.0, over / (steepness + TINY), 0.0)
    return among, across(terms, among)[1]


def air_among(terms: Terms, flux):
    """Return what of some air goes among the stones, and not through flues; kg/(m² s)."""
    eased = 2.0 * flux + terms.friction * terms.flues
    return 2.0 * flux**2 / (eased + np.sqrt(eased**2 - 4.0 * (1.0 - terms.bed * terms.flues) * flux**2) + TINY)


def spent(terms: Terms, flux, among=None) -> dict[str, float]:
    """Return the pressure that each of `PARTS` takes of some air, Pa.

    Parameters
    ----------
    terms : Terms
    flux, among : float or ndarray
        All the air and, where it is known, that among the stones; kg/(m² s).
    """
    losses = {name: flux * (getattr(terms, name) * flux) for name in PARTS}
    return losses | {"bed": across(terms, air_among(terms, flux) if among is None else among)[0]}


@part
def viscosity(temperature, factor, constant):
    """Return the viscosity of air (Pa s) by Sutherland's formula with its two constants."""
    return factor * temperature**1.5 / (temperature + constant)


class Breath(NamedTuple):
    """What flows: air through a square metre of kiln, the draught, what each part takes of it, and the flues' share."""

    mass_flux: float
    stack_pressure: float
    losses: dict[str, float]
    flue_share: float = 0.0


@dataclass(frozen=True, repr=False)
class AirWay(Thing):
    """The way of the air through a kiln: openings, hearth, charge, eyes, chimney.

    Made once for a kiln; `breathe`, in SI floats, is then cheap enough for every step of a firing.

    Parameters
    ----------
    bed_height, kiln_diameter : Metre
        Of the charge, and inside the lining.
    sauter_diameter : Metre
        Of the stone; see `limekit.sauter_diameter`.
    air_opening_area, eye_area : SquareMetre
        Free area where air goes in (fire mouths, grates) and where gas leaves the charge (draw
        eyes, or the open top).
    hearth_height : Metre
        From the air openings to the underside of the charge, filled with gas.
    chimney_height, chimney_diameter : Metre
        Above the draw eyes; without a diameter, as wide as the eyes together.
    bed_porosity : Share
        Gaps, as a share of the charge.
    altitude : Metre
        Above the sea.
    flues : int
        Round flues that poles leave in the charge as they burn out, from its foot to its top.
    flue_width : Metre
        Across each of them.
    wind_pressure : Pascal
        That wind adds to the draught; where it blows down the chimney, takes off it.
    """

    bed_height: Metre
    kiln_diameter: Metre
    sauter_diameter: Metre
    air_opening_area: SquareMetre
    eye_area: SquareMetre
    hearth_height: Metre = 0.0
    chimney_height: Metre = 0.0
    chimney_diameter: Metre | None = None
    bed_porosity: Share = fact("bed_porosity")
    altitude: Metre = 0.0
    flues: int = 0
    flue_width: Metre = fact("laid_flue_width")
    wind_pressure: Pascal = 0.0

    @cached_property
    def kiln_area(self) -> float:
        """Inside section of the kiln in m²."""
        return math.pi / 4.0 * self.kiln_diameter**2

    @cached_property
    def flue_area(self) -> float:
        """Section of the chimney in m²; without its diameter, that of the draw eyes."""
        return math.pi / 4.0 * self.chimney_diameter**2 if self.chimney_diameter else self.eye_area

    @cached_property
    def heads(self) -> Heads:
        """What holds the air back, and what lifts it."""
        volume = GAS_CONSTANT / (AIR * air_pressure.plain(self.altitude))
        taken = flues_share(self.flues, self.flue_width, self.kiln_diameter)
        viscous, inertial = bed_resistance(self.sauter_diameter, self.bed_porosity)
        hollow = flue_resistance(self.flue_width, self.bed_height) / taken**2 if taken else math.inf
        opening = (self.kiln_area / fact("discharge_coefficient")) ** 2 / 2.0 * volume
        flue = (self.kiln_area / self.flue_area) ** 2 / 2.0 * volume
        wide = math.sqrt(4.0 * self.flue_area / math.pi)
        through = (1.0 + fact("flue_friction") * self.chimney_height / wide) if self.chimney_height else 0.0
        figures = {
            "lift": GRAVITY / volume,
            "bed_height": self.bed_height,
            "hearth_height": self.hearth_height,
            "chimney_height": self.chimney_height,
            "kiln_area": self.kiln_area,
            "wind": self.wind_pressure,
            "viscous": viscous * self.bed_height * volume / (1.0 - taken),
            "inertial": inertial * self.bed_height * volume / (1.0 - taken) ** 2,
            "flues": 1.0 / (hollow * volume),
            "opening": opening / self.air_opening_area**2,
            "eye": opening / self.eye_area**2,
            "flue": flue,
            "chimney": through * flue,
        }
        facts = ("contraction_least", "contraction_rise", "sutherland_factor", "sutherland_temperature")
        return Heads(**{name: float(one) for name, one in (figures | {key: fact(key) for key in facts}).items()})

    def terms(
        self,
        gas_temperature,
        top_temperature,
        air_temperature,
        gas_to_air=1.0,
        damper: float = 1.0,
        hearth_temperature=None,
    ) -> Terms:
        """Return the draught and what holds the air back.

        Parameters
        ----------
        gas_temperature : float or ndarray
            Kelvin; of one gas for the whole charge, or level by level from the bottom up. Further
            axes are kilns side by side, and the next three may then have one value a kiln.
        top_temperature, air_temperature : float or ndarray
            Kelvin; in draw eyes and chimney, and outside.
        gas_to_air : float or ndarray
            Mass of gas over mass of air: fuel and stone add to what went in.
        damper : float
            Open share, above 0.
        hearth_temperature : float or ndarray, optional
            Kelvin; below the charge. Without it, as in the lowest level.

        Returns
        -------
        Terms
        """
        gas = np.atleast_1d(gas_temperature)
        hearth = gas[0] if hearth_temperature is None else hearth_temperature
        stickiness = (gas_viscosity.plain(gas) * gas).mean(axis=0)
        means = (1.0 / gas).mean(axis=0), stickiness, gas.mean(axis=0)
        return air_terms(self.heads, *means, hearth, top_temperature, air_temperature, gas_to_air, damper)

    def breathe(
        self,
        gas_temperature,
        top_temperature,
        air_temperature,
        gas_to_air=1.0,
        damper: float = 1.0,
        hearth_temperature=None,
    ) -> Breath:
        """Return the flow at which the draught is used up; arguments as for `terms`, the damper down to 0.

        A kiln colder than the air, or with its damper shut, stands still: its flux is 0.
        """
        state = gas_temperature, top_temperature, air_temperature, gas_to_air
        if damper <= 0.0:
            pressure = self.terms(*state, hearth_temperature=hearth_temperature).pressure
            return Breath(0.0 * pressure, pressure, dict.fromkeys(PARTS, 0.0 * pressure), 0.0 * pressure)
        terms = self.terms(*state, damper, hearth_temperature)
        among, beside = air_drawn(terms)
        flux = among + beside
        return Breath(flux, terms.pressure, spent(terms, flux, among), beside / (flux + TINY))

    def chimney_for(self, mass_flux: float, *state) -> float | None:
        """Return the height of chimney, in metre, that would draw a flux; None if no height would.

        Parameters
        ----------
        mass_flux : float
            Air wanted, kg/(m² s).
        *state
            Arguments as for `terms`.
        """

        def surplus(height: float) -> float:
            terms = self.but(chimney_height=height).terms(*state)
            return terms.pressure - sum(spent(terms, mass_flux).values())

        start = max(self.chimney_height, LEAST_CHIMNEY)
        gain = surplus(start + 1.0) - surplus(start)
        return start - surplus(start) / gain if gain > 0.0 else None
