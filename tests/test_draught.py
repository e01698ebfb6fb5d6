import math

import fluids
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

import limekit
from limekit.course.published import cases
from limekit.errors import InputError
from limekit.fire.air import air_pressure, gas_density, gas_viscosity
from limekit.fire.air_way import AirWay, natural_flux
from limekit.fire.bed import bed_pressure_drop, porosity_with_fines, sauter_diameter
from limekit.fire.draught import draught_flow, stack_draught

OURS = {"stack_draught", "bed_pressure_drop", "air_pressure", "gas_viscosity"}
KILN = {
    "bed_height": 2.5,
    "kiln_diameter": 2.0,
    "sauter_diameter": 0.08,
    "air_opening_area": 0.25,
    "eye_area": 0.2,
    "gas_temperature": 1073.15,
}
IN_WORDS = dict(zip(KILN, ("2.5 m", "2 m", "80 mm", "0.25 m^2", "0.2 m^2", "800 degC"), strict=True))
WAY = AirWay.plain(2.5, 2.0, 0.08, 0.25, 0.2, hearth_height=0.6, chimney_height=2.0, chimney_diameter=0.5)


def drawn(**changed):
    return draught_flow.plain(**{**KILN, **changed})


@pytest.mark.parametrize("case", [case for case in cases() if case.function in OURS], ids=lambda case: case.name)
def test_published_row(case):
    assert case.agrees(case.run()), case.basis


def test_draught_takes_absolute_temperatures():
    right = limekit.stack_draught("1 m", "150 degC", "20 degC").magnitude
    trapped = 0.0342 * 101_325 * (1 / 20 - 1 / 150)
    assert trapped > 30 * right
    assert limekit.stack_draught("1 m", "302 degF", "293.15 K").magnitude == pytest.approx(right)


def test_draught_is_the_weight_the_gas_lacks():
    # ideal-gas densities and the standard gravity, worked without the formula
    for altitude in (0.0, 2000.0):
        lighter = gas_density.plain(280.0, altitude) - gas_density.plain(900.0, altitude)
        assert stack_draught.plain(3.0, 900.0, 280.0, altitude) == pytest.approx(9.80665 * 3.0 * lighter, rel=1e-12)
    assert stack_draught.plain(3.0, 280.0, 280.0) == 0.0
    assert stack_draught.plain(3.0, 270.0, 280.0) < 0.0


@pytest.mark.parametrize("altitude", [0.0, 500.0, 3000.0])
def test_air_stands_beside_the_fluids_library(altitude):
    other = fluids.ATMOSPHERE_1976(altitude)
    assert air_pressure.plain(altitude) == pytest.approx(other.P, rel=2e-4)
    assert gas_density.plain(other.T, altitude) == pytest.approx(other.rho, rel=2e-4)
    assert gas_viscosity.plain(other.T) == pytest.approx(other.mu, rel=1e-9)


@settings(max_examples=40)
@given(st.floats(1e-4, 5), st.floats(0.2, 2), st.floats(1e-5, 6e-5), st.floats(0.01, 0.4), st.floats(0.3, 0.6))
def test_bed_stands_beside_the_fluids_library(speed, density, viscosity, size, gaps):
    ours = bed_pressure_drop.plain(speed, density, viscosity, size, 1.7, gaps)
    assert ours == pytest.approx(fluids.packed_bed.Ergun(size, gaps, speed, density, viscosity, L=1.7), rel=1e-9)


def test_one_size_of_ball_is_its_own_sauter_diameter():
    assert limekit.sauter_diameter({"60 mm": 5}, sphericity=1).to("mm").magnitude == pytest.approx(60)


def test_fines_count_by_their_surface():
    mixed = sauter_diameter.plain({0.1: 0.9, 0.01: 0.1}, 1.0)
    assert mixed == pytest.approx(1 / (0.9 / 0.1 + 0.1 / 0.01))
    assert sauter_diameter.plain({0.1: 90.0, 0.01: 10.0}, 1.0) == pytest.approx(mixed)


@given(st.floats(0.36, 0.5), st.floats(0.0, 0.25))
def test_fines_fill_the_gaps_and_move_no_stone(gaps, fines):
    filled = porosity_with_fines.plain(fines, gaps)
    stone, crumbs = 1.0 - gaps, gaps - filled
    assert crumbs / (stone + crumbs) == pytest.approx(fines, abs=1e-12)


def test_full_gaps_hold_gaps_of_their_own_and_no_more_fines():
    assert porosity_with_fines.plain(0.42 / 1.42, 0.42) == pytest.approx(0.42**2)
    with pytest.raises(InputError, match=r"got 40 % of the charge, more than the gaps[^#]*30 % at most: sieve"):
        porosity_with_fines(charge_fines=0.4)


@pytest.mark.parametrize(
    "sizes", [{}, {"60 mm": 0}, {"60 mm": -1, "80 mm": 2}, {"60 mm": math.nan}, {"60 kg": 1}, "60 mm", {"0 mm": 1}]
)
def test_a_mix_that_is_none_is_refused(sizes):
    with pytest.raises(InputError):
        limekit.sauter_diameter(sizes)


@settings(max_examples=60)
@given(st.floats(1e-3, 100), st.floats(0, 1e4), st.floats(1e-3, 1e6))
def test_flux_uses_up_the_draught(pressure, linear, quadratic):
    flux = natural_flux(pressure, linear, quadratic)
    assert linear * flux + quadratic * flux**2 == pytest.approx(pressure, rel=1e-12)
    assert natural_flux(-pressure, linear, quadratic) == 0.0
    assert natural_flux(np.array([pressure, 0.0]), linear, quadratic).tolist() == [pytest.approx(flux), 0.0]


def test_flow_stands_beside_a_bracketed_root_of_the_equations_written_out():
    gas, top, air, damper, altitude = 1000.0, 600.0, 283.0, 0.5, 1200.0
    way = AirWay.plain(2.0, 1.5, 0.06, 0.1, 0.15, 0.5, 3.0, 0.4, 0.45, altitude)
    area, flue = math.pi / 4 * 1.5**2, math.pi / 4 * 0.4**2
    gas_to_air = 1.12

    def left_over(flux):
        density = {kelvin: gas_density.plain(kelvin, altitude) for kelvin in (gas, top, air)}
        moved = flux * area
        hot = moved * gas_to_air
        pressure = stack_draught.plain(2.5, gas, air, altitude) + stack_draught.plain(3.0, top, air, altitude)
        pressure -= (moved / (0.61 * 0.1)) ** 2 / (2 * density[air])
        pressure -= fluids.packed_bed.Ergun(
            0.06, 0.45, flux * gas_to_air / density[gas], density[gas], gas_viscosity.plain(gas), L=2.0
        )
        pressure -= (hot / (0.61 * 0.15)) ** 2 / (2 * density[top])
        jet = damper * (0.63 + 0.37 * damper**3)
        head = (hot / flue) ** 2 / (2 * density[top])
        return pressure - head * ((1 / jet - 1) ** 2 + 1.0 + 0.04 * 3.0 / 0.4)

    breath = way.breathe(gas, top, air, gas_to_air, damper)
    assert breath.mass_flux == pytest.approx(brentq(left_over, 1e-6, 10.0, xtol=1e-12), rel=1e-9)
    assert sum(breath.losses.values()) == pytest.approx(breath.stack_pressure, rel=1e-12)


def test_levels_of_one_temperature_breathe_like_one():
    one = WAY.breathe(900.0, 600.0, 290.0)
    many = WAY.breathe(np.full(20, 900.0), 600.0, 290.0)
    assert many.mass_flux == pytest.approx(one.mass_flux, rel=1e-12)
    assert WAY.breathe(np.linspace(1300.0, 500.0, 20), 500.0, 290.0).mass_flux != pytest.approx(one.mass_flux, rel=1e-3)


def test_a_cold_or_shut_kiln_stands_still_in_the_model():
    assert WAY.breathe(280.0, 280.0, 290.0).mass_flux == 0.0
    shut = WAY.breathe(900.0, 600.0, 290.0, damper=0.0)
    assert shut.mass_flux == 0.0
    assert shut.stack_pressure > 0.0
    assert set(shut.losses.values()) == {0.0}


@pytest.mark.parametrize(
    ("changed", "sign"),
    [
        ({"bed_height": 2.5, "chimney_height": 4.0, "chimney_diameter": 0.8}, 1),
        ({"hearth_height": 1.0}, 1),
        ({"sauter_diameter": 0.16}, 1),
        ({"bed_porosity": 0.5}, 1),
        ({"air_opening_area": 0.5}, 1),
        ({"eye_area": 0.4}, 1),
        ({"damper": 0.3}, -1),
        ({"altitude": 2000.0}, -1),
        ({"air_temperature": 308.15}, -1),
        ({"air_temperature": 263.15}, 1),
        ({"top_temperature": 473.15}, 1),
    ],
)
def test_each_change_moves_the_draw_the_way_a_burner_knows(changed, sign):
    # gas that leaves cooler is denser, so the same eyes and the same draught pass more of it
    assert sign * (drawn(**changed).mass_flux - drawn().mass_flux) > 0.0


def test_fuel_and_air_stand_in_the_proportion_asked():
    found = drawn(air_demand=5.0, excess_air=0.8)
    assert found.air_rate / found.fuel_rate_most == pytest.approx(9.0)
    assert found.air_rate == pytest.approx(found.mass_flux * math.pi)
    losses = found.pressure_losses
    assert losses.opening_loss + losses.bed_loss + losses.eye_loss == pytest.approx(found.stack_pressure)
    assert (losses.damper_loss, losses.chimney_loss) == (0.0, 0.0)


@pytest.mark.parametrize(
    ("changed", "throttle", "eased"),
    [
        ({}, "the charge of stone", {"sauter_diameter": 0.3}),
        ({"air_opening_area": 0.02}, "the air openings", {"air_opening_area": 0.2}),
        ({"eye_area": 0.02}, "the draw eyes", {"eye_area": 0.2}),
        ({"damper": 0.05}, "the damper", {"damper": 1.0}),
        ({"chimney_height": 3.0, "chimney_diameter": 0.12}, "the chimney", {"chimney_diameter": 0.5}),
    ],
)
def test_the_throttle_is_named_and_easing_it_helps(changed, throttle, eased):
    found = drawn(**changed)
    assert found.throttle == throttle
    assert throttle in found.verdict
    assert found.lift in found.verdict
    assert drawn(**{**changed, **eased}).mass_flux > 1.2 * found.mass_flux


def test_a_chimney_of_the_height_named_carries_the_fire_wanted():
    most = drawn().fuel_rate_most
    short = drawn(fuel_rate=1.3 * most)
    assert "cannot draw" in short.verdict
    assert drawn(fuel_rate=1.3 * most, chimney_height=short.chimney_wanted).fuel_rate_most == pytest.approx(1.3 * most)
    assert drawn(fuel_rate=0.9 * most).chimney_wanted is None
    assert "cannot" not in drawn(fuel_rate=0.9 * most).verdict


def test_where_no_chimney_would_do_it_is_said():
    found = drawn(fuel_rate=100 * drawn().fuel_rate_most, chimney_height=1.0, chimney_diameter=0.3)
    assert found.chimney_wanted is None
    assert "no chimney would" in found.verdict


def test_a_kiln_that_cannot_draw_is_refused_with_what_would_lift_it():
    with pytest.raises(InputError, match="damper that is shut"):
        drawn(damper=0.0)
    with pytest.raises(InputError, match="quick fire under the draw eyes"):
        drawn(gas_temperature=280.0, air_temperature=290.0)


def test_draught_at_the_edge_shows_units_and_grounds():
    found = limekit.draught_flow(**IN_WORDS, fuel_rate="60 kg/h", altitude="500 m")
    assert str(found.fuel_rate_most.units) == "kg/h"
    assert found.pressure_losses.bed_loss.to("Pa").magnitude > 0
    kinds = {ground.name: ground.kind for ground in found.basis}
    assert kinds["altitude"] == "given"
    assert kinds["bed_porosity"] == "common practice"


@pytest.mark.parametrize(
    "bad", [{"damper": 1.5}, {"sauter_diameter": "0 mm"}, {"bed_height": 2.5}, {"eye_area": "-1 m^2"}]
)
def test_hostile_input_is_refused_by_name(bad):
    with pytest.raises(InputError, match=next(iter(bad))):
        limekit.draught_flow(**{**IN_WORDS, **bad})


def test_unless_said_a_kiln_stands_by_the_sea_with_no_hearth_below_and_no_chimney_above():
    plain = AirWay.plain(2.5, 2.0, 0.08, 0.25, 0.2)
    said = AirWay.plain(2.5, 2.0, 0.08, 0.25, 0.2, hearth_height=0.0, chimney_height=0.0, altitude=0.0)
    assert plain.breathe(900.0, 600.0, 290.0) == said.breathe(900.0, 600.0, 290.0)
    draught = stack_draught.plain(2.5, 900.0, 290.0)
    assert plain.breathe(900.0, 600.0, 290.0).stack_pressure == pytest.approx(draught, rel=1e-12)
    assert stack_draught.plain(2.5, 900.0, 290.0, 0.0) == draught
