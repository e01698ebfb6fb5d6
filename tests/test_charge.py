"""Stone laid in a kiln by hand-made figures: sizes read, levels filled, means by mass, rings and members."""

import numpy as np
import pytest

from limekit import fact
from limekit.kiln.column.charge import STRAIGHT, Lays, make_charge, read_sizes, spread_by_level
from limekit.limestone import USUAL_STONE, Stone

SIZES = {0.04: 0.25, 0.08: 0.75}
DRY = USUAL_STONE.but(stone_moisture=0.0)


def test_without_sizes_half_is_of_the_middle_and_the_rest_of_both_ends_alike():
    # common practice, no source
    found = read_sizes(None, 0.05, 0.11)
    assert list(found) == pytest.approx([0.05, 0.08, 0.11])
    assert list(found.values()) == pytest.approx([0.25, 0.5, 0.25])
    assert read_sizes(None, 0.1, 0.1) == pytest.approx({0.1: 1.0})


def test_sizes_come_out_small_to_large_in_shares_and_without_those_there_are_none_of():
    found = read_sizes({"80 mm": 30.0, 0.04: 5.0, "4 cm": 5.0, 0.1: 0.0}, 0.0, 0.0)
    assert list(found) == pytest.approx([0.04, 0.08])
    assert list(found.values()) == pytest.approx([0.25, 0.75])


def test_graded_stone_fills_level_after_level_from_the_largest_down():
    # of a quarter small and three quarters large, the two lower of three levels are large, the top has 1/12 of it
    graded = spread_by_level(np.array([0.25, 0.75]), 3, "graded")
    assert graded == pytest.approx(np.array([[0, 1 / 3], [0, 1 / 3], [1 / 4, 1 / 12]]))
    assert spread_by_level(np.array([0.25, 0.75]), 2, "mixed") == pytest.approx(np.array([[0.125, 0.375]] * 2))


def test_a_charge_is_weighed_wet_and_kept_dry():
    charge = make_charge(200.0, SIZES, 2, stone=USUAL_STONE.but(stone_moisture=0.1))
    assert charge.mass == pytest.approx(np.array([[22.5, 67.5]] * 2))
    assert charge.sizes.tolist() == [0.04, 0.08]
    assert (charge.members, charge.rings, charge.columns) == (1, 1, 1)
    assert charge.porosity == fact("bed_porosity")
    assert charge.like.shape == (2, 2, 1)
    assert not charge.like.any()


def test_each_size_is_charged_once_for_every_lay_at_its_own_pace():
    lays = Lays(np.array([[0.5], [2.0]]), np.array([0.25, 0.75]))
    charge = make_charge(16.0, SIZES, 1, stone=DRY, lays=lays, porosity=0.4)
    plain = make_charge(16.0, SIZES, 1, stone=DRY)
    assert charge.porosity == 0.4
    assert charge.sizes.tolist() == [0.04, 0.04, 0.08, 0.08]
    assert charge.mass == pytest.approx(np.array([[1.0, 3.0, 3.0, 9.0]]))
    factor = np.array([0.5, 2.0, 0.5, 2.0])
    for name in ("reaction_coefficient", "lime_conductivity", "co2_diffusivity", "heat_transfer_coefficient"):
        of_lays, alike = (np.asarray(getattr(one.piece, name)) for one in (charge, plain))
        assert of_lays.ravel() == pytest.approx(factor * alike.ravel()[0]), name
    assert (STRAIGHT.factors == 1.0).all()
    assert STRAIGHT.shares.sum() == 1.0


def test_members_differ_and_stand_ring_by_ring_beside_one_another():
    stone = Stone.plain(reaction_coefficient=np.array([0.004, 0.006]))
    charge = make_charge(10.0, SIZES, 3, stone=stone, rings=2)
    assert (charge.members, charge.rings, charge.columns) == (2, 2, 4)
    assert charge.like.shape == (3, 2, 4)
    assert charge.piece.reaction_coefficient[0] == pytest.approx([0.004, 0.004, 0.006, 0.006])
    assert charge.by_ring(np.arange(4.0)).tolist() == [[0.0, 1.0], [2.0, 3.0]]
    assert charge.by_ring(np.zeros((5, 4))).shape == (5, 2, 2)


def test_a_mean_weighs_levels_and_sizes_by_mass_and_rings_alike():
    charge = make_charge(10.0, SIZES, 2, stone=DRY, rings=2)
    values = charge.like
    values[:, 0], values[:, 1] = 4.0, 8.0
    assert charge.mean(values) == pytest.approx([0.25 * 4 + 0.75 * 8])
    values[..., 1] = 0.0
    assert charge.mean(values) == pytest.approx([3.5])
    values = charge.like
    values[0] = 1.0
    assert charge.mean(values) == pytest.approx([0.5])
