"""The heat that unburnt stone holds: straight stretches, what leaves for good, and the way back."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limekit import fact
from limekit.chemistry import MAGNESIUM_CARBONATE
from limekit.stone.front import Piece
from limekit.stone.warming import Warming, done, heat_content, level_at, straight

DRY, WET = Warming(2.4e6), Warming(2.4e6, drying=1.2e8)
DOLOMITIC = Warming(2.4e6, drying=1.2e8, magnesia=3e8)
levels = st.floats(273.15, 1300.0)


@settings(max_examples=60)
@given(st.sampled_from([DRY, WET, DOLOMITIC, Warming(2.4e6, magnesia=3e8)]), levels, levels)
def test_temperature_is_the_way_back_from_heat(stone, level, peak):
    peak = max(level, peak)
    assert level_at(stone, heat_content(stone, level, peak), peak) == pytest.approx(level, abs=1e-6)


def test_heat_counts_from_25_degrees_and_holds_what_left():
    for stone in (DRY, WET, DOLOMITIC):
        assert heat_content(stone, 298.15, 0.0) == 0.0
    assert heat_content(DOLOMITIC, 1200.0, 0.0) == pytest.approx(2.4e6 * (1200.0 - 298.15) + 1.2e8 + 3e8)
    assert heat_content(DOLOMITIC, 298.15, 1200.0) == pytest.approx(1.2e8 + 3e8), "gone for good"
    assert heat_content(WET, 400.0, 0.0) - heat_content(DRY, 400.0, 0.0) == pytest.approx(1.2e8)


def test_half_the_moisture_leaves_at_boiling_and_none_well_below_it():
    assert done(WET, 373.15) == pytest.approx((0.5, 0.0))
    assert done(WET, 350.0) == (0.0, 0.0)
    assert done(WET, 1300.0) == (1.0, 0.0), "no magnesium carbonate, so none of it burns"
    assert done(DRY, 1300.0) == (0.0, 0.0)
    assert done(DOLOMITIC, 1300.0) == (1.0, 1.0)
    low, high = fact("magnesium_stage_from"), fact("magnesium_stage_to")
    assert done(DOLOMITIC, (low + high) / 2)[1] == pytest.approx(0.5)


def test_only_dry_pure_stone_is_a_straight_line():
    assert straight(DRY)
    assert not straight(WET)
    assert not straight(Warming(2.4e6, magnesia=1.0))


def test_a_piece_s_heats_are_those_of_its_water_and_magnesium_carbonate():
    piece = Piece(diameter=0.05, moisture=0.05, magnesium_carbonate=0.2)
    found = Warming.of(piece)
    assert found.drying == pytest.approx(0.05 / 0.95 * piece.density * fact("drying_heat"))
    moles = 0.2 * piece.density / MAGNESIUM_CARBONATE
    assert found.magnesia == pytest.approx(moles * fact("magnesium_dissociation_heat_at_25"))


def test_many_stones_at_once_are_as_one_by_one():
    heats = np.array([-1e6, 1e8, 3e8, 9e8, 3e9])
    peaks = np.full(5, 1500.0)
    assert level_at(DOLOMITIC, heats, peaks) == pytest.approx(
        [level_at(DOLOMITIC, float(heat), 1500.0) for heat in heats]
    )
    assert np.all(np.diff(level_at(DOLOMITIC, heats, np.zeros(5))) > 0.0)
