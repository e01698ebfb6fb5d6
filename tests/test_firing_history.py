"""A firing's history written out by hand: thirds of the charge, means by mass, fuel fed, what came out."""

from types import SimpleNamespace

import numpy as np
import pytest

from limekit import fact
from limekit.kiln.column.history import FiringHistory
from limekit.kiln.column.history import history as told_of
from limekit.kiln.column.run import Moments
from limekit.stone.overburn import BANDS

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


def test_each_band_of_over_burning_begins_at_its_own_figure():
    for key, word in BANDS:
        for index, is_in in ((float(fact(key)), True), (float(fact(key)) * (1 - 1e-9), False)):
            over = np.full((2, 6, 2), index)
            found = history(overburn_index=over).came_out()
            burnt = 1.0 - found["raw"]
            assert found[word] == pytest.approx(burnt if is_in else 0.0), word
    assert next(iter(found)) == "raw"


def ringed():
    """A heart burnt as above, two rings between of which the second is dead-burnt, and a rim left raw."""
    dead = np.full((2, 6, 2), float(fact("overburn_dead_from")))
    rings = history(), history(), history(overburn_index=dead), history(conversion=np.zeros((2, 6, 2)))
    return history(rings=rings)


def test_of_rings_each_counts_alike():
    whole, alone = ringed(), history()
    assert whole.dead_share == pytest.approx(0.25)
    burnt = 1.0 - alone.came_out()["raw"]
    assert whole.came_out()["raw"] == pytest.approx(1.0 - 0.75 * burnt)
    assert whole.came_out()["dead-burnt risk"] == pytest.approx(0.25 * burnt)
    assert sum(whole.came_out().values()) == pytest.approx(1.0)


def test_places_of_rings_are_told_from_the_heart_to_the_wall():
    places = ringed().places()
    assert [place.ring for place in places[::5]] == [" in the heart", "", "", " by the wall"]
    assert sum(place.share for place in places) == pytest.approx(1.0)
    assert str(places[0]).startswith("bottom in the heart, 50 mm: 100 % burnt")
    assert str(places[-1]).startswith("top by the wall, 50 mm: 0 % burnt")


def test_a_charge_of_one_level_reaches_from_its_foot_up_as_far_again():
    one = history(
        heights=np.array([0.5]),
        mass=np.array([[10.0, 30.0]]),
        conversion=np.array([[[0.0, 0.0]], [[0.8, 0.4]]]),
        overburn_index=np.zeros((2, 1, 2)),
    )
    assert {place.heights for place in one.places()} == {(0.0, 1.0)}
    assert [place.share for place in one.places()] == [0.25, 0.75]


def moments(columns):
    """Two moments of three levels and one size, in which column c has all figures of c + 1."""
    shapes = {"time": (2,), "gas_temperature": (2, 4, columns)}
    shapes |= dict.fromkeys(("stone_temperature", "lime_temperature", "conversion"), (2, 3, 1, columns))
    made = {name: np.ones(shapes.get(name, (2, columns))) * np.arange(1, columns + 1) for name in Moments._fields[1:]}
    made["gas_temperature"] = made["gas_temperature"] + np.array([100.0, 200.0, 300.0, 400.0])[:, None]
    return Moments(time=np.array([1.0, 3.0]) * HOUR, **made)


@pytest.mark.parametrize("rings", [1, 2])
def test_a_history_is_that_of_the_first_kiln_and_of_each_of_its_rings(rings):
    charge = SimpleNamespace(mass=np.array([[10.0], [10.0], [20.0]]), rings=rings, sizes=np.array([0.05]))
    burn = SimpleNamespace(column=SimpleNamespace(charge=charge), by_column=moments(2 * rings), moments=moments(2))
    told = told_of(burn, SimpleNamespace(foot=1.0, charge_height=6.0))
    assert told.heights.tolist() == [2.0, 4.0, 6.0]
    assert told.mass.tolist() == charge.mass.tolist()
    assert told.hearth_temperature.tolist() == [101.0, 101.0]
    assert told.gas_temperature[0].tolist() == [201.0, 301.0, 401.0]
    assert (told.fuel_rate[0], told.air_rate[0], told.flue_temperature[0], told.burnt[0]) == (1.0, 1.0, 1.0, 1.0)
    assert told.overburn_index[-1] == pytest.approx(0.0), "far too cold for any"
    assert [ring.fuel_rate[0] for ring in told.rings] == ([] if rings == 1 else [1.0, 2.0])
    assert [ring.mass.sum() for ring in told.rings] == ([] if rings == 1 else [20.0, 20.0])
