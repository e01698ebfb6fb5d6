import dataclasses
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

import limekit
from limekit.chemistry import loss_on_ignition
from limekit.errors import InputError
from limekit.facts import fact
from limekit.stone.trial import TrialPiece, _with_errors, conversion_by_core, conversion_by_weight

shares = st.floats(0, 1)


@given(st.floats(0.05, 5), shares, st.floats(0.3, 0.99), st.floats(0, 0.1), st.floats(0, 0.2))
def test_the_weights_of_a_balance_give_its_conversion_back(mass, conversion, calcium, magnesium, stone_moisture):
    magnesium = min(magnesium, 1 - calcium)
    drawn = limekit.mass_balance.plain(mass, calcium, conversion, 1350.0, magnesium, 1.0, stone_moisture).drawn
    found = conversion_by_weight.plain(mass, drawn, calcium, magnesium, stone_moisture)
    assert found.conversion == pytest.approx(conversion, abs=1e-9)
    assert found.conversion_low < found.conversion < found.conversion_high


@given(st.floats(0.01, 0.3), shares)
def test_a_round_core_gives_its_volume_back(size, core):
    found = conversion_by_core.plain(size, core * size)
    assert found.conversion == pytest.approx(1 - core**3, abs=1e-12)
    assert 0 <= found.conversion_low <= found.conversion <= found.conversion_high <= 1


@given(st.floats(0.02, 0.3), st.floats(0.2, 1), st.floats(0.2, 1), shares, shares)
def test_a_larger_core_means_less_burnt_and_the_range_stays_between_nothing_and_all(size, b, c, one, other):
    widths = (size * b, size * b * c)
    less, more = sorted((one, other))
    burnt, raw = (conversion_by_core.plain(size, core * size, *widths) for core in (less, more))
    assert burnt.conversion >= raw.conversion - 1e-12
    for found in (burnt, raw):
        assert 0 <= found.conversion_low <= found.conversion <= found.conversion_high <= 1


def test_an_even_shell_on_a_flat_stone_lies_in_the_range():
    # 10 mm of lime on every side of 80 × 60 × 45 mm
    exact = 1 - (60 * 40 * 25) / (80 * 60 * 45)
    known = conversion_by_core("80 mm", "60 mm", "60 mm", "45 mm")
    unknown = conversion_by_core("80 mm", "60 mm")
    assert known.conversion_low.magnitude < exact < known.conversion_high.magnitude
    assert unknown.conversion.magnitude == pytest.approx(1 - 0.75**3)
    assert unknown.conversion_high.magnitude > unknown.conversion.magnitude + 0.05


def test_the_errors_of_independent_weighings_add_in_squares():
    exact = {"calcium_carbonate": fact("calcium_carbonate"), "stone_moisture": fact("stone_moisture")}
    pure = {key: type(value)(value, **{**vars(value), "low": value, "high": value}) for key, value in exact.items()}
    found = conversion_by_weight.plain(1.0, 0.6, balance_error=0.001, **pure)
    a_gram = 0.001 / (1 - pure["stone_moisture"]) / loss_on_ignition.plain(pure["calcium_carbonate"])
    assert found.conversion_high - found.conversion == pytest.approx((a_gram**2 + (0.6 * a_gram) ** 2) ** 0.5, rel=2e-3)


def test_an_assumed_stone_leaves_a_wider_range_than_an_analysed_one_and_says_so():
    assumed = conversion_by_weight("1200 g", "700 g")
    analysed = conversion_by_weight("1200 g", "700 g", calcium_carbonate=0.97, stone_moisture=0.003)
    width = [found.conversion_high - found.conversion_low for found in (assumed, analysed)]
    assert width[0] > 2 * width[1]
    kinds = {ground.name: ground.kind for ground in assumed.basis}
    assert kinds["calcium_carbonate"] == kinds["stone_moisture"] == "common practice"
    assert kinds["mass_before"] == "given"


def test_two_per_cent_of_moisture_feigns_two_and_a_half_points_of_conversion():
    # 2 % moisture left in pure stone adds about 1.1 points of false loss (computed)
    loss = loss_on_ignition.plain(1.0)
    weighed = 0.98 * (1 - loss)
    found = conversion_by_weight.plain(1.0, weighed, 1.0, stone_moisture=0.0)
    assert (found.conversion - 1) * loss == pytest.approx(0.011, abs=5e-4)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: conversion_by_weight("100 g", "120 g"), "more than the 100 g"),
        (lambda: conversion_by_weight("100 g", "60 g", calcium_carbonate=0.0), "calcium carbonate in it"),
        (lambda: conversion_by_weight("100 g", "60 g", 0.9, 0.2), "1 at most"),
        (lambda: conversion_by_core("60 mm", "61 mm"), "no larger than its piece"),
        (lambda: conversion_by_core("60 mm", "10 mm", "70 mm"), "in this order"),
        (lambda: conversion_by_core("60 mm", "10 mm", "50 mm", "55 mm"), "in this order"),
        (lambda: conversion_by_core("60", "10 mm"), "largest_size"),
    ],
)
def test_what_cannot_be_is_refused(call, words):
    with pytest.raises(InputError, match=words):
        call()


def test_a_gain_within_the_error_of_the_balance_is_let_through():
    assert conversion_by_weight("100 g", "100.5 g").conversion < 0


def test_the_sphere_that_burns_like_a_piece_lies_between_its_widths():
    piece = TrialPiece("1", 0.08, 3600.0, middle_size=0.06, smallest_size=0.04)
    assert 0.04 < piece.diameter < 0.08
    assert dataclasses.replace(piece, middle_size=None, smallest_size=None).diameter == pytest.approx(0.08)


def test_a_piece_that_slaked_through_has_no_core():
    piece = TrialPiece("1", 0.03, 3600.0, slaking="through")
    assert piece.core == 0
    assert dataclasses.replace(piece, slaking="partly").core is None
    assert dataclasses.replace(piece, core_size=0.005).core == 0.005


def test_no_piece_weighed_less_than_half_of_what_the_scale_said():
    """Of 4 g burnt to 2 g the range is that of 2 and 14 g before and of 0 and 12 g after, and a little for the stone."""
    found = conversion_by_weight.plain(0.004, 0.002, 1.0, stone_moisture=0.0, balance_error=0.01)
    up, down = math.hypot(0.5, 0.5 - 2 / 14), math.hypot(0.5, 2.5)
    gas = loss_on_ignition.plain(1.0)
    assert (found.conversion_high - found.conversion) * gas == pytest.approx(up, rel=0.02)
    assert (found.conversion - found.conversion_low) * gas == pytest.approx(down, rel=0.02)


def test_refusals_tell_the_figures_in_grams_and_millimetres():
    with pytest.raises(InputError) as gained:
        conversion_by_weight.plain(0.1, 0.12)
    assert gained.value.got == "120 g, more than the 100 g before burning"
    with pytest.raises(InputError) as core:
        conversion_by_core.plain(0.06, 0.065)
    assert core.value.got == "65 mm in a piece of 60 mm"
    with pytest.raises(InputError) as widths:
        conversion_by_core.plain(0.06, 0.01, 0.07)
    assert widths.value.got == "60 mm, 70 mm, 70 mm"


def test_carbonate_is_never_reckoned_past_what_the_magnesium_leaves():
    # richer stone has more gas to lose, so it sets the low end of the share burnt; 0.9 is all the calcium there can be
    found = conversion_by_weight.plain(1.0, 0.7, 0.9, 0.1, 0.0, balance_error=0.0)
    poorer = conversion_by_weight.plain(1.0, 0.7, 0.88, 0.1, 0.0, balance_error=0.0)
    assert found.conversion - found.conversion_low < 0.85 * (poorer.conversion - poorer.conversion_low)
    assert found.conversion_high - found.conversion == pytest.approx(
        poorer.conversion_high - poorer.conversion, rel=0.1
    )


def test_what_only_lowers_a_share_widens_its_range_downward_alone():
    found = _with_errors(lambda core: -abs(core), core=(0.0, -1.0, 2.0))
    assert (found.conversion_low, found.conversion_high) == (-2.0, 0.0)
