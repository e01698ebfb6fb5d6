import numpy as np
import pytest

from limekit.lime.tanks import tank
from limekit.pictures.putty import half_width


@pytest.mark.parametrize(
    ("made", "slice_at"),
    [
        (tank.plain("cube container"), lambda one, half: 2 * half * one.width),
        (tank.plain("upright cylinder", 0.9, tank_diameter=0.6), lambda one, half: np.pi * half**2),
        (tank.plain("dished cylinder", 0.9, tank_diameter=1.0, dish_depth=0.3), lambda one, half: np.pi * half**2),
        (tank.plain("lying cylinder", tank_diameter=0.8, tank_length=1.5), lambda one, half: 2 * half * one.length),
    ],
    ids=lambda one: getattr(one, "shape", ""),
)
def test_the_outline_drawn_holds_what_the_tank_holds(made, slice_at):
    levels = np.linspace(0, made.height, 20_001)
    slices = np.array([slice_at(made, half_width(made, level)) for level in levels])
    assert np.trapezoid(slices, levels) == pytest.approx(made.brim, rel=1e-5)
