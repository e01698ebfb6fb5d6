"""The kiln as it stands: walls of the country and their water, covers, wind."""

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import erfc

import limekit
from limekit.edge import plain
from limekit.errors import InputError
from limekit.facts import fact
from limekit.fire.air_way import AirWay
from limekit.kiln.cooling import _fire_out
from limekit.kiln.cover import cover_conductance, open_area
from limekit.kiln.wall.in_time import Wall
from limekit.kiln.wall.layers import damp, read_layers, wall_kinds

SIZE = plain(limekit.size_kiln(stone="500 kg", largest_stone="80 mm"))
SHORT = {"hours": 4 * 3600.0, "levels": 4}


def fired(**changed):
    return limekit.fire_kiln.plain(SIZE, **(SHORT | changed))


@pytest.mark.parametrize("kind", sorted(wall_kinds()))
def test_a_wall_by_its_kind_is_the_wall_of_its_layers(kind):
    layers = wall_kinds()[kind]
    assert 0.2 < sum(layer.thickness for layer in read_layers(layers)) < 2.5
    assert SIZE.but(wall_kind=kind).wall == layers
    by_kind, by_layers = fired(wall_kind=kind), fired(layers=layers)
    assert by_kind.heat_budget == by_layers.heat_budget != fired().heat_budget
    assert SIZE.but(wall_kind=kind, layers=[("firebrick", 0.23)]).wall == (("firebrick", 0.23),), "layers go first"


def test_stone_and_ground_take_more_heat_than_brick_and_ash():
    # the order that builders know: a wall of ash or brick warms with less wood than one of stone
    taken = {kind: float(np.sum(fired(wall_kind=kind).burn.column.wall.heat_taken)) for kind in wall_kinds()}
    assert max(taken["brick"], taken["insulated"]) < min(taken["rubble"], taken["bank"])


def test_a_kind_nobody_knows_is_answered_with_those_that_are():
    with pytest.raises(InputError, match="rubble"):
        limekit.fire_kiln(SIZE, wall_kind="ruble")


def test_water_in_a_wall_takes_its_drying_heat_over_the_rise_of_dried_masonry():
    layers = read_layers(wall_kinds()["bank"])
    wet = damp(layers, 0.05)
    assert damp(layers, 0.0) is layers
    rise = fact("wall_drying_rise")
    for before, after in zip(layers, wet, strict=True):
        more = after.material.heat_capacity - before.material.heat_capacity
        assert more * rise == pytest.approx(0.05 * fact("drying_heat"))
        assert after.material.conductivity == before.material.conductivity
    held = [Wall(one, 1.0, 1.0, 290.0, 290.0 + rise).heat_stored[0] for one in (layers, wet)]
    water = sum(0.05 * one.material.density * one.thickness for one in layers)
    flat = [Wall(one, 1.0, None, 290.0, 290.0 + rise).heat_stored[0] for one in (layers, wet)]
    assert flat[1] - flat[0] == pytest.approx(water * fact("drying_heat"))
    assert held[1] > held[0]


def test_dried_masonry_is_so_warm_on_the_mean_by_the_error_function():
    """Carslaw and Jaeger: a deep wall at 20 °C, its face held at 1000 °C; the mean of where it is above 100 °C."""
    deep = brentq(lambda y: 980.0 * erfc(y) - 80.0, 0.0, 3.0)
    mean = (deep * erfc(deep) + (1.0 - np.exp(-(deep**2))) / np.sqrt(np.pi)) / deep
    assert 980.0 * mean == pytest.approx(fact("wall_drying_rise"), rel=2e-3)


def test_a_wet_wall_takes_more_heat_and_the_books_still_close():
    dry, wet = fired(), fired(wall_moisture=0.08)
    assert np.sum(wet.burn.column.wall.heat_taken) > 1.05 * np.sum(dry.burn.column.wall.heat_taken)
    assert wet.conversion < dry.conversion
    moments, wall = wet.burn.moments, wet.burn.column.wall
    lost = moments.stones + moments.wall + moments.flue + moments.leaks.sum(axis=1)
    assert lost == pytest.approx(moments.fire, rel=1e-9, abs=1e-6)
    assert np.sum(wall.heat_taken) == pytest.approx(float(np.sum(wall.heat_stored) + np.sum(wall.heat_lost)), rel=1e-9)


def test_covers_leave_their_share_open_and_let_their_heat_through():
    assert open_area("open", 2.0) == 2.0 > open_area("slabs", 2.0) > open_area("clay with holes", 2.0) > 0.0
    through = {cover: cover_conductance(1.0, cover) for cover in ("open", "slabs", "clay with holes", None)}
    assert through["open"] == max(through.values())
    assert through["slabs"] == pytest.approx(1.0 / (0.06 / 1.4 + 1.0 / 12.0))
    assert through["clay with holes"] == pytest.approx(1.0 / (0.08 / 0.8 + 1.0 / 12.0))
    assert through[None] == pytest.approx(1.0 / (0.1 / 0.8 + 1.0 / 12.0))
    assert cover_conductance(3.0, "slabs") == pytest.approx(3.0 * through["slabs"])
    # from memory: a black-brown face at 500 °C in a room, radiation by Stefan and Boltzmann and still air
    hot, air = 773.15, 293.15
    face = 0.9 * 5.670374419e-8 * (hot**2 + air**2) * (hot + air) + 6.0
    assert through["open"] == pytest.approx(face, rel=0.1)


def test_an_open_top_draws_more_than_slabs_and_slabs_more_than_clay_with_holes():
    draws = [
        SIZE.but(cover=cover).air_way(0.06).breathe(1000.0, 600.0, 290.0).mass_flux
        for cover in ("open", "slabs", "clay with holes")
    ]
    assert draws[2] < draws[1] < draws[0]
    assert SIZE.but(cover=None).air_way(0.06).eye_area == SIZE.eye_area
    lost = {cover: fired(cover=cover).heat_budget.cover_loss for cover in (None, "open")}
    assert lost["open"] > lost[None]


def test_a_chimney_wants_a_cover_to_stand_on():
    with pytest.raises(InputError, match="chimney"):
        limekit.fire_kiln(SIZE, cover="open", chimney_height="2 m")


def test_wind_adds_its_pressure_to_the_draught_and_none_is_none():
    still = AirWay.plain(2.5, 2.0, 0.08, 0.25, 0.2)
    calm = still.breathe(900.0, 600.0, 290.0)
    assert still.but(wind_pressure=0.0).breathe(900.0, 600.0, 290.0) == calm
    windy = still.but(wind_pressure=5.0).breathe(900.0, 600.0, 290.0)
    assert windy.stack_pressure == pytest.approx(calm.stack_pressure + 5.0)
    assert windy.mass_flux > calm.mass_flux > still.but(wind_pressure=-5.0).breathe(900.0, 600.0, 290.0).mass_flux
    assert still.but(wind_pressure=-50.0).breathe(900.0, 600.0, 290.0).mass_flux == 0.0
    assert fired(wind_pressure=5.0).conversion > fired().conversion
    assert fired(wind_pressure=0.0).heat_budget == fired().heat_budget


def test_a_kiln_outside_the_data_is_fired_and_says_so():
    small = limekit.fire_kiln(limekit.size_kiln("100 kg", "60 mm"), hours="2 h", levels=3)
    assert small.fuel_used.magnitude > 0.0
    assert any("100 kg, less than the smallest" in one for one in small.cautions)
    assert not any("Outside" in one for one in fired().cautions)


def test_a_kiln_closed_in_time_burns_as_an_open_one_until_its_top_glows_and_then_under_slabs():
    fires = {cover: fired(cover=cover, hours=30 * 3600.0) for cover in ("open", "closed in time", "slabs")}
    moments = {cover: one.burn.moments for cover, one in fires.items()}
    top = moments["closed in time"].gas_temperature[:, -1, 0]
    laid = int(np.argmax(top >= fact("lid_laid_at")))
    assert 0 < laid < len(top) - 20, "the lid is laid on"
    before = moments["closed in time"].time < moments["closed in time"].time[laid]
    assert moments["closed in time"].air[before] == pytest.approx(moments["open"].air[before.nonzero()], rel=1e-9)
    burn = fires["closed in time"].burn
    assert burn.lid is None
    assert burn.way == fires["slabs"].burn.way
    assert burn.cover == fires["slabs"].burn.cover
    assert moments["closed in time"].leaks[-1, -1, 0] < moments["open"].leaks[-1, -1, 0]
    lost = moments["closed in time"].stones + moments["closed in time"].wall + moments["closed in time"].flue
    lost = lost + moments["closed in time"].leaks.sum(axis=1)
    assert lost == pytest.approx(moments["closed in time"].fire, rel=1e-9, abs=1e-6)


def test_a_kiln_that_is_shut_to_cool_is_shut_the_same_whatever_lay_over_its_fire():
    hot = {cover: limekit.fire_kiln.plain(SIZE, cover=cover, levels=4) for cover in (None, "open")}
    shut = {cover: _fire_out(one, "closed") for cover, one in hot.items()}
    assert shut["open"].cover == shut[None].cover
    assert shut["open"].way.eye_area == shut[None].way.eye_area == fact("closed_leak_share") * SIZE.eye_area
    airy = _fire_out(hot["open"], "open")
    assert airy.way == hot["open"].burn.way
    assert airy.cover == hot["open"].burn.cover
