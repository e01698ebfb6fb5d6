"""Heat through a kiln's wall once it has settled, round or flat."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from limekit.edge import Ground, edge
from limekit.estimate import Span
from limekit.facts import fact
from limekit.kiln.wall.layers import Layer, grounds, read_layers
from limekit.units import ZERO_CELSIUS, Kelvin, Metre, SquareMetre, Unit, WattPerSquareMetre, WattPerSquareMetreKelvin

HALVINGS = 60


def curvature(kiln_diameter: float | None) -> float:
    """Return one over the inside radius, in 1/m; 0 for a flat wall."""
    return 2.0 / kiln_diameter if kiln_diameter else 0.0


def spread(curve: float, near, far):
    """Return the length that conduction sees between two depths behind the inner face, for a square metre of that; m.

    With a `curvature` that is r0 ln(r_far/r_near), in a flat wall the distance itself.
    """
    return np.log1p(curve * (far - near) / (1.0 + curve * near)) / curve if curve else far - near


def bulk(curve: float, near, far):
    """Return the volume between two depths, in m³ for a square metre of the inner face."""
    return (far - near) * (1.0 + curve * (near + far) / 2.0)


def faces(layers: Sequence[Layer]) -> np.ndarray:
    """Return the depths of the layers' faces in metre, from 0 at the inner face outward."""
    return np.concatenate([[0.0], np.cumsum([layer.thickness for layer in layers])])


@edge
def outside_coefficient(
    face_temperature: Kelvin, air_temperature: Kelvin = fact("start_temperature")
) -> WattPerSquareMetreKelvin:
    """Return how readily a wall's outer face gives heat to the air and the world around.

    Parameters
    ----------
    face_temperature : Kelvin
        Of the outer face.
    air_temperature : Kelvin
        Of the air, and of what the wall shines on.

    Returns
    -------
    WattPerSquareMetreKelvin
        Convection in still air, which wind multiplies, and radiation ``ε σ (T1² + T2²)(T1 + T2)``.

    Notes
    -----
    h = h_c + ε σ (T² + T_air²) (T + T_air), with the facts ``outside_convection`` h_c and
    ``wall_emissivity`` ε.

    Examples
    --------
    >>> print(f"{outside_coefficient('60 degC'):.1f~P}")
    12.3 W/K/m²
    """
    radiation = fact("wall_emissivity") * fact("stefan_boltzmann")
    squares = face_temperature**2 + air_temperature**2
    return fact("outside_convection") + radiation * squares * (face_temperature + air_temperature)


film = outside_coefficient.plain


@dataclass(frozen=True)
class SteadyWall:
    """A wall that has settled: what passes through it, how hot it is inside, and which layer is too hot.

    The span of `wall_loss` is that of the materials' conductivities, all low or all high.
    """

    heat_flux: WattPerSquareMetre
    wall_loss: Annotated[Span, Unit("W")]
    face_temperature: Kelvin
    interface_temperatures: Kelvin
    over_limit: tuple[str, ...]
    basis: tuple[Ground, ...] = ()


def over_limit(layers: Sequence[Layer], hot_sides) -> tuple[str, ...]:
    """Return a sentence for every layer whose hot side, in kelvin, passes what its material stands."""
    return tuple(
        f"{layer.material.label} reaches {hot - ZERO_CELSIUS:.0f} °C "
        f"and stands {layer.material.limit - ZERO_CELSIUS:.0f} °C"
        for layer, hot in zip(layers, hot_sides, strict=True)
        if hot > layer.material.limit
    )


@edge
def steady_wall(
    layers: Sequence,
    gas_temperature: Kelvin,
    kiln_diameter: Metre | None = None,
    air_temperature: Kelvin = fact("start_temperature"),
    face_area: SquareMetre = 1.0,
    inside_coefficient: WattPerSquareMetreKelvin = fact("heat_transfer_coefficient"),
    outside_coefficient: WattPerSquareMetreKelvin | None = None,
) -> SteadyWall:
    """Return the heat that a wall lets through, and the temperatures in it, once it has settled.

    Parameters
    ----------
    layers : sequence
        Pairs of material and thickness from the fire outward, as in
        ``[("firebrick", "230 mm"), ("wood_ash", "100 mm"), ("rubble", "450 mm")]``.
    gas_temperature : Kelvin
        Of the fire's gas at the wall.
    kiln_diameter : Metre, optional
        Inside, across the lining; without it the wall is flat.
    air_temperature : Kelvin
        Outside.
    face_area : SquareMetre
        Of the inner face, for `wall_loss`.
    inside_coefficient : WattPerSquareMetreKelvin
        From gas and glowing stone to the wall.
    outside_coefficient : WattPerSquareMetreKelvin, optional
        From wall to air; without it, found from the face's own temperature.

    Returns
    -------
    SteadyWall
        A thick wall takes days to settle, and a flare kiln is out before: this is the most it can
        lose, and the hottest its outer layers can get.

    Notes
    -----
    q = (T_gas − T_air)/(1/h_in + Σ r ln(r2/r1)/λ + r/(r_out h_out)) for a square metre of the inner face, with
    the inside radius r; d/λ for each layer of a flat wall. One conductivity a material, dry.

    Examples
    --------
    >>> wall = steady_wall([("firebrick", "114 mm"), ("wood_ash", "200 mm"), ("rubble", "450 mm")], "1000 degC", "2 m")
    >>> print(f"{wall.heat_flux:.0f~P}, outside {wall.face_temperature:.0f~P}")
    670 W/m², outside 52 °C
    >>> print(wall.over_limit[0])
    dry sifted wood ash reaches 930 °C and stands 900 °C
    """
    layers = read_layers(layers)
    setting = (gas_temperature, air_temperature, inside_coefficient, outside_coefficient, curvature(kiln_diameter))
    flux, low, high = (
        _settle(layers, [getattr(layer.material, which) for layer in layers], *setting)
        for which in ("conductivity", "conductivity_low", "conductivity_high")
    )
    return SteadyWall(
        heat_flux=flux[0],
        wall_loss=Span(flux[0] * face_area, low[0] * face_area, high[0] * face_area),
        face_temperature=float(flux[1][-1]),
        interface_temperatures=flux[1],
        over_limit=over_limit(layers, flux[1][:-1]),
        basis=grounds(layers),
    )


def _settle(layers, conductivity, gas, air, inside, outside, curve) -> tuple[float, np.ndarray]:
    depths = faces(layers)
    held = np.concatenate([[1.0 / inside], spread(curve, depths[:-1], depths[1:]) / np.array(conductivity)])
    resistance, wider = float(held.sum()), 1.0 + curve * depths[-1]

    def surplus(face: float) -> float:
        return (gas - face) / resistance - (outside or film(face, air)) * wider * (face - air)

    cold, hot = sorted((gas, air))
    for _ in range(HALVINGS):
        face = (cold + hot) / 2.0
        cold, hot = (face, hot) if surplus(face) > 0.0 else (cold, face)
    heat_flux = (gas - face) / resistance
    return float(heat_flux), gas - heat_flux * np.cumsum(held)
