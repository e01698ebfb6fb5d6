import pytest
from hypothesis import given
from hypothesis import strategies as st

import limekit
from limekit import Stone
from limekit.errors import InputError
from limekit.facts import fact


@given(st.floats(1, 1e4), st.floats(0.3, 1), st.floats(0, 1), st.floats(0.02, 1), st.floats(0, 0.3), st.floats(0, 0.5))
def test_both_ways_find_the_conversion_the_mass_balance_put_in(stone, calcium, rest, conversion, stone_moisture, hard):
    magnesium = (1 - calcium) * rest
    # a core is whole stone, so both carbonates stop at the same share
    b = limekit.mass_balance.plain(
        stone,
        calcium,
        conversion,
        magnesium_carbonate=magnesium,
        conversion_of_magnesium=conversion,
        stone_moisture=stone_moisture,
    )
    core = stone * (1 - stone_moisture) * (1 - conversion)
    burnt = b.drawn - core
    draw = limekit.sort_draw.plain(
        good_lime=burnt * (0.5 - hard / 2),
        cored=core + burnt * 0.1 if core else 0.0,
        core=core,
        overburnt=burnt * hard / 2,
        fines=burnt * (0.4 if core else 0.5),
        calcium_carbonate=calcium,
        magnesium_carbonate=magnesium,
        stone=stone,
        stone_moisture=stone_moisture,
        fuel_heat=1e13,
    )
    assert draw.drawn == pytest.approx(b.drawn, rel=1e-9)
    for found in (draw.conversion_by_sorting, draw.conversion_by_mass, draw.conversion):
        assert found == pytest.approx(conversion, abs=1e-9)
    assert draw.carbon_dioxide_left == pytest.approx(b.carbon_dioxide_left, abs=1e-9)
    slaking = (burnt - draw.overburnt_share * draw.drawn) / burnt
    assert draw.available_lime == pytest.approx(b.quicklime * slaking / b.drawn, rel=1e-9)
    assert draw.available_in_good == pytest.approx(b.quicklime / burnt, rel=1e-9)
    heat = b.quicklime / 0.056077 * fact("dissociation_heat_at_25")
    heat += b.magnesia / 0.040304 * fact("magnesium_dissociation_heat_at_25")
    assert draw.efficiency == pytest.approx(heat / 1e13, rel=1e-6)
    assert draw.doubt == ""


@pytest.mark.parametrize(
    ("weights", "verdict", "change"),
    [
        ({"good_lime": "95 kg"}, "accept", "Change nothing"),
        ({"good_lime": "70 kg", "fines": "25 kg"}, "accept", "Much crumbled"),
        ({"good_lime": "60 kg", "cored": "35 kg", "core": "15 kg"}, "use as mortar lime", "Under-burnt"),
        ({"good_lime": "20 kg", "cored": "75 kg", "core": "40 kg"}, "re-burn", "Under-burnt"),
        ({"good_lime": "70 kg", "overburnt": "25 kg"}, "use as mortar lime", "Over-burnt"),
        (
            {"good_lime": "30 kg", "overburnt": "25 kg", "cored": "40 kg", "core": "15 kg"},
            "use as mortar lime",
            "Uneven",
        ),
    ],
)
def test_the_verdict_follows_core_and_over_burning(weights, verdict, change):
    draw = limekit.sort_draw(**weights)
    assert draw.verdict == verdict
    assert draw.next_change.startswith(change)


@pytest.mark.parametrize(("gas", "name"), [(0.035, "CL 90"), (0.065, "CL 80"), (0.115, "CL 70"), (0.13, "below CL 70")])
def test_class_and_verdict_follow_the_carbon_dioxide_left(gas, name):
    core = gas / limekit.loss_on_ignition.plain(1.0)
    draw = limekit.sort_draw.plain(good_lime=1 - core - 0.01, cored=core + 0.01, core=core, calcium_carbonate=1.0)
    assert draw.lime_class == name
    assert draw.class_of_good == "CL 90"
    assert draw.verdict == {"CL 90": "accept", "below CL 70": "re-burn"}.get(name, "use as mortar lime")


def test_core_and_clay_take_the_place_of_oxides():
    # 1 t with 85 % carbonate, burnt through: 476 kg CaO and 150 kg clay, 76 % CaO: CL 70 with no gas left
    assert limekit.sort_draw.plain(good_lime=1.0, calcium_carbonate=0.85).lime_class == "CL 70"
    # 8 % of core, 3 % carbon dioxide, thins the oxides to just under 70 %
    cored = limekit.sort_draw.plain(good_lime=0.75, cored=0.25, core=0.08, calcium_carbonate=0.85)
    assert (cored.lime_class, cored.class_of_good) == ("below CL 70", "CL 70")


def test_lost_lime_and_wet_lime_are_told_apart():
    # 1 t of pure stone burnt through leaves 560 kg
    pure = Stone("1000 kg", calcium_carbonate=1.0)
    lost = limekit.sort_draw(good_lime="500 kg", stone=pure)
    assert "some was lost" in lost.doubt
    short = limekit.sort_draw(good_lime="420 kg", cored="150 kg", core="100 kg", stone=pure)
    assert "Lime was lost" in short.doubt
    damp = limekit.sort_draw(good_lime="640 kg", stone=pure)
    assert "damp air" in damp.doubt
    assert {draw.verdict for draw in (lost, damp)} == {"weigh again"}
    assert lost.next_change.startswith("Change nothing until")
    assert lost.conversion.magnitude == damp.conversion.magnitude == 1.0  # by sorting: no cores were found


def test_a_fire_that_gave_more_than_any_kiln_does_is_doubted():
    heaps = {"good_lime": "560 kg", "stone": "1000 kg"}
    assert "count the fuel again" in limekit.sort_draw(**heaps, fuel_heat="4 GJ").doubt
    assert limekit.sort_draw(**heaps, fuel_heat="12 GJ").doubt == ""


def test_many_cored_pieces_ask_for_smaller_stone_though_the_gas_is_within_limits():
    draw = limekit.sort_draw(good_lime="302 kg", cored="118 kg", core="38 kg", overburnt="24 kg", fines="30 kg")
    assert draw.verdict == "accept"
    assert "break the stone smaller" in draw.next_change


def test_without_stone_or_fuel_nothing_is_made_up():
    draw = limekit.sort_draw(good_lime="100 kg")
    assert draw.conversion_by_mass is draw.yield_on_stone is draw.efficiency is None


@given(st.floats(0, 1), st.floats(0, 0.5))
def test_a_wider_core_leaves_more_gas(ratio, step):
    wider = min(ratio + step, 1.0)
    assert 0 <= limekit.core_share.plain(ratio) <= limekit.core_share.plain(wider) <= 1


@pytest.mark.parametrize(
    "weights",
    [
        {"good_lime": "0 kg"},
        {"good_lime": "9 kg", "cored": "5 kg"},
        {"good_lime": "9 kg", "cored": "5 kg", "core": "6 kg"},
        {"good_lime": "9 kg", "core": "1 kg"},
        {"good_lime": "90 kg", "stone": "80 kg"},
        {"good_lime": "90 kg", "stone": "100 kg", "stone_moisture": 0.2},
        {"good_lime": "90 kg", "calcium_carbonate": 0.0},
        {"good_lime": "90 kg", "calcium_carbonate": 0.9, "magnesium_carbonate": 0.2},
        {"good_lime": "90 kg", "fuel_heat": "200 MJ"},
        {"good_lime": "90"},
        {"good_lime": "-9 kg"},
    ],
)
def test_weights_that_cannot_be_are_refused(weights):
    with pytest.raises(InputError):
        limekit.sort_draw(**weights)


def test_every_heap_is_told_as_its_share_of_what_was_drawn():
    draw = limekit.sort_draw.plain(good_lime=50.0, cored=30.0, core=12.0, overburnt=15.0, fines=5.0)
    shares = draw.good_share, draw.cored_share, draw.overburnt_share, draw.fines_share
    assert shares == pytest.approx((0.5, 0.3, 0.15, 0.05))
    assert sum(shares) == pytest.approx(1.0)


def test_the_reason_tells_the_gas_left_and_the_lime_too_hard_in_percent():
    draw = limekit.sort_draw.plain(good_lime=20.0, overburnt=80.0)
    assert "80 % over-burnt" in draw.reason
    raw = limekit.sort_draw.plain(good_lime=50.0, cored=50.0, core=40.0)
    assert f"{100 * raw.carbon_dioxide_left:.1f} % carbon dioxide left" in raw.reason
