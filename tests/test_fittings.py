import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limekit import design_kiln, fact, size_kiln
from limekit.kiln import fittings

BRICK_ON_EDGE = 0.064 + 0.003  # firebrick and joint along the arch, m
spans, widths = st.floats(0.1, 1.5), st.floats(0.4, 4.0)


def test_the_bands_lie_from_the_arches_to_the_rim_no_farther_apart_than_the_spacing():
    levels, length = fittings.ties(1.6, 3.0, 0.5)
    assert levels[0] == pytest.approx(0.55)
    assert levels[-1] == pytest.approx(2.95)
    assert np.diff(levels) == pytest.approx([0.6] * 4)
    assert length == pytest.approx(5 * (math.pi * 1.6 + 0.3))


@settings(max_examples=60)
@given(widths, st.floats(0.7, 15), st.floats(0.2, 0.6))
def test_no_two_bands_are_too_far_apart_and_one_fewer_would_be(outer, height, arches_to):
    levels, _ = fittings.ties(outer, height, arches_to)
    spacing, reach = fact("tie_spacing"), levels[-1] - levels[0]
    assert len(levels) >= fact("ties_least")
    assert np.diff(levels).max() <= spacing * (1 + 1e-9)
    assert len(levels) == fact("ties_least") or reach / (len(levels) - 2) > spacing


def test_an_arch_is_counted_along_its_own_curve():
    span = 1.2
    angle = np.linspace(0, 2 * math.asin(0.8), 100_001)  # of an arch that rises a quarter of its span
    curve = 0.625 * span * np.column_stack([np.cos(angle), np.sin(angle)])
    along = np.hypot(*np.diff(curve, axis=0).T).sum()
    assert fittings.arch_bricks(span, 0.114, 0.23) == 2 * (math.ceil(along / BRICK_ON_EDGE) // 2) + 1
    top, spring = curve[len(curve) // 2], (curve[0] + curve[-1]) / 2
    assert np.hypot(*(curve[-1] - curve[0])) == pytest.approx(span)
    assert np.hypot(*(top - spring)) == pytest.approx(fact("arch_rise") * span)


@settings(max_examples=60)
@given(spans, st.floats(1.0, 1.6), st.sampled_from([0.114, 0.23]), st.floats(0.3, 0.9))
def test_an_arch_has_a_key_brick_and_grows_with_span_ring_and_wall(span, more, ring, depth):
    bricks = fittings.arch_bricks(span, ring, depth)
    rows = fittings.arch_bricks(span, 0.114, depth) // fittings.arch_bricks(span, 0.114, 0.2)
    assert fittings.arch_bricks(span, 0.114, 0.2) % 2 == 1
    assert rows == math.ceil((depth + 0.003) / 0.233)
    assert fittings.arch_bricks(more * span, ring, depth) >= bricks
    assert fittings.arch_bricks(span, 0.23, depth) > fittings.arch_bricks(span, 0.114, depth)


def test_an_arch_has_no_fewer_bricks_than_its_curve_holds_and_at_most_two_more():
    for span in np.linspace(0.15, 1.2, 40):
        curve = 2 * math.asin(0.8) * 0.625 * span / BRICK_ON_EDGE
        assert curve <= fittings.arch_bricks(span, 0.114, 0.2) < curve + 2


def test_a_vault_that_stands_free_is_a_half_shell():
    mass, stones = fittings.vault_stones(0.25, 1.0, 0.1)
    shell = 2 / 3 * math.pi * (0.35**3 - 0.25**3)
    assert mass == pytest.approx(1550 * shell)
    assert stones == math.ceil(mass / (2600 * math.pi / 6 * 0.1**3))


@pytest.mark.parametrize("diameter", [0.55, 0.65, 0.72])
def test_a_vault_against_the_wall_is_cut_by_it(diameter):
    vault, stone = 0.25, 0.12
    up = np.linspace(0, vault + stone, 400_001)
    outside = np.minimum((vault + stone) ** 2 - up**2, diameter**2 / 4)
    inside = np.maximum(vault**2 - up**2, 0)
    shell = math.pi * np.trapezoid(outside - inside, up)
    assert fittings.vault_stones(vault, diameter, stone).mass == pytest.approx(1550 * shell, rel=1e-6)


@settings(max_examples=60)
@given(st.floats(0.15, 1.5), st.floats(0.15, 1.5), st.integers(1, 4))
def test_bars_fill_the_mouth_and_reach_over_the_hearth(mouth, vault, mouths):
    bars, length = fittings.grate(mouth, vault, mouths)
    bar, gap, rest = fact("grate_bar_width"), fact("grate_gap"), fact("grate_bearing")
    assert length <= fact("grate_bar_longest") * (1 + 1e-9)
    reach = vault * (2 if mouths == 1 else 1) + 2 * rest
    pieces = round(reach / length)
    assert pieces * length == pytest.approx(reach)
    across = bars // (mouths * pieces)
    assert across * bar + (across - 1) * gap <= mouth + 1e-6
    assert (across + 1) * bar + across * gap > mouth - 1e-6


def test_a_shaft_has_bands_and_arches_and_neither_vault_nor_grate():
    flare, shaft = (size_kiln.plain(20_000.0, 0.08, kind=kind) for kind in ("flare", "shaft"))
    assert shaft.vault_mass is shaft.grate_bar_length is None
    assert shaft.vault_stones == shaft.grate_bars == 0
    assert shaft.arch_bricks > 0
    assert shaft.ties > flare.ties > 1
    assert shaft.tie_length / shaft.ties == pytest.approx(math.pi * shaft.outer_diameter + fact("tie_lap"))
    assert min(flare.vault_stones, flare.grate_bars, flare.arch_bricks) > 0


@settings(max_examples=40)
@given(st.floats(200, 40_000), st.floats(1.01, 1.5))
def test_more_stone_takes_no_less_iron_arch_or_vault(stone, more):
    small, large = size_kiln.plain(stone, 0.05), size_kiln.plain(min(stone * more, 40_000), 0.05)
    for part in ("ties", "tie_length", "vault_mass", "vault_stones", "arch_bricks"):
        assert getattr(large, part) >= getattr(small, part), part
    assert small.vault_mass < small.stone


def test_the_arches_are_bought_with_waste_one_over_each_opening():
    one, two = size_kiln.plain(5000.0, 0.1), size_kiln.plain(20_000.0, 0.1)
    for size in (one, two):
        whole = size.lining_thickness + size.fill_thickness + size.outer_thickness
        bare = fittings.arch_bricks(size.mouth_width, size.lining_thickness, whole) * size.mouths
        assert size.arch_bricks == math.ceil(bare * (1 + fact("brick_waste")))
    assert (one.mouths, two.mouths) == (1, 2)


def test_a_chimney_weighs_as_its_wall_and_doubles_with_its_height():
    one, two = fittings.chimney(2.0, 0.3), fittings.chimney(4.0, 0.3)
    thin = math.pi * 0.3 * 2.0 * fact("flue_steel_thickness") * fact("steel_density")
    assert one.steel == pytest.approx(thin, rel=0.01)
    assert two.steel == pytest.approx(2.0 * one.steel)
    assert two.brickwork == pytest.approx(2.0 * one.brickwork)
    assert two.bricks == pytest.approx(2 * one.bricks, abs=1)
    assert one.brickwork > 10 * one.steel


def test_a_low_flue_stands_by_itself_and_a_high_one_wants_guys():
    assert fittings.chimney(1.0, 0.3).guys == 0 < fittings.chimney(3.0, 0.3).guys


def test_a_design_counts_its_chimney_as_steel_and_as_brick_and_none_where_there_is_none():
    with_one, without = (
        {row.label: row.value for row in design_kiln(stone="800 kg", chimney_height=high).rows()}
        for high in ("2 m", "0 m")
    )
    assert without["Chimney over the draw eyes"] == "none"
    assert "as a flue of sheet steel" not in without
    assert "mm across" in with_one["Chimney over the draw eyes"]
    assert "guys" in with_one["as a flue of sheet steel"]
    assert "common bricks" in with_one["or of brick, half a brick thick"]
