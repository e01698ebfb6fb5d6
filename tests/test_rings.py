"""A kiln cut into rings: what passes between them, how they share the gas, how far flames reach, and who sets the pace."""

from types import SimpleNamespace

import numpy as np
import pytest

from limekit import fact, size_kiln
from limekit.edge import plain
from limekit.kiln.column.rings import Rings, burn_up, exchange, share_gas
from limekit.kiln.firing import fire_kiln
from limekit.kiln.keeping import usual_slow_start, usual_stoking_rate
from limekit.pictures.firing import cut_in_half
from limekit.units import HOUR

SIZE = size_kiln.plain(500.0, 0.1).but(chimney_height=1.5)
LEVELS = 6


def fired(**options):
    return fire_kiln.plain(SIZE, **{"levels": LEVELS} | options)


@pytest.fixture(scope="module")
def usual():
    return fired()


def standing(gas, takes=20.0):
    """What `exchange` and `burn_up` read of rings at some temperatures, shape (rings, levels)."""
    gas = np.array(gas, dtype=float)
    place = np.column_stack([gas[:, :1], gas])
    return type("Now", (), {"gas": place, "takes": np.full(gas.shape, takes)})()


def on_the_bench(count, levels=3):
    """What `exchange` reads and writes of the bench."""
    figures = {"capacities": np.full(count, 15.0), "side": np.zeros((count, levels + 1))}
    return SimpleNamespace(**figures, **{name: np.empty(count) for name in ("below", "warmer", "more")})


def cut(count, **more):
    told = {"kiln_diameter": 0.8, "bed_height": 1.2, "lump": 0.08, "levels": 3, "flame": 0.2} | more
    return Rings.of(count, **told)


def test_rings_are_of_one_section_and_the_face_between_two_is_a_circle():
    rings = cut(2)
    inner = 0.4 * np.sqrt(0.5)
    assert rings.reach == pytest.approx([2 * np.pi * inner * 0.4 / (0.5 * 0.4)])
    assert len(cut(1).reach) == 0
    assert len(cut(4).reach) == 3


@pytest.mark.parametrize("count", [2, 3, 5])
def test_what_one_ring_gives_the_next_takes_and_the_warmer_gives(count):
    rings, levels = cut(count), 3
    gas = 1200.0 - 80.0 * np.arange(count)[:, None] - 50.0 * np.arange(levels)
    passing, bench = np.zeros((levels, count - 1)), on_the_bench(count)
    exchange(rings, standing(gas), bench, 0, passing)
    side = bench.side
    assert side.sum(axis=0) == pytest.approx(np.zeros(levels + 1), abs=1e-9)
    assert np.all(passing > 0.0)
    assert np.all(side[0, 1:] < 0.0)
    assert np.all(side[-1, 1:] > 0.0)


def test_heat_between_rings_settles_at_conductivity_times_what_they_stand_apart():
    """Fixed temperatures: what a step old is brought up to date, and then stays, whatever the gas would ease."""
    rings, gas = cut(2, levels=1), np.array([[1100.0], [1000.0]])
    passing = np.zeros((1, 1))
    for _ in range(200):
        exchange(rings, standing(gas), on_the_bench(2, levels=1), 0, passing)
    by_hand = rings.stirring * 15.0 + rings.glow * 1050.0**3
    assert passing[0, 0] == pytest.approx(by_hand * rings.reach[0] * 100.0, rel=1e-6)


def test_rings_share_the_gas_at_one_pressure_drop():
    heads = plain(SIZE).air_way(0.08).heads
    means = np.array([[1 / 1250.0, 0.058, 1250.0], [1 / 1000.0, 0.042, 1000.0]])
    shares, flux, to_air = np.empty(2), 0.3, 1.15
    share_gas(heads, 293.15, means, flux, to_air, shares)
    assert shares.sum() == pytest.approx(1.0)
    flow = 2.0 * flux * shares
    lost = heads.viscous * to_air * means[:, 1] * flow + heads.inertial * to_air**2 * means[:, 2] * flow**2
    lift = heads.lift * heads.bed_height * (1.0 / 293.15 - means[:, 0])
    assert lost[0] - lift[0] == pytest.approx(lost[1] - lift[1], rel=1e-6)
    share_gas(heads, 293.15, means[[0, 0]], flux, to_air, shares)
    assert shares == pytest.approx([0.5, 0.5])
    share_gas(heads, 293.15, means, 0.0, to_air, shares)
    assert shares.tolist() == [0.5, 0.5], "still gas"


def test_flames_burn_where_the_gas_is_hot_and_leave_as_smoke_where_it_is_not():
    rings, side = cut(1), np.zeros(4)
    assert rings.flame.sum() == pytest.approx(0.2)
    assert rings.flame[:2] == pytest.approx(0.2 * np.array([0.4, 0.3]) / 0.7), "as far as flames reach"
    assert burn_up(rings, standing([[1000.0] * 3]), 0, 1e4, side) == pytest.approx((2000.0, 0.0))
    assert side[1:].sum() == pytest.approx(2000.0)
    assert burn_up(rings, standing([[500.0] * 3]), 0, 1e4, np.zeros(4)) == pytest.approx((0.0, 2000.0))
    side = np.zeros(4)
    burn_up(rings, standing([[500.0, 1000.0, 500.0]]), 0, 1e4, side)
    assert side.tolist() == pytest.approx([0.0, 0.0, 2000.0, 0.0]), "it catches further up"


@pytest.mark.parametrize("rings", [2, 3])
def test_without_a_wall_rings_are_as_one(rings):
    """Symmetry: with nothing to lose heat to, the rim is as the heart, and both as an uncut kiln."""
    burns = [fired(hours=0.1 * HOUR, rings=one).plan.light() for one in (1, rings)]
    for burn in burns:
        faces = burn.column.wall.face_area.reshape(LEVELS + 1, -1)
        faces[1:] = 0.0
        burn.column = type(burn.column)(burn.column.charge, burn.column.wall, 293.15, 293.15, 101325.0)
        burn.run(6 * HOUR)
    one, many = burns
    assert many.burnt[0] > 0.1
    apart = np.ptp(many.by_column.conversion[-1], axis=-1)
    assert apart.max() < 1e-9
    assert many.burnt[0] == pytest.approx(one.burnt[0], rel=1e-3)


def test_heat_and_gas_close_ring_by_ring_and_together(usual):
    moments = usual.burn.by_column
    spent = moments.flue + moments.stones + moments.wall + moments.leaks.sum(axis=1)
    between = (moments.fire - spent).reshape(len(moments.time), 1, 2)
    scale = moments.fire.max()
    assert between.sum(axis=-1) == pytest.approx(np.zeros((len(moments.time), 1)), abs=1e-9 * scale)
    assert between[..., 0].max() > 0.01 * scale, "the heart gives heat to the rim"
    assert moments.gas_out[:, 2:] == pytest.approx(moments.gas_in[:, 2:], rel=1e-9)


def test_the_heart_is_ahead_and_the_rim_stays_raw_longest_high_up_against_the_wall(usual):
    heart, rim = usual.history.rings
    assert np.all(heart.burnt >= rim.burnt - 1e-9)
    assert heart.burnt[-1] > rim.burnt[-1] + 0.02
    assert usual.raw[0].part + usual.raw[0].ring == "top by the wall"
    assert sum(place.share for place in usual.places) == pytest.approx(1.0)
    assert usual.history.burnt == pytest.approx(0.5 * (heart.burnt + rim.burnt))
    assert sum(usual.history.came_out().values()) == pytest.approx(1.0)
    assert usual.history.dead_share == pytest.approx(0.5 * (heart.dead_share + rim.dead_share))


def test_finer_rings_change_the_finish_by_less_than_three_percent(usual):
    assert fired(rings=4).finish == pytest.approx(usual.finish, rel=0.03)
    assert fired(rings=1).finish == pytest.approx(usual.finish, rel=0.15)


def test_the_wood_is_the_firm_figure_and_the_hours_are_the_wood_over_what_is_fed():
    slow, quick = (fired(stoking_rate=rate / HOUR, heat_up_time=0.0) for rate in (12.0, 16.0))
    assert 1.15 < slow.finish / quick.finish < 1.45
    assert quick.fuel_used == pytest.approx(slow.fuel_used, rel=0.15)
    most = [fired(stoking_rate=rate / HOUR).finish for rate in (300.0, 3000.0)]
    assert most[0] == pytest.approx(most[1], rel=1e-6), "the draught burns no more"


@pytest.mark.parametrize(
    ("options", "name"),
    [
        ({"stoking_rate": 10.0 / HOUR, "chimney_height": 4.0}, "arms"),
        ({"stoking_rate": 500.0 / HOUR, "chimney_height": 0.0}, "draught"),
        ({"heat_up_time": 60 * HOUR, "chimney_height": 2.0}, "slow start"),
    ],
)
def test_what_set_the_pace_is_said(options, name):
    firing = fired(**options)
    assert firing.finish
    assert name in [limit.name for limit in firing.limits]
    assert "set the pace" in firing.limits[-1].hit


def test_feeding_and_slow_start_by_size_are_the_facts_at_a_tonne():
    assert usual_stoking_rate(1000.0) == fact("stoking_rate_at_a_tonne")
    assert usual_slow_start(1000.0) == fact("slow_start_of_a_tonne")
    assert usual_stoking_rate(8000.0) / usual_stoking_rate(4000.0) == pytest.approx(
        2.0 ** fact("stoking_rate_exponent")
    )
    assert usual_slow_start(8000.0) / usual_slow_start(4000.0) == pytest.approx(2.0 ** fact("slow_start_exponent"))
    assert usual_stoking_rate(18_000.0) * HOUR == pytest.approx(115.0, rel=0.4), "Burgbau Friesach, 2018, 18 t"
    assert usual_slow_start(100.0) < usual_slow_start(1000.0) < usual_slow_start(20_000.0)


def test_a_firing_whose_feeding_is_known_has_the_narrower_range_of_hours(usual):
    known = fired(stoking_rate=usual_stoking_rate(500.0))
    assert known.finish == pytest.approx(usual.finish)
    assert usual.hours.low < known.hours.low < known.hours.middle == known.finish < known.hours.high < usual.hours.high
    assert usual.fuel.low < usual.fuel.middle == usual.fuel_used < usual.fuel.high
    assert fired(hours=2 * HOUR).hours is None


def test_the_kiln_cut_in_half_shows_the_rim_at_the_wall_and_the_heart_in_the_middle(usual):
    drawn = cut_in_half(usual.plan.kiln, usual.history, 0.5 * usual.firing_time)
    heat, burnt = drawn["data"][:2]
    radius = usual.plan.kiln.kiln_diameter / 2
    assert heat["x"][0] < 0.0 < burnt["x"][-1] < radius
    assert np.all(np.diff(heat["x"]) > 0.0)
    assert np.all(heat["z"][:, 0] <= heat["z"][:, -1] + 1e-9), "the wall's side is the cooler"
    assert np.all(burnt["z"][:, -1] <= burnt["z"][:, 0] + 1e-9)
