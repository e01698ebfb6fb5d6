import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from limekit.estimate import Estimate, shown, tens, weighted
from limekit.units import quantity


def test_a_normal_law_gives_its_own_quantiles():
    z = np.linspace(-6, 6, 2001)
    found = weighted(z, norm.pdf(z))
    expected = norm.ppf([0.5, 0.05, 0.95, 0.25, 0.75])
    assert [found.median, found.low, found.high, found.inner_low, found.inner_high] == pytest.approx(expected, abs=2e-3)


@pytest.mark.parametrize(("figure", "said"), [(824.9, "820"), (825.1, "830"), (-4.9, "0"), (-0.0, "0"), (4.9, "0")])
def test_what_is_known_to_ten_is_told_to_ten(figure, said):
    assert tens(figure) == said


@pytest.mark.parametrize("law", ["smooth", "steps", "two heaps", "one end", "long tail", "few that weigh"])
def test_quantiles_of_very_many_are_those_of_all_sorted(law):
    """Written out beside the kit's way, which sorts only what lies near them."""
    random = np.random.default_rng(5)
    values, weights = random.normal(size=40_000), random.random(40_000) ** 20
    values = {
        "steps": np.round(values, 1),
        "two heaps": np.where(random.random(40_000) < 0.5, values, values + 1e3),
        "one end": np.minimum(values, 0.5),
        "long tail": np.exp(5.0 * values),
    }.get(law, values)
    if law == "few that weigh":
        weights[random.random(40_000) < 0.999] = 0.0
    found = weighted(values, weights)
    steps = np.unique(values)
    weight = np.bincount(np.searchsorted(steps, values), weights)
    middles = (np.cumsum(weight) - 0.5 * weight) / weight.sum()
    expected = np.interp([0.5, 0.05, 0.95, 0.25, 0.75], middles, steps)
    assert [found.median, found.low, found.high, found.inner_low, found.inner_high] == pytest.approx(expected, rel=1e-9)


def test_very_many_alike_are_one():
    assert weighted(np.full(20_000, 3.0), np.ones(20_000)) == Estimate(3.0, 3.0, 3.0, 3.0, 3.0)


@given(st.lists(st.tuples(st.floats(-1e6, 1e6), st.floats(1e-6, 1)), min_size=1, max_size=30), st.randoms())
def test_ranges_nest_and_do_not_depend_on_the_order(pairs, random):
    found = weighted(*zip(*pairs, strict=True))
    assert found.low <= found.inner_low <= found.median <= found.inner_high <= found.high
    random.shuffle(pairs)
    assert weighted(*zip(*pairs, strict=True)).median == pytest.approx(found.median, rel=1e-9, abs=1e-6)


@pytest.mark.parametrize(
    ("figure", "said"),
    [
        (1112.3, "1110"),
        (0.0000123, "0.0000123"),
        (2e16, "20000000000000000"),
        (-0.0, "0"),
        (quantity("2.5 L"), "2.5 L"),
    ],
)
def test_a_figure_is_rounded_and_never_a_power_of_ten(figure, said):
    assert shown(figure) == said


def test_it_reads_as_a_figure_with_its_range():
    hours = [quantity(f"{n} h") for n in (12, 9, 16, 11, 13)]
    assert str(Estimate(*hours)) == "12 h (nine times in ten between 9 h and 16 h)"
