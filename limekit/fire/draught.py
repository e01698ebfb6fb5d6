"""Draught: how much air a kiln's own hot gas draws in, and what holds it back."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np

from limekit.compiled import choose, part
from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.fire.air import AIR, GAS_CONSTANT, GRAVITY, air_pressure, gas_viscosity
from limekit.fire.bed import bed_resistance, flue_resistance, flues_share
from limekit.fire.fuel import air_demand as fuel_air_demand
from limekit.things import Thing
from limekit.units import (
    HOUR,
    ZERO_CELSIUS,
    Kelvin,
    KilogramPerSecond,
    KilogramPerSquareMetreSecond,
    Metre,
    Pascal,
    Share,
    SquareMetre,
)

SEASONED_OAK = fuel_air_demand.plain("oak", fact("fuel_moisture"))

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


@edge
def stack_draught(
    height: Metre, gas_temperature: Kelvin, air_temperature: Kelvin = fact("start_temperature"), altitude: Metre = 0.0
) -> Pascal:
    """Return the pressure by which a column of hot gas draws.

    Parameters
    ----------
    height : Metre
        Of the hot column, from where air goes in to where gas comes out.
    gas_temperature : Kelvin
        Of the gas in the column; take the level below the middle if it varies. Arrays pass through.
    air_temperature : Kelvin
        Of the air outside.
    altitude : Metre
        Above the sea.

    Returns
    -------
    Pascal
        Less than none where the gas is colder than the air: the kiln then draws downward.

    Notes
    -----
    Δp = (g M/R) P h (1/To − 1/Ti), the gas as heavy as air of its temperature. The printed form
    of the formula has 0.0342 for g M/R. Temperatures are absolute: put in °C the ratio comes
    out several times too high.

    Examples
    --------
    >>> print(f"{stack_draught(height='3 m', gas_temperature='600 degC', air_temperature='20 degC'):.1f~P}")
    23.5 Pa
    """
    weight = GRAVITY * AIR / GAS_CONSTANT * air_pressure.plain(altitude)
    return weight * height * (1.0 / air_temperature - 1.0 / gas_temperature)


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


@dataclass(frozen=True)
class PressureLosses:
    """Where the draught goes; the parts add up to it."""

    opening_loss: Pascal
    bed_loss: Pascal
    eye_loss: Pascal
    damper_loss: Pascal
    chimney_loss: Pascal


@dataclass(frozen=True)
class Draught:
    """The air a kiln draws by itself, the fire that it feeds, and what holds it back.

    `throttle` names the part that takes the most pressure, `lift` what would ease it, and
    `verdict` says both in a sentence. `flue_share` of the air goes through flues in the charge.
    """

    stack_pressure: Pascal
    mass_flux: KilogramPerSquareMetreSecond
    air_rate: KilogramPerSecond
    fuel_rate_most: KilogramPerSecond
    flue_share: Share
    pressure_losses: PressureLosses
    throttle: str
    lift: str
    chimney_wanted: Metre | None
    verdict: str
    basis: tuple[Ground, ...] = ()


def _refuse_still(pressure: float, damper: float, gas: float, top: float, air: float) -> None:
    if damper == 0.0:
        raise InputError(
            "draught", "a damper that is shut, so nothing can flow", "a damper open by some share", "damper=0.5"
        )
    if pressure <= 0.0:
        raise InputError(
            "draught",
            f"a column no lighter than the air outside: {gas - ZERO_CELSIUS:.0f} °C in the charge and "
            f"{top - ZERO_CELSIUS:.0f} °C at the top against {air - ZERO_CELSIUS:z.0f} °C",
            "gas hotter than the air; a cold kiln is started by a small quick fire under the draw eyes or the chimney",
            'gas_temperature="600 degC"',
        )


def _verdict(part: str, breath: Breath, most: float, fuel_rate: float | None, chimney: float | None) -> str:
    name, lift = PARTS[part]
    share = 100 * breath.losses[part] / breath.stack_pressure
    held = f"{name} takes {share:.0f} %" if not name.endswith("s") else f"{name} take {share:.0f} %"
    where = f"Of the {breath.stack_pressure:.1f} Pa of draught {held}; {lift} would ease it"
    if fuel_rate is None or fuel_rate <= most:
        return f"The draught can feed {HOUR * most:.3g} kg of fuel an hour. {where}."
    by_chimney = f", and so would a chimney of {chimney:.1f} m" if chimney else ", and no chimney would"
    wanted = f"It cannot draw air for {HOUR * fuel_rate:.3g} kg of fuel an hour, only for {HOUR * most:.3g}"
    return f"{wanted}. {where}{by_chimney}."


@edge
def draught_flow(
    way: AirWay,
    gas_temperature: Kelvin,
    *,
    top_temperature: Kelvin | None = None,
    air_temperature: Kelvin = fact("start_temperature"),
    damper: Share = 1.0,
    air_demand: Share = SEASONED_OAK,
    excess_air: Share = fact("excess_air"),
    fuel_rate: KilogramPerSecond | None = None,
) -> Draught:
    """Solve for the air a kiln draws: draught on one side, every resistance on the other.

    Parameters
    ----------
    way : AirWay
        Through the kiln, or its fields one by one: ``bed_height="2.5 m", kiln_diameter="2 m", ...``.
    gas_temperature : Kelvin
        Mean of the gas in the charge.
    top_temperature : Kelvin, optional
        Of the gas in draw eyes and chimney; without it, as in the charge.
    air_temperature : Kelvin
        Outside.
    damper : Share
        Open share of the flue, or of the eyes where there is no chimney.
    air_demand : Share
        Least kilograms of air a kilogram of fuel; by default for seasoned oak. See `air_demand`.
    excess_air : Share
        Air beyond that, as a share of it.
    fuel_rate : KilogramPerSecond, optional
        Fuel that somebody wants to burn; the verdict then says whether the air suffices, and
        `chimney_wanted` how high a chimney would carry it.

    Returns
    -------
    Draught

    Raises
    ------
    InputError
        If nothing can flow: the damper is shut, or the gas is no lighter than the air outside.

    Notes
    -----
    Δp = A G + B G², so G = 2 Δp/(A + √(A² + 4 B Δp)), with `stack_draught` Δp over hearth, charge and chimney,
    and G the air through a square metre of kiln. A and a part of B are Ergun's (`bed_pressure_drop`). To B
    come 1/(C a)² of mouths and eyes, (1/μ − 1)²/a² of the damper and (1 + f H/d)/a² of the chimney, each
    over 2 ρ, with a its area over the kiln's: a sharp-edged opening's discharge C, Weisbach's contraction μ,
    Darcy's friction f and one velocity head. The gas counts as air of its temperature; the fuel's own
    mass is added to it, the stone's carbon dioxide is not. Expect about 30 % either way: gaps, wind and
    cracks are not known better.

    Flues that burnt-out poles leave stand beside the stones at one pressure drop: of it a flue takes
    (e + f L/w) velocity heads, with its ends e, Darcy's friction f and its width w. How much goes through
    them is `flue_share`; that this air is as hot as that among the stones, mixed with it at every height, is
    a limit of the model, and so is that the flues stand open from the first.

    Examples
    --------
    >>> kiln = {"bed_height": "2.5 m", "kiln_diameter": "2 m", "sauter_diameter": "80 mm", "hearth_height": "0.6 m"}
    >>> drawn = draught_flow(air_opening_area="0.25 m^2", eye_area="0.2 m^2", gas_temperature="800 degC", **kiln)
    >>> print(f"{drawn.stack_pressure:.1f~P}, {drawn.fuel_rate_most:.0f~P}; held by {drawn.throttle}")
    26.6 Pa, 129 kg/h; held by the charge of stone
    """
    top = gas_temperature if top_temperature is None else top_temperature
    air_to_fuel = air_demand * (1.0 + excess_air)
    state = (gas_temperature, top, air_temperature, 1.0 + 1.0 / air_to_fuel, damper)
    breath = way.breathe(*state)
    _refuse_still(breath.stack_pressure, damper, gas_temperature, top, air_temperature)
    part = max(breath.losses, key=breath.losses.get)
    air_rate = breath.mass_flux * way.kiln_area
    most = air_rate / air_to_fuel
    short = fuel_rate is not None and fuel_rate > most
    chimney = way.chimney_for(fuel_rate * air_to_fuel / way.kiln_area, *state) if short else None
    return Draught(
        stack_pressure=breath.stack_pressure,
        mass_flux=breath.mass_flux,
        air_rate=air_rate,
        fuel_rate_most=most,
        flue_share=breath.flue_share,
        pressure_losses=PressureLosses(**{f"{name}_loss": loss for name, loss in breath.losses.items()}),
        throttle=PARTS[part][0],
        lift=PARTS[part][1],
        chimney_wanted=chimney,
        verdict=_verdict(part, breath, most, fuel_rate, chimney),
    )
