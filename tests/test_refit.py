"""How a burn log is weighed: where thermometers hang, what a reading, a colour or a sign says of a kiln that may be."""

from statistics import NormalDist
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.stats import t as student

from limekit.facts import fact
from limekit.kiln import refit
from limekit.kiln.followers import Told, told_by_place
from limekit.kiln.refit import HEAVY, _drawn_about, _glow_logs, _reading_logs, _sign_logs, _weights, weigh
from limekit.stone.glow import glow_spread

PLACES = ("hearth", "lower", "middle", "upper", "flue")
HOUR = 3600.0


def burn(levels, bottom=1300.0, top=700.0):
    """Two members' gas that falls evenly over the charge, in one moment; the second member 100 K cooler."""
    middles = (np.arange(levels) + 0.5) / levels
    gas = np.append(1500.0, bottom + (top - bottom) * middles)[:, None] - np.array([0.0, 100.0])
    told = SimpleNamespace(gas_temperature=gas[None], flue_temperature=np.array([[650.0, 550.0]]))
    return SimpleNamespace(moments=told)


@pytest.mark.parametrize("levels", [3, 4, 5, 12])
def test_thermometers_hang_at_a_sixth_a_half_and_five_sixths_of_the_charge(levels):
    told = told_by_place(burn(levels), PLACES)
    assert told["hearth"].tolist() == [[1500.0, 1400.0]]
    assert told["flue"].tolist() == [[650.0, 550.0]]
    assert told["lower"][0] == pytest.approx([1200.0, 1100.0])
    assert told["middle"][0] == pytest.approx([1000.0, 900.0])
    assert told["upper"][0] == pytest.approx([800.0, 700.0])


def test_in_few_levels_every_thermometer_still_hangs_in_the_charge():
    one = told_by_place(burn(1), PLACES)
    assert [one[place][0, 0] for place in ("lower", "middle", "upper")] == pytest.approx([1000.0] * 3)
    two = told_by_place(burn(2), PLACES)
    assert [two[place][0, 0] for place in ("lower", "middle", "upper")] == pytest.approx([1150.0, 1000.0, 850.0])
    assert set(told_by_place(burn(3), ("hearth",))) == {"hearth"}


def readings(read, told=(1000.0, 1100.0), hours=None):
    times = np.arange(len(read)) * HOUR if hours is None else np.array(hours) * HOUR
    return _reading_logs(np.array(read, dtype=float), np.tile(told, (len(read), 1)), 20.0, times)


def test_a_reading_speaks_for_the_kiln_that_is_so_hot():
    (right, wrong), _ = readings([1000.0])
    assert right == 0.0
    assert wrong < -5.0
    (one, other), _ = readings([1050.0])
    assert one == pytest.approx(other)


def test_a_gap_says_nothing():
    assert readings([np.nan, np.nan])[0].tolist() == [0.0, 0.0]
    assert np.all(readings([np.nan, np.nan])[1] == -np.inf)
    assert readings([1000.0, np.nan], hours=[0, 1])[0] == pytest.approx(readings([1000.0], hours=[0])[0])


def test_many_readings_in_one_moment_are_one_error_seen_many_times():
    once, often = readings([1020.0])[0], readings([1020.0] * 10, hours=[1.0] * 10)[0]
    assert often == pytest.approx(once)
    assert readings([1020.0] * 10, hours=np.arange(10) * 24.0)[0] == pytest.approx(10 * once)


def test_a_thermometer_that_fits_is_believed_and_one_that_fits_no_kiln_is_better_held_for_a_liar():
    fits, lies = readings([1000.0] * 4, hours=np.arange(4) * 24.0)
    assert fits.max() > lies.max() + 3.0
    fits, lies = readings([400.0] * 4, hours=np.arange(4) * 24.0)
    assert lies.min() > fits.max() + 3.0


def test_a_thermometer_may_have_told_the_truth_before_it_lied_and_is_not_blamed_for_a_few_readings():
    fits, lies = readings([1000.0] * 8 + [400.0] * 4, hours=np.arange(12) * 24.0)
    assert lies[0] > lies[1] + 3.0
    assert lies[0] > fits.max() + 3.0
    assert np.all(readings([400.0] * 3, hours=np.arange(3) * 24.0)[1] == -np.inf)


def by_law(misses):
    """Return by Student's law, as scipy has it, how much less likely a miss is than none."""
    return student.logpdf(misses, HEAVY) - student.logpdf(0.0, HEAVY)


def test_a_reading_s_miss_is_weighed_by_student_s_law():
    (near, far), _ = readings([1030.0])
    assert [near, far] == pytest.approx(by_law([1.5, 3.5]))


def test_a_thermometer_that_lies_reads_what_it_likes_widely_about_the_nearest_kiln():
    """Four readings, the fewest it is blamed for, may all be lies: two normal laws, each beside the peak of the right."""
    _, lost = readings([880.0] * 4, hours=np.arange(4) * 24.0)
    lies = NormalDist(0.0, fact("thermometer_astray")).pdf(120.0) / NormalDist(0.0, 20.0).pdf(0.0)
    assert lost == pytest.approx(np.full(2, 4.0 * np.log(lies)))


def noted(**told):
    """A log of one line with nothing noted but what is told."""
    blank = {"glow": (None,), "sinking": None, "test_piece": None} | told
    return SimpleNamespace(**blank, last=blank.get)


def kilns(lowest=((1100.0, 1100.0),), burnt=(0.5, 0.5), top=(0.5, 0.5), **gas):
    gas = {place: np.array(read, dtype=float) for place, read in gas.items()}
    return Told(gas, np.array(lowest), np.array(burnt), np.array(top))


TALL = SimpleNamespace(kiln=SimpleNamespace(kiln_height=2.0))
ALL_SUNK = 2.0 * fact("charge_sinking")


def test_where_nothing_was_seen_every_kiln_is_as_likely():
    assert _glow_logs(kilns(), noted()).tolist() == [0.0, 0.0]
    assert _sign_logs(kilns(), noted(), TALL).tolist() == [0.0, 0.0]


def test_a_colour_is_weighed_by_student_s_law_and_colours_count_once_together():
    middle, spread = glow_spread("cherry")
    lowest = np.array([middle, middle + 2.0 * spread])
    once = _glow_logs(kilns([lowest]), noted(glow=("cherry",)))
    assert once == pytest.approx(by_law([0.0, 2.0]))
    blank = np.full(2, 500.0)
    often = _glow_logs(kilns([lowest, blank, lowest]), noted(glow=("cherry", None, "cherry")))
    assert often == pytest.approx(once)


def test_a_charge_that_has_sunk_by_half_of_what_it_will_is_half_burnt():
    apart = 2.0 * fact("sinking_blur")
    said = _sign_logs(kilns(burnt=(0.5, 0.5 + apart)), noted(sinking=0.5 * ALL_SUNK), TALL)
    assert said == pytest.approx(by_law([0.0, 2.0]))
    deep, deeper = (_sign_logs(kilns(burnt=(0.8, 1.0)), noted(sinking=far * ALL_SUNK), TALL) for far in (1.0, 1.4))
    assert deep == pytest.approx(deeper)
    assert deep[1] == 0.0


def test_a_piece_slakes_in_one_way_of_three():
    """The chances of the three add up to one; half a blur past an edge it is the normal law's."""
    through, partly, half = fact("slakes_through_from"), fact("slakes_partly_from"), 0.5 * fact("slaking_blur")
    top = (through + half, partly - half)
    likely = {
        word: np.exp(_sign_logs(kilns(top=top), noted(test_piece=word), TALL)) for word in ("through", "partly", "not")
    }
    assert sum(likely.values()) == pytest.approx([1.0, 1.0])
    misread = fact("misreading_share")
    right = (1.0 - misread) * NormalDist().cdf(0.5) + misread / 3.0
    assert (likely["through"][0], likely["not"][1]) == pytest.approx((right, right))
    assert (likely["not"][0], likely["through"][1]) == pytest.approx((misread / 3.0,) * 2)


def test_what_the_signs_say_adds_up():
    of = kilns(burnt=(0.5, 0.9), top=(0.2, 0.9))
    sunk, piece = {"sinking": 0.5 * ALL_SUNK}, {"test_piece": "not"}
    alone = [_sign_logs(of, noted(**one), TALL) for one in (sunk, piece)]
    assert _sign_logs(of, noted(**sunk, **piece), TALL) == pytest.approx(sum(alone))


def log_of(hours=(0.0, 24.0, 48.0, 72.0, 96.0), glow=None, **read):
    """A log of readings a day apart, each an error of its own."""
    read = {place: np.array(values, dtype=float) for place, values in read.items()}
    return SimpleNamespace(
        **vars(noted(glow=glow or (None,) * len(hours))), times=np.array(hours) * HOUR, temperatures=read
    )


def test_where_readings_say_nothing_a_thermometer_lies_as_often_as_thermometers_do(monkeypatch):
    """The chances of all that may be are one before anything is read, and are shared by the thermometers evenly."""
    spreads = []

    def silent(read, told, spread, times):
        spreads.append(spread)
        return np.zeros(2), np.zeros(2)

    monkeypatch.setattr(refit, "_reading_logs", silent)
    places = {place: [[1000.0, 1000.0]] for place in ("hearth", "flue")}
    said = weigh(kilns(**places), log_of((0.0,), hearth=[1000.0], flue=[1000.0]), TALL)
    assert said.logs == pytest.approx([0.0, 0.0], abs=1e-12)
    assert [*said.lying["hearth"], *said.lying["flue"]] == pytest.approx([fact("thermometer_wrong") / 2.0] * 4)
    nine_in_ten = NormalDist().inv_cdf(0.95)
    both = fact("thermometer_error") ** 2 + fact("replay_error") ** 2
    assert [(nine_in_ten * spread) ** 2 for spread in spreads] == pytest.approx([both, both])


def test_of_two_thermometers_the_one_that_fits_no_kiln_lies_and_one_alone_is_never_said_to():
    told = np.tile([1200.0, 1250.0], (5, 1))
    fits, astray = [283.0, *[1200.0] * 4], [283.0, *[300.0] * 4]
    said = weigh(kilns(hearth=told, flue=told), log_of(hearth=fits, flue=astray), TALL)
    assert said.lying["flue"] == pytest.approx([1.0, 1.0], abs=1e-3)
    assert said.lying["hearth"] == pytest.approx([0.0, 0.0], abs=1e-3)
    assert said.logs[0] > said.logs[1]
    assert weigh(kilns(hearth=told), log_of(hearth=astray), TALL).lying == {}


def test_a_thermometer_of_few_readings_is_not_blamed_and_none_counts_as_the_fire_is_lit():
    told = np.tile([1200.0, 1250.0], (4, 1))
    few = log_of((0.0, 24.0, 48.0, 72.0), hearth=[283.0] + [1200.0] * 3, flue=[283.0] + [300.0] * 3)
    assert weigh(kilns(hearth=told, flue=told), few, TALL).lying["flue"].tolist() == [0.0, 0.0]
    lit = log_of((0.0,), hearth=[283.0])
    assert np.ptp(weigh(kilns(hearth=told[:1]), lit, TALL).logs) == 0.0


def test_what_is_read_and_what_is_seen_add_up():
    told = np.tile([1200.0, 1250.0], (5, 1))
    of = kilns(lowest=np.tile([1100.0, 1300.0], (5, 1)), burnt=(0.3, 0.7), hearth=told)
    read, seen = {"hearth": [283.0] + [1210.0] * 4}, ("cherry",) * 5
    plain = weigh(of, log_of(**read), TALL).logs
    glowing = log_of(**read, glow=seen)
    sunk = SimpleNamespace(**vars(glowing) | {"last": noted(sinking=0.1).last})
    assert weigh(of, glowing, TALL).logs - plain == pytest.approx(_glow_logs(of, glowing))
    both = _glow_logs(of, glowing) + _sign_logs(of, sunk, TALL)
    assert weigh(of, sunk, TALL).logs - plain == pytest.approx(both)


def test_without_a_thermometer_every_kiln_is_as_likely():
    said = weigh(kilns(), log_of(), TALL)
    assert said.logs.shape == (2,)
    assert np.ptp(said.logs) == 0.0
    assert said.lying == {}


def test_weights_are_the_likelihood_s_where_enough_kilns_count():
    assert _weights(np.log([1.0, 2.0, 1.0]), np.log([1.0, 1.0, 2.0])) == pytest.approx([0.2, 0.4, 0.4])


def test_readings_are_trusted_no_further_than_leaves_a_tenth_of_the_kilns_in_play():
    logs = -0.5 * (np.linspace(-3.0, 3.0, 200) / 0.05) ** 2
    weights = _weights(logs, np.zeros(200))
    still = 1.0 / np.sum(weights**2)
    assert 20.0 <= still < 25.0
    trusted = np.log(weights[0] / weights[50]) / (logs[0] - logs[50])
    assert 0.0 < trusted < 1.0
    assert np.log(weights / weights[0]) == pytest.approx(trusted * (logs - logs[0]))


def test_weights_are_given_even_where_the_law_itself_leaves_one_kiln():
    assert _weights(np.zeros(30), np.append(0.0, np.full(29, -900.0)))[0] == pytest.approx(1.0)


def heaps(first, share):
    """Two kilns that differ in their air alone, `share` of the weight on the first."""
    deviates = np.zeros((2, 4))
    deviates[:, 0] = first, -first
    return deviates, np.array([share, 1.0 - share])


def test_kilns_are_drawn_about_others_as_often_as_those_are_likely():
    drawn, _ = _drawn_about(*heaps(1.0, 0.25), np.zeros((8, 4)))
    assert drawn[:, 0].tolist() == [1.0] * 2 + [-1.0] * 6
    assert not drawn[:, 1:].any()


def test_the_law_that_kilns_are_drawn_by_is_one_heap_about_each():
    """Two heaps at ±1 with half the weight each: the variance along them is 1 and nothing across."""
    least, narrow = refit.LEAST_SPREAD, refit.NARROWER
    drawn, law = _drawn_about(*heaps(1.0, 0.5), np.zeros((2, 4)))
    other = np.exp(-0.5 * 2.0**2 / (narrow**2 * (1.0 + least)))
    assert law == pytest.approx(np.log([0.5 + 0.5 * other] * 2))
    step = np.array([[0.3, 0.0, 0.0, 0.0], [0.0, 0.3, 0.0, 0.0]])
    drawn, _ = _drawn_about(*heaps(1.0, 1.0), step)
    across = narrow * np.sqrt(least)
    assert drawn == pytest.approx(np.array([[1.0 + 0.3 * across, 0, 0, 0], [1.0, 0.3 * across, 0, 0]]))


def test_no_kiln_is_drawn_beyond_what_is_looked_at():
    drawn, law = _drawn_about(*heaps(2.4, 1.0), np.array([[50.0] * 4, [-50.0] * 4]))
    assert np.abs(drawn).max() == refit.FARTHEST
    assert np.isfinite(law).all()


@pytest.mark.parametrize("rounds", [1, refit.ROUNDS])
def test_a_refit_finds_the_normal_law_s_own_answer(rounds, monkeypatch):
    """A reading of 1 with a deviation of 1/2 of what is 0 with a deviation of 1: mean 4/5, variance 1/5 (Bayes)."""

    def read(told, log, plan):
        air = told.lowest[0]
        return refit.Weighed(-0.5 * ((air - 1.0) / 0.5) ** 2, {"hearth": (air > 0.8).astype(float)})

    monkeypatch.setattr(refit, "weigh", read)
    monkeypatch.setattr(refit, "ROUNDS", rounds)
    told = Told({}, np.eye(4), np.full(4, 0.25), np.zeros(4))
    followers = SimpleNamespace(told=lambda log: told, mix=lambda deviates: deviates)
    found = refit.refit(None, None, followers)
    mean = found.weights @ found.mix
    variance = found.weights @ (found.mix - mean) ** 2
    assert found.weights.sum() == pytest.approx(1.0)
    assert mean == pytest.approx([0.8, 0.0, 0.0, 0.0], abs=0.08)
    assert variance == pytest.approx([0.2, 1.0, 1.0, 1.0], rel=0.15)
    assert found.lying["hearth"] == pytest.approx(0.5, abs=0.04)
    assert found.burnt == pytest.approx(np.clip(found.mix.sum(axis=1) / 4.0, 0.0, 1.0))
    planned = fact("excess_air")
    assert found.unknowns.excess_air[np.abs(found.mix[:, 0]).argmin()] == pytest.approx(planned, rel=0.05)
