import datetime
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import limekit
from limekit.errors import InputError
from limekit.units import quantity


@given(st.floats(0.1, 1e4), st.floats(1100, 1800))
def test_putty_holds_its_hydrate_and_water(quicklime, density):
    made = limekit.putty_from_quicklime.plain(quicklime, density)
    assert made.hydrate == pytest.approx(quicklime * 74.093 / 56.077, rel=2e-5)
    assert made.hydrate + made.putty_water == pytest.approx(made.putty, rel=1e-9)
    assert made.putty_volume == pytest.approx(made.hydrate / 2240 + made.putty_water / 1000, rel=1e-9)


def test_the_mass_balance_makes_the_same_putty():
    b = limekit.mass_balance.plain(1000.0, 0.97, 0.93, 1380.0)
    made = limekit.putty_from_quicklime.plain(b.quicklime, 1380.0)
    assert made.putty_volume == pytest.approx(b.putty_volume, rel=1e-9)
    assert limekit.stone_for_putty.plain(made.putty_volume, 0.97, 0.93, 1380.0) == pytest.approx(1000, rel=1e-9)


@given(st.floats(0.01, 100), st.floats(1101, 1340))
def test_settling_keeps_mass(volume, density):
    s = limekit.settle.plain(volume, density)
    assert s.putty_volume * 1350 + s.water_over == pytest.approx(volume * density, rel=1e-9)
    assert s.water_over >= 0


def test_no_settling_time_is_claimed_and_thick_putty_is_refused():
    assert limekit.settle("100 L", "1.2 kg/L").time_claimed.startswith("none")
    with pytest.raises(InputError, match="can still settle"):
        limekit.settle("100 L", "1.4 kg/L")


def test_every_source_has_its_ready_date():
    dates = limekit.ready_dates("2026-05-01", use="plaster")
    assert dates[0].is_default
    assert dates[0].date == datetime.date(2026, 5, 1) + datetime.timedelta(days=90)
    assert {one.days for one in dates} == {3, 90, 180}
    assert limekit.ready_dates(datetime.date(2026, 5, 1))[0].date == datetime.date(2026, 5, 31)


@pytest.mark.parametrize("day", ["1 May", "2026-02-30", 20260501.5, None])
def test_a_date_that_cannot_be_read_is_refused(day):
    with pytest.raises(InputError, match="year first"):
        limekit.ready_dates(day)
    with pytest.raises(InputError, match="one of mortar, plaster, limewash"):
        limekit.ready_dates("2026-05-01", use="paint")


@given(st.lists(st.tuples(st.floats(0.01, 0.12), st.floats(1200, 1500)), min_size=1, max_size=6))
def test_a_store_adds_up(charges):
    store = limekit.tank("cube container")
    volumes, densities = np.array(charges).T
    dates = [datetime.date(2026, 4, 1 + number) for number in range(len(charges))]
    kept = limekit.putty_store.plain(store, dates, volumes, densities)
    assert kept.putty == pytest.approx(volumes @ densities, rel=1e-9)
    assert kept.putty_volume + kept.water_film + kept.room_left == pytest.approx(store.brim, rel=1e-9)
    assert limekit.putty_volume.plain(store, kept.putty_level) == pytest.approx(volumes.sum(), rel=1e-9)
    # mixing keeps both hydrate and volume, so the mean density has the mean solids
    assert limekit.putty_solids.plain(kept.putty_density) == pytest.approx(kept.putty_solids, rel=1e-9)
    assert (np.diff(kept.layer_tops) > 0).all()
    assert kept.youngest == dates[-1]
    assert kept.ready[0].date == dates[-1] + datetime.timedelta(days=30)


def test_one_density_does_for_all_layers():
    store = limekit.tank("upright cylinder", tank_height="1 m", tank_diameter="1 m")
    kept = limekit.putty_store(store, ["2026-05-01", "2026-06-01"], quantity([200.0, 100.0], "L"))
    assert kept.putty_density.to("kg/L").magnitude == pytest.approx(1.35)
    assert kept.putty_level.to("m").magnitude == pytest.approx(0.3 / (math.pi / 4))
    assert "frost" in kept.words


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"slaked_on": ["2026-05-01"]}, "1 dates, 2 volumes"),
        ({"slaked_on": ["2026-06-01", "2026-05-01"]}, "run backwards"),
        ({"slaked_on": ["2026-05-01", "June"]}, "year first"),
        ({"putty_volumes": quantity([600.0, 500.0], "L")}, "no more than the tank holds"),
        ({"putty_volumes": quantity([500.0, 480.0], "L")}, "up to the brim"),
        ({"putty_densities": quantity([1.3, 1.3, 1.3], "kg/L")}, "3 values of putty_densities"),
        ({"putty_volumes": quantity([300.0, -5.0], "L")}, "putty_volumes"),
    ],
)
def test_a_store_that_cannot_be_is_refused(asked, said):
    given_ = {"slaked_on": ["2026-05-01", "2026-06-01"], "putty_volumes": quantity([300.0, 280.0], "L"), **asked}
    with pytest.raises(InputError, match=said):
        limekit.putty_store(limekit.tank("cube container"), **given_)


def test_the_water_kept_on_the_putty_is_as_deep_as_asked():
    store = limekit.tank("upright cylinder", tank_height="1 m", tank_diameter="1 m")
    kept = limekit.putty_store(store, ["2026-05-01"], quantity([300.0], "L"), film_depth="60 mm")
    assert kept.water_film.to("L").magnitude == pytest.approx(60 * math.pi / 4)
    brim = kept.putty_volume + kept.water_film + kept.room_left
    assert brim.to("m^3").magnitude == pytest.approx(math.pi / 4)
