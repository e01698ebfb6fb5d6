"""Each part of a firing's heat, reckoned again from what it stands for."""

import numpy as np
import pytest

from limekit import fact, fire_kiln, size_kiln
from limekit.chemistry import CALCIUM_CARBONATE, MAGNESIUM_CARBONATE
from limekit.kiln.column.budget import heat_budget


@pytest.fixture(scope="module")
def firing():
    return fire_kiln.plain(
        size_kiln.plain(200.0, 0.06),
        chimney_height=1.0,
        levels=3,
        hours=5 * 3600.0,
        calcium_carbonate=0.7,
        magnesium_carbonate=0.25,
        stone_moisture=0.04,
    )


def test_burning_takes_the_heat_of_both_carbonates(firing):
    column, dry = firing.burn.column, 200.0 * 0.96
    calcium, magnesium = (float(share[0]) for share in column.burnt)
    assert 0.05 < calcium < 0.99
    assert 0.3 < magnesium < 1.0
    by_hand = dry * calcium * 0.7 / CALCIUM_CARBONATE * fact("dissociation_heat_at_25")
    by_hand += dry * magnesium * 0.25 / MAGNESIUM_CARBONATE * fact("magnesium_dissociation_heat_at_25")
    assert heat_budget(firing.burn).dissociation_heat == pytest.approx(by_hand, rel=1e-6)


def test_drying_takes_the_heat_of_the_water_there_was(firing):
    assert heat_budget(firing.burn).drying_heat == pytest.approx(
        200.0 * 0.04 * fact("water_vaporisation_heat"), rel=1e-6
    )


def test_stone_holds_what_its_heat_capacity_says(firing):
    dry = 200.0 * 0.96
    held = heat_budget(firing.burn).solid_heat / dry
    mean = float(firing.burn.column.charge.mean(firing.burn.column.stones.core_temperature)[0])
    assert 0.5 < held / (1000.0 * (mean - 298.15)) < 1.2


def test_a_part_that_is_none_is_told_like_a_missing_key(firing):
    budget = heat_budget(firing.burn)
    with pytest.raises(KeyError):
        budget["nowhere"]
    assert len(budget) == len(list(budget)) == 9
    assert budget.fuel_heat == pytest.approx(sum(budget.values()))


def test_the_cover_loses_by_the_gas_below_it_and_the_mouth_by_the_glow_of_the_hearth(firing):
    burn, budget = firing.burn, heat_budget(firing.burn)
    gas, air = burn.moments.gas_temperature[..., 0], burn.column.air_temperature
    seconds = np.diff(burn.moments.time, prepend=0.0)
    assert budget.cover_loss == pytest.approx(seconds @ (burn.cover * (gas[:, -1] - air)), rel=1e-3)
    by_mouth = seconds @ (5.670374e-8 * burn.mouth * (gas[:, 0] ** 4 - air**4))
    assert budget.mouth_loss == pytest.approx(by_mouth, rel=0.1), "the glow goes by the step before"
