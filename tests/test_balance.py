import pytest
from hypothesis import given
from hypothesis import strategies as st

import limekit
from limekit.errors import InputError

shares = st.floats(0, 1)


def test_a_tonne_of_pure_stone():
    # computed from standard atomic weights: 1 t of pure dry stone, 95 % burnt, putty at 1.35 kg/L
    burnt = limekit.mass_balance(stone="1000 kg", calcium_carbonate=1.0, conversion=0.95, putty_density="1.35 kg/L")
    rounded = [round(q.magnitude) for q in (burnt.drawn, burnt.quicklime, burnt.hydrate, burnt.putty_volume)]
    assert rounded == [582, 532, 703, 1112]
    assert round(burnt.carbon_dioxide.to("kg").magnitude) == 418


@given(st.floats(0.1, 1e5), shares, shares, shares, shares, st.floats(0, 0.6), st.floats(1010, 1790))
def test_nothing_is_lost_on_the_way(stone, calcium, rest, conversion, of_magnesium, stone_moisture, density):
    magnesium = (1 - calcium) * rest
    b = limekit.mass_balance.plain(stone, calcium, conversion, density, magnesium, of_magnesium, stone_moisture)
    assert b.drawn + b.carbon_dioxide + b.water_driven_off == pytest.approx(stone, rel=1e-9)
    assert b.quicklime + b.magnesia + b.core + b.inert_mass == pytest.approx(b.drawn, rel=1e-9)
    assert b.quicklime + b.slaking_water == pytest.approx(b.hydrate, rel=1e-9)
    assert b.hydrate + b.putty_water == pytest.approx(b.putty, rel=1e-9)
    assert b.putty_volume * density == pytest.approx(b.putty, rel=1e-9)
    full_loss = stone * (1 - stone_moisture) * limekit.loss_on_ignition.plain(calcium, magnesium)
    assert b.carbon_dioxide + b.carbon_dioxide_left * b.drawn == pytest.approx(full_loss, rel=1e-9, abs=1e-12 * stone)
    assert min(b.drawn, b.quicklime, b.core, b.inert_mass, b.putty_water) >= -1e-9 * stone


@given(st.floats(0, 1))
def test_solids_and_density_are_each_others_inverse(solids):
    assert limekit.putty_solids.plain(limekit.putty_density.plain(solids)) == pytest.approx(solids, abs=1e-9)


def test_raw_stone_gives_no_putty():
    raw = limekit.mass_balance(stone="100 kg", calcium_carbonate=0.9, conversion=0.0)
    assert raw.putty_volume.magnitude == 0
    assert raw.drawn.magnitude == pytest.approx(100)


def test_a_putty_no_mix_can_have_is_refused():
    with pytest.raises(InputError, match=r"1\.00 and 2\.24"):
        limekit.mass_balance.plain(100.0, 0.9, 0.9, 990.0)


def test_putty_yield_lies_in_the_handbook_range():
    # 70 to 100 ft3 of putty a (short) ton of quicklime, civil-engineering handbook page: 2.2 to 3.1 L/kg
    for density in ("1.30 kg/L", "1.35 kg/L"):
        b = limekit.mass_balance(stone="1 tonne", calcium_carbonate=1.0, conversion=1.0, putty_density=density)
        litres = (b.putty_volume / b.quicklime).to("L/kg").magnitude
        assert 2.0 <= litres <= 3.1


def test_a_refused_density_is_told_with_the_densities_of_water_and_hydrate():
    for density in (1000.0, 999.0, 2250.0):
        with pytest.raises(InputError) as told:
            limekit.putty_from_quicklime.plain(10.0, density)
        assert told.value.got.startswith(f"{density / 1000:.2f} kg/L")
    driest = limekit.putty_from_quicklime.plain(10.0, limekit.fact("hydrate_density"))
    assert driest.putty_water == pytest.approx(0.0, abs=1e-12)


def test_stone_is_dry_and_free_of_magnesium_unless_said():
    plain = limekit.mass_balance.plain(100.0, 0.9, 1.0)
    assert (plain.magnesia, plain.water_driven_off) == (0.0, 0.0)
    assert plain.inert_mass == pytest.approx(10.0)
    assert plain.carbon_dioxide == pytest.approx(90 * 44.009 / 100.086, rel=1e-4)


def test_magnesium_carbonate_burns_whole_unless_said():
    plain = limekit.mass_balance.plain(100.0, 0.6, 0.5, magnesium_carbonate=0.4)
    assert plain.magnesia == pytest.approx(40 * 40.304 / 84.313, rel=1e-4)
    assert plain.core == pytest.approx(30.0)
