"""What a trial's notes may weigh: limits of each law, and what must add up to one."""

import dataclasses

import numpy as np
import pytest
from scipy.stats import norm

from limekit import Stone, assess_trial, fact
from limekit.stone import posterior
from limekit.stone.front import gas_pressure, threshold
from limekit.stone.narrowing import NextMeasurement, _core_bins, _thermometer_bins, rank_measurements
from limekit.stone.posterior import (
    LAYS,
    LEVELS,
    MARKS,
    NINETY,
    SPREADS,
    STRETCH,
    UNKNOWN,
    WAYS,
    Posterior,
    Seen,
    _history,
    glow_denied,
    lay_weights,
    level_prior,
    lognormal,
    piece_table,
    told_by,
    ways,
)
from limekit.stone.trial import Trial, TrialPiece

CO2, START = 0.12, 293.15
STONE = Stone.plain()


def piece(**noted):
    return TrialPiece("only", 0.05, 3600.0, **noted)


@pytest.fixture(scope="module")
def untried():
    return Posterior.untried(STONE, CO2, START)


def test_an_uneven_range_keeps_both_its_ends():
    known = fact("core_error")
    assert known / known.low != pytest.approx(known.high / known)
    assert lognormal(known, [-NINETY, 0.0, NINETY]) == pytest.approx([known.low, known, known.high])


def test_fires_reach_from_where_stone_gives_way_to_the_hottest_and_none_is_forbidden():
    for noted in ([], [piece(glow="bright cherry")], [piece(gas_temperature=1273.15)]):
        levels, prior = level_prior(noted, CO2)
        apart = np.diff(levels)
        assert apart == pytest.approx(apart[0])
        assert levels[0] - apart[0] / 2 == pytest.approx(threshold(gas_pressure(CO2)))
        assert levels[-1] + apart[0] / 2 == pytest.approx(fact("hottest_fire"))
        assert prior.sum() == pytest.approx(1.0)
        assert prior.min() > 0.0


def test_without_a_note_every_fire_is_as_likely():
    assert level_prior([], CO2)[1] == pytest.approx(1.0 / LEVELS)


def test_chances_of_a_level_are_those_of_all_its_ways():
    levels, prior = level_prior([piece(gas_temperature=1173.15)], CO2)
    nothing = np.zeros((LEVELS * WAYS, len(SPREADS)))
    known = Posterior(levels, prior, posterior.posterior(prior, [nothing]), STONE, CO2, START)
    assert known.by_level == pytest.approx(prior)
    assert known.fire[0] == tuple(levels)


def test_no_note_forbids_a_level():
    """A millionth, and all of them together hardly take from the rest."""
    _, prior = level_prior([piece(gas_temperature=1173.15)], CO2)
    assert prior.min() == pytest.approx(1e-6, rel=1e-3)
    assert prior.sum() == pytest.approx(1.0)


def test_a_core_is_told_no_finer_than_the_cores_that_are_looked_at(untried):
    """Where they lie an error apart, the nearest holds less than half of the chance: 0.4 of a normal law."""
    chances = _core_bins(untried, 0.3, 8 * 3600.0)
    assert chances.sum(axis=0) == pytest.approx(1.0)
    assert chances[1:-1].max() < 0.5


def test_a_thermometer_s_law_is_as_wide_as_its_error():
    levels, prior = level_prior([piece(gas_temperature=1273.15)], CO2)
    mean = prior @ levels
    assert mean == pytest.approx(1273.15, abs=1.0)
    assert np.sqrt(prior @ (levels - mean) ** 2) == pytest.approx(fact("thermometer_error") / NINETY, rel=0.05)


def test_glow_alone_or_thermometer_alone_is_never_denied_and_far_apart_both_are():
    assert not glow_denied([piece(glow="bright cherry")])
    assert not glow_denied([piece(gas_temperature=573.15)])
    assert not glow_denied([piece(glow="bright cherry", gas_temperature=1173.15)])
    far = [piece(glow="bright cherry", gas_temperature=573.15)]
    assert glow_denied(far)
    assert level_prior(far, CO2)[1] == pytest.approx(1.0 / LEVELS)


def test_what_was_measured_is_where_it_is_likeliest():
    burnt = np.linspace(0.0, 1.0, 1001)
    by_weight = Seen(0.05, conversion=0.6, conversion_error=0.05).likelihood(burnt)
    by_core = Seen(0.05, core=0.02, core_error=0.002).likelihood(burnt)
    assert burnt[by_weight.argmax()] == pytest.approx(0.6)
    assert 0.05 * np.cbrt(1.0 - burnt[by_core.argmax()]) == pytest.approx(0.02, abs=1e-4)


def test_a_figure_may_be_misread_wherever_it_falls():
    wild = Seen(0.05, conversion=0.0, conversion_error=0.01).likelihood(np.array([1.0]))
    assert wild == pytest.approx(fact("misreading_share"))
    no_core = Seen(0.05, core=0.0, core_error=0.002).likelihood(np.array([0.0, 1.0]))
    assert no_core[0] == pytest.approx(0.5 * fact("misreading_share"))
    assert no_core[1] > 0.95


def test_both_measures_weigh_together():
    burnt = np.linspace(0.1, 0.9, 9)
    weight, core = {"conversion": 0.6, "conversion_error": 0.1}, {"core": 0.03, "core_error": 0.003}
    both = Seen(0.05, **weight, **core).likelihood(burnt)
    apart = Seen(0.05, **weight).likelihood(burnt) * Seen(0.05, **core).likelihood(burnt)
    assert both == pytest.approx(apart)


def test_how_it_slaked_is_heeded_only_where_nothing_was_measured():
    burnt = np.linspace(0.0, 1.0, 21)
    for known in ({"conversion": 0.9, "conversion_error": 0.05}, {"core": 0.01, "core_error": 0.002}):
        with_word = Seen(0.05, slaking="not", **known).likelihood(burnt)
        assert with_word == pytest.approx(Seen(0.05, **known).likelihood(burnt))
    assert Seen(0.05, slaking="through").likelihood(burnt) == pytest.approx(1.0)


def test_raw_stone_does_not_slake_half_burnt_does_in_part_and_lime_does_neither():
    raw, half, lime = np.array([0.0, 0.6, 1.0])
    words = {word: Seen(0.05, slaking=word).likelihood(np.array([raw, half, lime])) for word in ("not", "partly")}
    assert words["not"][0] > 0.9 > 0.05 > words["not"][1:].max()
    assert words["partly"][1] > 0.9
    assert words["partly"][0] < 0.05
    assert words["partly"][2] < 0.4
    misread = fact("misreading_share") / 3.0
    assert words["not"][2] == pytest.approx(misread, rel=1e-3)
    assert words["not"][0] == pytest.approx(1.0 - 2.0 * misread, rel=1e-3), "one word of three is said"


def test_lays_are_laws_over_the_published_range():
    known, spreads = fact("lay_spread"), SPREADS
    assert (spreads[0], spreads[-1]) == (known.low, known.high)
    weights = lay_weights(spreads)
    assert weights.sum(axis=0) == pytest.approx(1.0)
    found = np.sqrt((weights * LAYS[:, None] ** 2).sum(axis=0))
    assert found[1:] == pytest.approx(spreads[1:], rel=0.02)


def test_an_untried_stone_is_known_as_published(untried):
    assert untried.probability.sum() == pytest.approx(1.0)
    paces, _, together = untried.of_stone()
    assert together.sum() == pytest.approx(1.0)
    mean = np.exp(together.sum(axis=1) @ np.log(paces))
    known = fact("reaction_coefficient")
    assert known.low < mean < known.high
    values, weights = untried.with_lay(np.zeros(WAYS))
    assert weights.sum() == pytest.approx(1.0)
    assert (weights * np.log(values)).sum() == pytest.approx(0.0, abs=1e-12)


def test_what_a_piece_has_done_is_the_same_however_long_it_was_burnt_before_one_asked(untried):
    """Also where one asks for so long a time that it is burnt on: nothing leaps there."""
    edge = MARKS[STRETCH] * np.exp(-LAYS[-1])
    before, after = (piece_table(0.05, time, untried.fire) for time in (edge * (1 - 1e-9), edge * (1 + 1e-9)))
    assert after == pytest.approx(before, abs=1e-6)
    whole, part = (_history(0.05, steps, untried.fire) for steps in (2 * STRETCH, STRETCH))
    assert (whole[: STRETCH + 1] == part).all()
    assert (piece_table(0.05, 2 * edge, untried.fire) >= before - 1e-9).all()


def test_marks_are_close_enough_that_no_more_of_them_move_an_answer(untried, monkeypatch):
    """Within half a percent of the piece, which is what is printed."""
    as_kept = [untried.burnt(0.04, minutes * 60.0) for minutes in (15, 60, 180)]
    monkeypatch.setattr(posterior, "MARKS", 60.0 * np.expm1(0.02 * np.arange(700)))
    monkeypatch.setattr(posterior, "STRETCH", 300)
    for one in (_history, piece_table):
        one.cache_clear()
    try:
        closely = [untried.burnt(0.04, minutes * 60.0) for minutes in (15, 60, 180)]
    finally:
        for one in (_history, piece_table):
            one.cache_clear()
    for one, other in zip(as_kept, closely, strict=True):
        assert (one.median, one.low, one.high) == pytest.approx((other.median, other.low, other.high), abs=5e-3)


def test_what_a_piece_told_is_the_same_in_any_trial_and_in_any_order():
    """Remembered or not, first or last: to the last digit."""
    pieces = [TrialPiece(f"{n}", 0.04 + 0.01 * n, 3600.0, core_size=0.02, glow="bright cherry") for n in range(4)]
    other = dataclasses.replace(pieces[1], core_size=0.01, time_in_heat=5400.0)
    changed = Trial((pieces[0], other, *pieces[2:]))
    told_by.cache_clear()
    alone = assess_trial.plain(changed)
    told_by.cache_clear()
    for trial in (Trial(tuple(pieces)), Trial(tuple(pieces[::-1])), Trial((other,))):
        assess_trial.plain(trial)
    again = assess_trial.plain(changed)
    assert (again.posterior.probability == alone.posterior.probability).all()
    assert again.gas_temperature == alone.gas_temperature


@pytest.mark.parametrize("error", [1e-3, 0.02])
def test_what_is_told_of_a_piece_is_the_law_written_out_wherever_the_share_lies(error):
    """Far from what was read it is left unreckoned, which changes no figure."""
    burnt, width = np.linspace(0.0, 1.0, 20_001), 0.05
    core, misread = width * np.cbrt(1.0 - burnt), fact("misreading_share")

    def read(apart, deviation):
        return (1.0 - misread) * norm.pdf(apart, scale=deviation) + misread

    for seen, expected in (
        (Seen(width, conversion=0.97, conversion_error=error), read(burnt - 0.97, error)),
        (Seen(width, core=0.004, core_error=error), width * read(core - 0.004, error) + (1.0 - width) * misread),
        (
            Seen(width, core=0.0, core_error=error),
            (1.0 - misread) * norm.cdf((error - core) / (0.5 * error)) + 0.5 * misread,
        ),
    ):
        assert seen.likelihood(burnt) == pytest.approx(expected, rel=1e-9)


def test_what_is_remembered_is_what_the_piece_tells(untried):
    seen = Seen(0.05, conversion=0.6, conversion_error=0.05, core=0.03, core_error=0.002)
    likely = seen.likelihood(piece_table(0.05, 3600.0, untried.fire))
    by_spread = np.einsum("jp,js->ps", likely, lay_weights(SPREADS))
    for _ in range(2):
        assert told_by(seen, 3600.0, untried.fire) == pytest.approx(np.log(by_spread), rel=1e-9)


def test_a_middling_stone_burns_in_a_middling_time_and_never_in_gas_too_cold(untried):
    sizes, hot, cold = [0.05, 0.08], 1273.15, 1000.0
    times = untried.middling_times(sizes, [cold, hot], 0.25, 0.95)
    assert np.isnan(times[cold]).all()
    first = [untried.times(size, hot, 0.25, 0.95)[0] for size in sizes]
    assert times[hot] == pytest.approx(first, rel=1e-2)  # the first way is the published middle of all


def test_every_unknown_alone_keeps_its_published_law_and_no_two_lean_on_each_other():
    known = np.array(ways())
    assert [one[0] for one in known] == pytest.approx([float(fact(key)) for key in UNKNOWN])
    for one, key in zip(known, UNKNOWN, strict=True):
        assert np.mean((one > fact(key).low) & (one < fact(key).high)) == pytest.approx(0.9, abs=0.01)
    assert np.corrcoef(np.log(known)) == pytest.approx(np.eye(len(UNKNOWN)), abs=0.05)


def test_measured_carbon_dioxide_counts_as_known():
    stone, levels = STONE, tuple(level_prior([], CO2)[0])
    as_told = piece_table(0.05, 3600.0, (levels, stone, CO2, START))
    by_way = piece_table(0.05, 3600.0, (levels, stone, (CO2,) * WAYS, START))
    assert as_told == pytest.approx(by_way, abs=1e-12)
    assert np.abs(as_told - piece_table(0.05, 3600.0, (levels, stone, tuple(ways().trial_co2), START))).max() > 0.01


# the measurement not yet made


def test_a_thermometer_bin_is_as_wide_as_its_error_and_all_bins_together_are_sure():
    levels, _ = level_prior([], CO2)
    bins = _thermometer_bins(levels)
    assert bins.sum(axis=0) == pytest.approx(1.0)
    read = bins[:, LEVELS // 2 * WAYS]
    assert read @ levels == pytest.approx(levels[LEVELS // 2])
    spread = np.sqrt(read @ (levels - levels[LEVELS // 2]) ** 2)
    assert spread == pytest.approx(fact("thermometer_error") / NINETY, rel=0.05)


def test_measurements_are_named_by_size_and_time_and_told_in_percent(untried):
    ranked = rank_measurements(untried, 0.08, 1273.15, 0.25)
    told = {one.what for one in ranked}
    assert {what.split(",")[0] for what in told if "piece" in what} == {"a piece of 50 mm", "a piece of 100 mm"}
    assert sum("two hours" in what for what in told) == 1
    assert all(0.0 < one.spread_left <= 1.001 for one in ranked)
    assert str(NextMeasurement("a core", 0.5)) == "a core: leaves 50 % of the spread"


def test_the_kiln_s_own_fire_is_given_so_a_thermometer_in_an_untried_trial_tells_nothing_of_the_stone(untried):
    ranked = {one.what: one.spread_left for one in rank_measurements(untried, 0.08, 1273.15, 0.25)}
    thermometer = next(left for what, left in ranked.items() if "thermometer" in what)
    assert thermometer == pytest.approx(1.0, abs=1e-6)
    assert min(ranked.values()) < 0.99
