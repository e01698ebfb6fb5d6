import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

import limekit
from limekit.errors import InputError
from limekit.facts import fact
from limekit.lime.charges import STEPS, _hydration_rate
from limekit.lime.contents import BOUND, Contents, steam_enthalpy
from limekit.lime.vessels import filled, outside

START = 288.15


@settings(max_examples=30, deadline=None)
@given(st.floats(0.5, 50), st.floats(1.2, 6), st.integers(1, 5), st.floats(30, 7200), st.floats(60, 1200))
def test_heat_and_mass_close_at_every_moment(lime, ratio, charges, interval, pace):
    water, available = lime * ratio, 0.9
    vessel = 2.01 * filled(lime, water)
    c = limekit.slaking_curve.plain(lime, water, vessel, charges, interval, START, available, pace)
    put_in = lime * (np.arange(c.slaking_times.size) // (STEPS + 1) + 1) / charges
    slaked = put_in * available - c.unslaked
    assert water - slaked * BOUND - c.steam == pytest.approx(c.free_water, rel=1e-9, abs=1e-9 * water)
    assert c.hydrate == pytest.approx(slaked[-1] * (1 + BOUND), rel=1e-9)
    assert c.residue == pytest.approx(lime * (1 - available), rel=1e-9)
    fed = Contents(water, 0.0, 0.0, 0.0).enthalpy(START) + np.array(
        [Contents(0.0, m * available, 0.0, m * (1 - available)).enthalpy(START) for m in put_in]
    )
    held = [
        Contents(w, u, s * (1 + BOUND), m * (1 - available)).enthalpy(t)
        for w, u, s, m, t in zip(c.free_water, c.unslaked, slaked, put_in, c.slaking_temperatures, strict=True)
    ]
    assert np.array(held) + c.heat_lost + c.steam * steam_enthalpy(373.15) == pytest.approx(fed, rel=1e-9)
    assert c.peak_temperature <= 373.15
    assert c.boils or c.peak_temperature < 373.15
    assert (np.diff(c.steam) >= 0).all() and (np.diff(c.heat_lost) >= -1e-9).all()  # noqa: PT018


def test_the_curve_stands_beside_a_general_solver():
    lime, water, vessel, pace = 10.0, 40.0, 0.2, 240.0
    c = limekit.slaking_curve.plain(lime, water, vessel, 1, 3600.0, START, 0.93, pace)
    rate, conductance = _hydration_rate(pace, 0.93), 12.0 * outside(filled(lime, water), vessel)

    def fall(_, state):
        left, kelvin = state
        slaking = rate * left
        slaked = lime * 0.93 - left
        mix = Contents(water - slaked * 0.32126, left, slaked * 1.32126, lime * 0.07)
        # heat of reaction at the temperature it happens: at 25 °C plus the change of heat capacity
        change = 4183.0 * 0.32126 + 754.0 - 1182.0 * 1.32126
        heat = 65200 / 0.056077 + change * (kelvin - 298.15)
        return [-slaking, (slaking * heat - conductance * (kelvin - START)) / mix.heat_capacity]

    reference = solve_ivp(
        fall, (0, 3600), [lime * 0.93, START], "LSODA", rtol=1e-9, atol=1e-9, t_eval=c.slaking_times[1:]
    )
    assert c.slaking_temperatures[1:] == pytest.approx(reference.y[1], abs=0.05)
    assert c.unslaked[1:] == pytest.approx(reference.y[0], abs=1e-5)


@pytest.mark.parametrize("pace", [60.0, 240.0, 900.0])
def test_the_pace_is_that_of_the_reactivity_test(pace):
    # 150 g in 600 g, no heat lost, must stand at 60 °C at the time given
    c = limekit.slaking_curve.plain(0.15, 0.6, 0.002, 1, 3 * pace, 293.15, 0.9, pace)
    slaked = 1 - np.interp(pace, c.slaking_times, c.unslaked) / (0.15 * 0.9)
    assert slaked * limekit.slaking_rise.plain(4, 0.9, 293.15) == pytest.approx(40, rel=2e-3)


def test_smaller_charges_and_longer_waits_are_cooler():
    def peak(charges, minutes):
        return limekit.slaking_curve.plain(10.0, 28.0, 0.2, charges, 60.0 * minutes).peak_temperature

    assert peak(1, 60) > peak(4, 60) > peak(8, 60)
    assert peak(5, 10) > peak(5, 60) > peak(5, 240)
    assert peak(5, 0.1) == pytest.approx(peak(1, 10), abs=0.1)
    assert peak(5, 0.1) > peak(5, 1) > peak(5, 10)


def test_a_hasty_hand_is_followed_until_all_has_slaked():
    hasty = limekit.slaking_curve.plain(10.0, 28.0, 0.2, 6, 60.0, time_to_60=600.0)
    assert hasty.unslaked[-1] < 0.01 * 9.3
    assert (
        hasty.peak_temperature
        > limekit.slaking_curve.plain(10.0, 28.0, 0.2, 6, 1800.0, time_to_60=600.0).peak_temperature
    )


def test_a_plan_counts_in_whole_minutes_and_a_small_charge_goes_in_at_once():
    plan = limekit.slaking_plan("10 kg", "25 kg", "150 L")
    assert plan.charge_interval.to("min").magnitude % 1 == pytest.approx(0, abs=1e-9)
    sooner = plan.charge_interval.to("s").magnitude - 60
    hotter = limekit.slaking_curve.plain(10.0, 25.0, 0.15, int(plan.charges), sooner).peak_temperature
    assert hotter > fact("slaking_temperature_most")
    assert limekit.slaking_plan("1 kg", "30 kg", "100 L").words.startswith("1 kg, all at once")


@pytest.mark.parametrize(("most", "boiling"), [(105, 100), (100, 100), (90, 88)])
def test_a_plan_never_boils_however_hot_the_vessel_may_get(most, boiling):
    water = {
        "lime_charge": "10 kg",
        "water": "25 kg",
        "vessel_volume": "150 L",
        "boiling_temperature": f"{boiling} degC",
    }
    plan = limekit.slaking_plan(**water, slaking_temperature_most=f"{most} degC")
    followed = limekit.slaking_curve(**water, charges=plan.charges, charge_interval=plan.charge_interval)
    assert not followed.boils
    assert followed.peak_temperature.to("degC").magnitude <= boiling


def test_no_plan_is_made_for_what_is_too_stiff_to_stir():
    with pytest.raises(InputError, match="too stiff to stir") as caught:
        limekit.slaking_plan("30 kg", "30 kg", "150 L")
    least = caught.value.wanted.split(" kg at least")[0]
    slaked = limekit.slake("30 kg", f"{1.3 * float(least)} kg")
    assert slaked.product == "putty"


@pytest.mark.parametrize("water", ["25 kg", "32 kg", "45 kg"])
@pytest.mark.parametrize("kind", ["open steel drum", "thick plastic tub", "brick pit"])
def test_a_plan_that_is_followed_stays_below_its_limit(water, kind):
    plan = limekit.slaking_plan("10 kg", water, "150 L", vessel_kind=kind)
    limit = 80 if kind == "thick plastic tub" else 90
    followed = limekit.slaking_curve(
        "10 kg", water, "150 L", charges=plan.charges, charge_interval=plan.charge_interval, vessel_kind=kind
    )
    assert followed.peak_temperature.to("degC").magnitude == pytest.approx(plan.peak_temperature.to("degC").magnitude)
    assert followed.peak_temperature.to("degC").magnitude <= limit + 1e-6
    assert not followed.boils
    assert (plan.charges * plan.charge_mass).to("kg").magnitude == pytest.approx(10)


def test_a_vessel_that_cannot_cool_in_time_is_refused_with_its_caution():
    with pytest.raises(InputError, match="too big a charge") as caught:
        limekit.slaking_plan(
            "4000 kg", "6000 kg", "20 m^3", vessel_kind="brick pit", slaking_temperature_most="50 degC"
        )
    assert "never water onto lime" in str(caught.value)


@pytest.mark.parametrize(
    "asked",
    [
        {"charges": 0},
        {"charges": 2.5},
        {"charges": None},
        {"water": "3.2 kg", "time_to_60": "0.2 min"},
        {"available_lime": 0.5},
        {"available_lime": 0},
        {"order": "water onto lime"},
        {"vessel_kind": "glass jar"},
        {"vessel_volume": "60 L"},
        {"water": "20 kg", "vessel_kind": "thick plastic tub"},
        {"charge_interval": "10"},
        {"water_temperature": "99 degC", "boiling_temperature": "93 degC"},
    ],
)
def test_what_cannot_be_followed_is_refused(asked):
    with pytest.raises(InputError):
        limekit.slaking_curve(**{"lime_charge": "10 kg", "water": "30 kg", "vessel_volume": "100 L", **asked})


@pytest.mark.parametrize("water", ["24 kg", "30 kg", "45 kg", "100 kg"])
def test_a_charge_warms_by_no_more_than_is_allowed_and_there_are_no_more_charges_than_that_takes(water):
    plan = limekit.slaking_plan("10 kg", water, "300 L")
    rise = limekit.slaking_rise.plain(float(water[:-3]) / 10.0, limekit.fact("available_lime"), START)
    charges, most = plan.charges.magnitude, float(limekit.fact("slaking_charge_rise"))
    assert rise / charges <= most * 1.001
    assert charges == 1.0 or rise / (charges - 1.0) > most * 0.999
    assert plan.charge_mass.to("kg").magnitude * charges == pytest.approx(10.0)
    assert plan.slaking_time.to("s").magnitude == pytest.approx(charges * plan.charge_interval.to("s").magnitude)


def test_a_round_vessel_as_wide_as_tall_worked_by_hand():
    # w across and w high: two ends of pi w²/4, and a side of pi w² when full, half of that when half full
    width = 0.5
    whole = math.pi / 4 * width**3
    assert outside(whole, whole) == pytest.approx(1.5 * math.pi * width**2)
    assert outside(whole / 2, whole) == pytest.approx(math.pi * width**2)


def test_too_stiff_a_mix_is_told_with_water_that_would_do():
    with pytest.raises(limekit.InputError) as told:
        limekit.slaking_plan("30 kg", "30 kg", "150 L")
    offered = float(told.value.example.split('"')[1].split()[0])
    least = float(told.value.wanted.split(" kg")[0])
    assert least <= offered < least + 1.5
    assert told.value.got.startswith("30 kg for 30 kg of lime")
