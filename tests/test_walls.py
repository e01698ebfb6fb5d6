import math
from itertools import pairwise

import ht
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import limekit
from limekit.errors import InputError
from limekit.kiln.wall.steady import bulk, curvature, outside_coefficient, spread, steady_wall

LAYERS = [("firebrick", 0.230), ("wood_ash", 0.100), ("rubble", 0.450)]


def test_a_flat_wall_is_resistances_in_a_row():
    found = steady_wall.plain(LAYERS, 1273.15, None, 293.15, 4.0, 80.0, 12.0)
    held = 1 / 80 + 0.230 / 1.15 + 0.100 / 0.15 + 0.450 / 1.4 + 1 / 12
    assert found.heat_flux == pytest.approx(980 / held, rel=1e-12)
    assert found.wall_loss.middle == pytest.approx(4 * 980 / held, rel=1e-12)
    assert found.face_temperature == pytest.approx(293.15 + found.heat_flux / 12, rel=1e-12)


def test_a_round_wall_stands_beside_the_heat_transfer_library():
    diameter = 1.8
    found = steady_wall.plain(LAYERS, 1200.0, diameter, 290.0, 1.0, 90.0, 15.0)
    other = ht.conduction.cylindrical_heat_transfer(
        Ti=1200.0, To=290.0, hi=90.0, ho=15.0, Di=diameter, ts=[0.230, 0.100, 0.450], ks=[1.15, 0.15, 1.4]
    )
    assert found.heat_flux == pytest.approx(other["Q"] / (math.pi * diameter), rel=1e-9)
    # the library's list starts from the gas and leaves the inner film's fall out
    assert found.interface_temperatures + found.heat_flux / 90.0 == pytest.approx(other["Ts"], rel=1e-9)


@settings(max_examples=40)
@given(st.floats(0.3, 8), st.floats(0.0, 0.5), st.floats(0.01, 1))
def test_a_round_shell_is_the_closed_form(diameter, near, thick):
    curve, inside = curvature(diameter), diameter / 2
    outer = near + thick
    assert spread(curve, near, outer) == pytest.approx(inside * math.log((inside + outer) / (inside + near)), rel=1e-9)
    assert bulk(curve, near, outer) == pytest.approx(
        ((inside + outer) ** 2 - (inside + near) ** 2) / (2 * inside), rel=1e-9
    )
    resistance = ht.conduction.R_cylinder(2 * (inside + near), 2 * (inside + outer), 0.9, 1.0)
    assert spread(curve, near, outer) / 0.9 == pytest.approx(resistance * math.pi * diameter, rel=1e-9)


def test_a_very_wide_kiln_has_a_flat_wall():
    flat = steady_wall.plain(LAYERS, 1273.15)
    wide = steady_wall.plain(LAYERS, 1273.15, 1e6)
    assert wide.heat_flux == pytest.approx(flat.heat_flux, rel=1e-5)
    narrow = steady_wall.plain(LAYERS, 1273.15, 1.0)
    assert narrow.heat_flux > 1.1 * flat.heat_flux


def test_the_outer_face_gives_off_what_the_wall_lets_through():
    found = steady_wall.plain([("rubble", 0.5)], 1100.0, None, 285.0)
    film = outside_coefficient.plain(found.face_temperature, 285.0)
    assert found.heat_flux == pytest.approx(film * (found.face_temperature - 285.0), rel=1e-9)


def test_the_outer_film_is_convection_and_black_body_light():
    # grey radiation from the definition, without the factored form
    light = 0.9 * 5.670374419e-8 * (350.0**4 - 290.0**4)
    assert outside_coefficient.plain(350.0, 290.0) == pytest.approx(6.0 + light / 60.0, rel=1e-12)
    # turbulent natural convection on a tall plate, Churchill & Chu, stands in the fact's range of 4 to 25
    grashof = 9.81 / 320.0 * 60.0 * 3.0**3 / (1.76e-5) ** 2
    tall = ht.conv_free_immersed.Nu_vertical_plate_Churchill(0.71, grashof) * 0.0275 / 3.0
    assert 4.0 < tall < 8.0


def test_temperatures_fall_outward_and_the_span_follows_the_conductivities():
    found = steady_wall.plain(LAYERS, 1273.15, 2.0)
    levels = [1273.15, *found.interface_temperatures, 293.15]
    assert all(inner > outer for inner, outer in pairwise(levels))
    assert found.face_temperature == found.interface_temperatures[-1]
    assert found.wall_loss.low < found.wall_loss.middle < found.wall_loss.high


def test_a_layer_past_its_limit_is_named():
    hidden = steady_wall.plain([("firebrick", 0.114), ("wood_ash", 0.200), ("rubble", 0.450)], 1273.15, 2.0)
    assert hidden.over_limit[0].startswith("dry sifted wood ash reaches")
    bare = steady_wall.plain([("rubble", 0.6)], 1273.15, 2.0)
    assert "stands 740 °C" in bare.over_limit[0]
    assert steady_wall.plain([("firebrick", 0.230), ("rubble", 0.450)], 1273.15, 2.0).over_limit == ()


def test_air_hotter_than_the_gas_sends_heat_inward():
    assert steady_wall.plain([("rubble", 0.5)], 280.0, 2.0, 310.0).heat_flux < 0.0


def test_the_wall_at_the_edge_shows_units_and_what_its_figures_rest_on():
    found = limekit.steady_wall(
        [("firebrick", "230 mm"), ("rubble", "0.45 m")], "1000 degC", kiln_diameter="2 m", face_area="12 m^2"
    )
    assert str(found.wall_loss.middle.units) == "kW"
    assert found.interface_temperatures.units == limekit.quantity("1 degC").units
    assert len(found.interface_temperatures.magnitude) == 3
    grounds = {ground.name: ground.source for ground in found.basis}
    assert "VDI Heat Atlas" in grounds["dense fireclay brick"]
    assert "Kantiranis" in grounds["limestone rubble laid in lime or earth"]


@pytest.mark.parametrize(
    "layers",
    [
        [],
        "230 mm firebrick",
        None,
        [("firebrick",)],
        [("firebrik", "230 mm")],
        [("firebrick", "230 kg")],
        [("firebrick", 230)],
        [("firebrick", "0 mm")],
        [("firebrick", 0.0)],
        [("firebrick", math.nan)],
        ["firebrick"],
    ],
)
def test_layers_that_are_none_are_refused(layers):
    with pytest.raises(InputError) as caught:
        limekit.steady_wall(layers, "1000 degC")
    assert caught.value.example


def test_a_misspelt_material_is_answered_with_the_near_one():
    with pytest.raises(InputError, match='For example: "firebrick"'):
        limekit.steady_wall([("firebrik", "230 mm")], "1000 degC")


def test_curvature_of_no_diameter_is_flat():
    assert curvature(None) == 0.0
    assert spread(0.0, np.array([0.1]), np.array([0.3])) == pytest.approx(0.2)
