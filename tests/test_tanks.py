import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

import limekit
from limekit.errors import InputError

sizes = st.floats(0.05, 5)


@st.composite
def tanks(draw):
    shape = draw(st.sampled_from(["box", "upright cylinder", "dished cylinder", "lying cylinder", "cube container"]))
    height, length, width, diameter = (draw(sizes) for _ in range(4))
    depth = draw(st.floats(0.01, 1)) * min(diameter / 2, height)
    return limekit.tank.plain(shape, height, length, width, diameter, depth)


@given(tanks(), st.floats(0, 1))
def test_level_and_volume_are_each_others_inverse(store, share):
    level = share * store.height
    volume = limekit.putty_volume.plain(store, level)
    again = limekit.putty_volume.plain(store, limekit.putty_level.plain(store, volume))
    assert again == pytest.approx(volume, rel=1e-9, abs=1e-12 * store.brim)
    if 0.01 < share < 0.99:
        assert limekit.putty_level.plain(store, volume) == pytest.approx(level, rel=1e-9)


@given(tanks(), st.floats(0, 1), st.floats(0, 1))
def test_a_higher_level_holds_more(store, one, other):
    low, high = sorted((one * store.height, other * store.height))
    assert 0 <= store.filled(low) <= store.filled(high) <= store.brim


@given(sizes, sizes, sizes)
def test_full_tanks_hold_what_the_closed_formulas_say(height, length, diameter):
    radius = diameter / 2
    box = limekit.tank.plain("box", height, length, diameter)
    assert box.brim == pytest.approx(height * length * diameter)
    upright = limekit.tank.plain("upright cylinder", height, tank_diameter=diameter)
    assert upright.brim == pytest.approx(math.pi * radius**2 * height)
    lying = limekit.tank.plain("lying cylinder", tank_length=length, tank_diameter=diameter)
    assert lying.brim == pytest.approx(math.pi * radius**2 * length)
    assert lying.filled(radius) == pytest.approx(lying.brim / 2)
    half_round = limekit.tank.plain("dished cylinder", height + radius, tank_diameter=diameter, dish_depth=radius)
    assert half_round.filled(radius) == pytest.approx(2 / 3 * math.pi * radius**3)  # half a sphere
    assert half_round.brim == pytest.approx(2 / 3 * math.pi * radius**3 + math.pi * radius**2 * height)


@given(tanks(), st.floats(0.05, 0.95))
def test_volume_is_the_area_summed_over_height(store, share):
    level, step = share * store.height, 1e-4 * store.height
    slice_ = store.filled(level + step) - store.filled(level - step)
    radius = store.diameter / 2
    if store.shape in ("box", "cube container"):
        area = store.length * store.width
    elif store.shape == "lying cylinder":
        area = 2 * math.sqrt(radius**2 - (level - radius) ** 2) * store.length
    elif level > store.dish_depth + step or store.dish_depth == 0:
        area = math.pi * radius**2
    elif level > store.dish_depth - step:
        return
    else:
        sphere = (radius**2 + store.dish_depth**2) / (2 * store.dish_depth)
        area = math.pi * (2 * sphere * level - level**2)
    assert slice_ / (2 * step) == pytest.approx(area, rel=1e-3)


def test_the_cube_container_holds_its_name():
    assert limekit.tank("cube container").brim == pytest.approx(1.0, abs=0.005)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"tank_shape": "box", "tank_height": "1 m", "tank_length": "1 m"}, "no tank_width"),
        ({"tank_shape": "upright cylinder", "tank_height": "1 m"}, "no tank_diameter"),
        ({"tank_shape": "lying cylinder", "tank_diameter": "1 m"}, "no tank_length"),
        ({"tank_shape": "lying cylinder", "tank_length": "1 m"}, r"got no tank_diameter\."),
        ({"tank_shape": "barrel"}, "one of box"),
        (
            {"tank_shape": "dished cylinder", "tank_height": "1 m", "tank_diameter": "1 m", "dish_depth": "0.6 m"},
            "half the diameter",
        ),
        ({"tank_shape": "box", "tank_height": "1", "tank_length": "1 m", "tank_width": "1 m"}, "tank_height"),
    ],
)
def test_a_tank_without_its_measures_is_refused(asked, said):
    with pytest.raises(InputError, match=said):
        limekit.tank(**asked)


def test_an_overfull_tank_is_refused():
    store = limekit.tank("cube container")
    with pytest.raises(InputError, match="up to the brim"):
        limekit.putty_volume(store, "98 cm")
    with pytest.raises(InputError, match="no more than the tank holds"):
        limekit.putty_level(store, "1001 L")
