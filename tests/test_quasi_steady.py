"""The textbook stone: exact where one resistance stands alone."""

import numpy as np
import pytest

from limekit.facts import fact
from limekit.stone.front import LAWS, Piece, gas_pressure, threshold
from limekit.stone.quasi_steady import time_to

LARGE = 1e9
ALONE = {
    "heat_transfer_coefficient": LARGE,
    "lime_conductivity": LARGE,
    "co2_diffusivity": LARGE,
    "reaction_coefficient": LARGE,
}
PRESSURE = gas_pressure(0.2)
WARM = float(threshold(PRESSURE)) + 100.0
HOT = 1173.15
CONVERSION = np.array([0.2, 0.5, 0.9, 0.99, 1.0])


def drive(temperature):
    from limekit.chemistry import dissociation_pressure

    return (dissociation_pressure.plain(temperature) - PRESSURE) / (fact("gas_constant") * temperature)


@pytest.mark.parametrize(
    ("shape", "shell"),
    [
        ("sphere", lambda x, core: (1.0 - 3.0 * core**2 + 2.0 * core**3) / 6.0),
        ("cylinder", lambda x, core: (x + (1.0 - x) * np.log(np.maximum(1.0 - x, 1e-300))) / 4.0),
        ("slab", lambda x, core: x**2 / 2.0),
    ],
)
def test_one_resistance_alone_is_exact(shape, shell):
    radius = 0.025
    base = Piece(2 * radius, shape=shape)
    core, share = base.core_left(CONVERSION), base.curved + 1
    by_heat = base.carbonate * LAWS.heat / 100.0
    exact = {
        ("heat_transfer_coefficient", 100.0, WARM): by_heat * radius / 100.0 * CONVERSION / share,
        ("lime_conductivity", 0.6, WARM): by_heat * radius**2 / 0.6 * shell(CONVERSION, core),
        ("reaction_coefficient", 0.006, HOT): base.carbonate * radius / (0.006 * drive(HOT)) * (1.0 - core),
        ("co2_diffusivity", 6e-5, HOT): base.carbonate * radius**2 / (6e-5 * drive(HOT)) * shell(CONVERSION, core),
    }
    for (name, value, level), time in exact.items():
        piece = Piece(2 * radius, **{**ALONE, name: value}, shape=shape)
        assert time_to(piece, level, PRESSURE, CONVERSION) == pytest.approx(time, rel=2e-4), name


def test_more_points_change_nothing(monkeypatch):
    from limekit.stone import quasi_steady

    piece, conversion = Piece(np.array([0.01, 0.05, 0.3])[:, None]), np.array([0.5, 0.99, 1.0])
    coarse = time_to(piece, 1300.0, PRESSURE, conversion)
    places, weights = np.polynomial.legendre.leggauss(400)
    monkeypatch.setattr(quasi_steady, "_gauss", lambda: (0.5 * (places + 1.0), 0.5 * weights))
    assert coarse == pytest.approx(time_to(piece, 1300.0, PRESSURE, conversion), rel=1e-4)


def test_an_array_is_its_members():
    sizes, gases = np.array([0.02, 0.05, 0.1]), np.array([1250.0, 1300.0])
    table = time_to(Piece(sizes[:, None]), gases, PRESSURE, 0.95)
    assert table.shape == (3, 2)
    assert table[1, 0] == pytest.approx(time_to(Piece(0.05), 1250.0, PRESSURE, 0.95))
