"""One stone when no heat is stored: the textbook limit, an integral over the front's way inward."""

from __future__ import annotations

import functools

import numpy as np

from limekit.stone.front import LAWS, Piece, front_balance

POINTS = 32


@functools.cache
def _gauss() -> tuple[np.ndarray, np.ndarray]:
    places, weights = np.polynomial.legendre.leggauss(POINTS)
    return 0.5 * (places + 1.0), 0.5 * weights


def time_to(piece: Piece, gas_temperature, co2_pressure, conversion):
    """Return the time (s) in which a piece burns to a conversion, with no heat stored in it; arrays pass through.

    The gas (K, and Pa of carbon dioxide) is steady, and must be hotter than the threshold.

    Notes
    -----
    ``dt = −carbonate · core^curved · R dcore / burning``, by Gauss–Legendre points in `core`,
    with the front's temperature solved at each. Where one resistance stands alone this is the
    exact shrinking-core solution.
    """
    places, weights = _gauss()
    column = piece.with_each(lambda figure: np.asarray(figure)[..., None])
    gas, pressure = np.asarray(gas_temperature)[..., None], np.asarray(co2_pressure)[..., None]
    end = piece.core_left(np.asarray(conversion))[..., None]
    core = end + (1.0 - end) * places
    resistance = column.gas_resistance(core)
    _, burning = front_balance(gas, 1.0 / column.heat_resistance(core), pressure, resistance, gas, LAWS.heat)
    pace = core**piece.curved / burning
    time = piece.carbonate * piece.radius * np.sum(weights * (1.0 - end) * pace, axis=-1)
    return float(time) if np.ndim(time) == 0 else time
