"""A firing's history written out by hand: thirds of the charge, means by mass, fuel fed, what came out."""

import numpy as np
import pytest

from limekit import fact, fire_kiln, size_kiln
from limekit.kiln.column.history import FiringHistory

HOUR = 3600.0


def history(**changed):
    """Two moments, six levels 10 cm high of which the lowest begins at 1 m, two sizes."""
    mass = np.array([[10.0, 10.0]] * 3 + [[20.0, 0.0]] * 3)
    conversion = np.zeros((2, 6, 2))
    conversion[-1] = np.array([[1.0, 0.9], [1.0, 0.8], [0.9, 0.7], [0.8, 0.0], [0.6, 0.0], [0.4, 0.0]])
    overburn = np.zeros((2, 6, 2))
    plain = {
        "times": np.array([1.0, 3.0]) * HOUR,
        "heights": 1.05 + 0.1 * np.arange(6),
        "sizes": np.array([0.05, 0.1]),
        "mass": mass,
        "fuel_rate": np.array([6.0, 9.0]) / HOUR,
        "air_rate": np.ones(2),
        "hearth_temperature": np.full(2, 1300.0),
        "flue_temperature": np.full(2, 600.0),
        "gas_temperature": np.full((2, 6), 1200.0),
        "stone_temperature": np.full((2, 6, 2), 1100.0),
        "conversion": conversion,
        "overburn_index": overburn,
        "burnt": np.array([0.0, 0.7]),
    }
    return FiringHistory(**(plain | changed))


def test_each_third_tells_its_heights_its_share_and_its_means_by_mass():
    places = {(place.part, place.size): place for place in history().places()}
    assert list(places) == [("bottom", 0.05), ("bottom", 0.1), ("middle", 0.05), ("middle", 0.1), ("top", 0.05)]
    assert places["bottom", 0.05].heights == pytest.approx((1.0, 1.2))
    assert places["top", 0.05].heights == pytest.approx((1.4, 1.6))
    assert places["bottom", 0.1].share == pytest.approx(20 / 120)
    assert places["middle", 0.05].conversion == pytest.approx((10 * 0.9 + 20 * 0.8) / 30)
    assert places["bottom", 0.1].conversion == pytest.approx(0.85)
    assert sum(place.share for place in places.values()) == pytest.approx(1.0)


def test_a_place_is_told_in_millimetres_and_percent():
    bottom, large = history().places()[:2]
    assert str(bottom).startswith("bottom, 50 mm: 100 % burnt, ")
    assert str(large).startswith("bottom, 100 mm: 85 % burnt, ")


def test_fuel_is_fed_at_the_rate_of_each_step():
    assert history().fed_by(np.array([0.0, 0.5, 1.0, 2.0, 3.0, 9.0]) * HOUR) == pytest.approx(
        [0.0, 3.0, 6.0, 15.0, 24.0, 24.0]
    )


def test_means_of_a_level_weigh_by_mass():
    values = np.zeros((2, 6, 2))
    values[:, 0] = [1000.0, 1200.0]
    values[:, 5] = [800.0, 5.0]
    assert history().by_level(values)[:, [0, 5]] == pytest.approx(np.array([[1100.0, 800.0]] * 2))


def test_what_came_out_is_sorted_by_how_long_it_was_too_hot():
    index = np.zeros((2, 6, 2))
    index[-1, 0] = fact("overburn_dead_from")
    made = history(overburn_index=index)
    found = made.came_out()
    assert sum(found.values()) == pytest.approx(1.0)
    assert found["dead-burnt risk"] == pytest.approx((10 * 1.0 + 10 * 0.9) / 120)
    burnt = float((made.mass * made.conversion[-1]).sum() / 120)
    assert found["raw"] == pytest.approx(1.0 - burnt)
    assert found["soft-burnt"] == pytest.approx(burnt - found["dead-burnt risk"])
    assert made.dead_share == pytest.approx(20 / 120)
    assert history().dead_share == 0.0


def test_levels_lie_evenly_between_the_hearth_s_roof_and_the_rim():
    size = size_kiln.plain(500.0, 0.08)
    heights = fire_kiln.plain(size, hours=2 * HOUR, levels=5).history.heights
    assert heights[0] - size.foot == pytest.approx(size.charge_height / 10)
    assert np.diff(heights) == pytest.approx(size.charge_height / 5)
    assert size.kiln_height - heights[-1] == pytest.approx(size.charge_height / 10)
