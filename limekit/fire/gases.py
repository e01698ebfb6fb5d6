"""The heat that flue gases carry, from NASA's polynomials (``data/gases.csv``)."""

from __future__ import annotations

import functools
from typing import Literal

import numpy as np

from limekit import tables
from limekit.chemistry import CARBON_DIOXIDE, OXYGEN, WATER
from limekit.edge import edge
from limekit.facts import fact, refuse_unsourced
from limekit.units import JoulePerKilogram, Kelvin

Gas = Literal["n2", "o2", "co2", "h2o", "so2"]

STANDARD = fact("standard_temperature")
MOLAR_MASS = {
    "n2": 2 * fact("atomic_weight_nitrogen"),
    "o2": 2 * OXYGEN,
    "co2": CARBON_DIOXIDE,
    "h2o": WATER,
    "so2": fact("atomic_weight_sulphur") + 2 * OXYGEN,
}


@functools.cache
def _coefficients() -> dict[str, tuple[float, np.ndarray, np.ndarray]]:
    pieces: dict[str, list[tuple[float, np.ndarray]]] = {}
    for number, row in enumerate(tables.rows("gases"), start=2):
        refuse_unsourced(row, f"gases row {number}, {row['gas']}")
        terms = np.array([float(row[f"a{power}"]) for power in range(1, 7)])
        pieces.setdefault(row["gas"], []).append((float(row["from_kelvin"]), terms))
    return {gas: (hot_from, cool, hot) for gas, ((_, cool), (hot_from, hot)) in pieces.items()}


def _enthalpy(gas: str, temperature):
    hot_from, cool, hot = _coefficients()[gas]
    terms = np.where(np.asarray(temperature)[..., None] < hot_from, cool, hot)
    powers = np.stack([temperature**power / power for power in range(1, 6)] + [np.ones_like(temperature)], axis=-1)
    return fact("gas_constant") * np.sum(terms * powers, axis=-1)


@functools.cache
def _at_standard(gas: str) -> float:
    return float(_enthalpy(gas, np.asarray(float(STANDARD))))


def molar_heat(gas: Gas, temperature):
    """Return the heat in a mole of gas above 25 °C, J/mol, at constant pressure and 200 to 5000 K; water as vapour."""
    return _enthalpy(gas, np.asarray(temperature, dtype=float)) - _at_standard(gas)


@edge
def sensible_heat(gas: Gas, temperature: Kelvin) -> JoulePerKilogram:
    """Return the heat in a kilogram of gas above 25 °C, at constant pressure.

    Parameters
    ----------
    gas : {"n2", "o2", "co2", "h2o", "so2"}
        Water as vapour.
    temperature : Kelvin
        Level of the gas; its heat content is 0 at 25 °C. Arrays pass through.

    Notes
    -----
    h = (H(T) − H(25 °C))/M, with H/(R T) = a1 + a2 T/2 + a3 T²/3 + a4 T³/4 + a5 T⁴/5 + a6/T: the
    polynomials of McBride, Gordon & Reno, NASA TM-4513, 1993.

    Examples
    --------
    >>> print(f"{sensible_heat('co2', temperature='900 degC'):.0f~P}")
    976 kJ/kg
    """
    heat = molar_heat(gas, temperature) / MOLAR_MASS[gas]
    return float(heat) if np.ndim(heat) == 0 else heat
