"""Draught: how much air a kiln's own hot gas draws in, and what holds it back."""

from __future__ import annotations

from dataclasses import dataclass

from limekit.edge import Ground, edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.fire.air import AIR, GAS_CONSTANT, GRAVITY, air_pressure
from limekit.fire.air_way import PARTS, AirWay, Breath
from limekit.fire.fuel import air_demand as fuel_air_demand
from limekit.units import (
    HOUR,
    ZERO_CELSIUS,
    Kelvin,
    KilogramPerSecond,
    KilogramPerSquareMetreSecond,
    Metre,
    Pascal,
    Share,
)

SEASONED_OAK = fuel_air_demand.plain("oak", fact("fuel_moisture"))


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
        got = "a damper that is shut, so nothing can flow"
        raise InputError("draught", got, "a damper open by some share", "damper=0.5")
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
    raised = chimney is not None and chimney <= fact("chimney_most")
    by_chimney = f", and so would a chimney of {chimney:.1f} m" if raised else ", and no chimney would, with this stone"
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
    26.6 Pa, 108 kg/h; held by the charge of stone
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
