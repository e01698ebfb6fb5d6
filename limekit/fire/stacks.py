"""What a person buys: how many kilograms of fuel a stack, a heap or a bag holds, and back."""

from __future__ import annotations

from typing import Annotated, Literal

from limekit.edge import edge
from limekit.errors import InputError
from limekit.estimate import Span
from limekit.facts import fact
from limekit.fire.fuel import FuelKind, as_fired, fuels
from limekit.units import CubicMetre, Kilogram, Share, Unit

FuelLay = Literal["stacked", "loose", "bagged"]
LAYS = {"logs": ("stacked", "loose", "bagged"), "lumps": ("loose", "bagged")}


def _solid_share(fuel: str, lay: str, given: float | None) -> Span:
    if given is not None:
        return Span(given, given, given)
    name, shape = fuels()[fuel].label, fuels()[fuel].comes_as
    if lay not in LAYS[shape]:
        raise InputError("lay", f"{name} in a stack", f"loose or bagged: {name} comes in lumps", 'lay="loose"')
    known = fact("solid_fraction", f"{shape}_{lay}")
    return Span(float(known), known.low, known.high)


def _in_a_cubic_metre(fuel: str, lay: str, fuel_moisture: float | None, solid_fraction: float | None) -> Span:
    solid, dense = _solid_share(fuel, lay, solid_fraction), fuels()[fuel].density
    dry = Span(solid.middle * dense, solid.low * dense.low, solid.high * dense.high)
    dry_share = 1.0 - as_fired(fuel, fuel_moisture)
    return Span(*(mass / dry_share for mass in (dry.middle, dry.low, dry.high)))


@edge
def fuel_mass_in(
    fuel_volume: CubicMetre,
    fuel: FuelKind,
    lay: FuelLay = "stacked",
    fuel_moisture: Share | None = None,
    solid_fraction: Share | None = None,
) -> Annotated[Span, Unit("kg")]:
    """Return the fuel in a volume as it is sold, with the range of its density and of its gaps.

    Parameters
    ----------
    fuel_volume : CubicMetre
        Of the whole stack, heap or bag, gaps and all.
    fuel : FuelKind
    lay : {"stacked", "loose", "bagged"}
        Split logs stacked by hand, tipped in a heap, or in nets and sacks. Lumps are not stacked.
    fuel_moisture : Share, optional
        Water as a share of the wet mass. Without it, what the fuel usually holds: 0.20 for wood.
    solid_fraction : Share, optional
        Solid over whole volume, where you have measured it; without one, as is usual for the lay.

    Returns
    -------
    Span
        Kilograms as it lies, water and all; the ends are light wood laid loosely and heavy wood
        laid close.

    Raises
    ------
    InputError
        If a fuel that comes in lumps is to be stacked.

    Notes
    -----
    mass = volume · solid share · ρ/(1 − w), with dry mass over seasoned volume ρ. Green wood has not shrunk
    yet: a stack measured green holds about a tenth less.

    Examples
    --------
    >>> print(fuel_mass_in("1 m^3", "oak"))
    528 kg (406 kg to 675 kg)
    """
    held = _in_a_cubic_metre(fuel, lay, fuel_moisture, solid_fraction)
    return Span(fuel_volume * held.middle, fuel_volume * held.low, fuel_volume * held.high)


@edge
def fuel_volume(
    fuel_mass: Kilogram,
    fuel: FuelKind,
    lay: FuelLay = "stacked",
    fuel_moisture: Share | None = None,
    solid_fraction: Share | None = None,
) -> Annotated[Span, Unit("m^3")]:
    """Return the room some fuel takes as it is sold; the reverse of `fuel_mass_in`.

    Parameters
    ----------
    fuel_mass : Kilogram
        As it lies, water and all.
    fuel, lay, fuel_moisture, solid_fraction
        As for `fuel_mass_in`.

    Returns
    -------
    Span
        Cubic metres; the low end is heavy wood laid close.

    Raises
    ------
    InputError
        If a fuel that comes in lumps is to be stacked.

    Notes
    -----
    volume = mass (1 − w)/(solid share · ρ), as in `fuel_mass_in`.

    Examples
    --------
    >>> print(fuel_volume("600 kg", "oak"))
    1.14 m³ (0.889 m³ to 1.48 m³)
    """
    held = _in_a_cubic_metre(fuel, lay, fuel_moisture, solid_fraction)
    return Span(fuel_mass / held.middle, fuel_mass / held.high, fuel_mass / held.low)
