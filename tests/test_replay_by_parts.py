"""A replay by its parts, each with a log and kilns made by hand: what is ahead, when it is done, what is said."""

from types import SimpleNamespace

import numpy as np
import pytest

from limekit.estimate import Estimate
from limekit.facts import fact
from limekit.kiln import replay
from limekit.kiln.followers import spread_evenly
from limekit.kiln.logged import BurnLog
from limekit.kiln.replay import Course, FinishSign, fed_lately, read_signs, replay_burn, stop_or_go

HOUR = 3600.0


def log_of(hours, fed, **noted):
    lines = len(hours)
    blank = {
        "temperatures": {},
        "sinking": np.full(lines, np.nan),
        "damper": np.full(lines, np.nan),
        **dict.fromkeys(("glow", "flame", "test_piece"), (None,) * lines),
        **dict.fromkeys(("weather", "notes"), ("",) * lines),
    }
    return BurnLog(np.array(hours) * HOUR, np.array(fed, dtype=float), **blank | noted)


def plan_of(times=(), rates=(), conversion=0.9):
    """A plan fed from hours on at kg/h, in a kiln of two metres."""
    stoking = tuple(one * HOUR for one in times), tuple(one / HOUR for one in rates)
    fire = SimpleNamespace(stoking=stoking, conversion=conversion)
    return SimpleNamespace(fire=fire, kiln=SimpleNamespace(kiln_height=2.0))


def estimate(median, low, high):
    return Estimate(median, low, high, low, high)


def test_fuel_is_that_of_each_rate_as_long_as_it_was_fed():
    assert replay._fed((0.0, 10.0), (1.0, 2.0), 5.0, 15.0) == pytest.approx(15.0)
    assert replay._fed((0.0, 10.0), (1.0, 2.0), 12.0, 15.0) == pytest.approx(6.0)
    assert replay._fed((4.0,), (3.0,), 0.0, 5.0) == pytest.approx(3.0)


def test_lately_is_three_hours_or_all_there_are():
    log = log_of([0, 2, 5], [0, 20, 60])
    assert fed_lately(log) == pytest.approx(20.0 / HOUR)
    assert fed_lately(log.first(2)) == pytest.approx(10.0 / HOUR)
    assert fed_lately(log_of([0, 3, 4], [0, 30, 40])) == pytest.approx(20.0 / HOUR)


@pytest.mark.parametrize(
    ("planned", "hours", "rates"),
    [
        (((0, 2, 6), (10, 20, 40)), (4, 6), (10, 20)),  # 50 kg planned in the last three hours, and 25 fed
        (
            ((0, 4, 6), (10, 20, 40)),
            (4, 6),
            (5 / 3 * 20, 5 / 3 * 40),
        ),  # 30 kg planned and 50 fed; a new rate from now on
        (((0, 4), (0, 20)), (4,), (25 / 3,)),
        (((), ()), (4,), (25 / 3,)),
    ],
)
def test_what_is_ahead_is_the_plan_in_the_measure_of_the_last_hours_or_goes_on_as_in_those(planned, hours, rates):
    fed = 25.0 if planned[0] != (0, 4, 6) else 50.0
    times, ahead = replay._ahead(plan_of(*planned), log_of([0, 1, 4], [0, 0, fed]))
    assert np.array(times) / HOUR == pytest.approx(hours)
    assert np.array(ahead) * HOUR == pytest.approx(rates)


def test_where_nothing_was_fed_lately_nothing_is_foreseen():
    times, rates = replay._ahead(plan_of((0, 6), (10, 20)), log_of([0, 1, 5], [0, 9, 0]))
    assert (times, rates) == ((5 * HOUR,), (0.0,))


MARKS = np.array([0.25, 0.5, 0.75])
COURSE = Course(
    times=np.array([1.0, 2.0]) * HOUR,
    gas={"flue": np.array([[500.0, 700.0], [600.0, 800.0]])},
    marks=MARKS,
    when=np.array([[1.0, 2.0], [2.0, 6.0], [5.0, 8.0]]) * HOUR,
)


def test_a_course_tells_when_and_how_much_by_straight_lines_between_its_marks():
    assert (COURSE.finishes(0.5) / HOUR).tolist() == [2.0, 6.0]
    assert (COURSE.finishes(0.75) / HOUR).tolist() == [5.0, 8.0]
    assert COURSE.burnt(4.0 * HOUR) == pytest.approx([0.5 + 0.25 * 2 / 3, 0.375])
    assert COURSE.burnt([0.5 * HOUR]).tolist() == [[0.0, 0.0]]
    assert COURSE.burnt(20.0 * HOUR).tolist() == [0.75, 0.75]


def test_a_band_is_of_its_kilns_by_weight():
    heavy = COURSE.bands(np.array([0.9, 0.1]))
    assert set(heavy) == {"flue", "conversion"}
    assert heavy["flue"].median == pytest.approx([520.0, 620.0])
    even = COURSE.bands(np.array([0.5, 0.5]))
    assert even["flue"].median == pytest.approx([600.0, 700.0])
    assert (even["flue"].low[0], even["flue"].high[0]) == (500.0, 700.0)
    assert even["conversion"].times is COURSE.times
    assert even["conversion"].median == pytest.approx([0.125, 0.375])


def test_what_lies_ahead_is_less_sure_than_what_was():
    """ln of what comes over what the model says: normal, of what is not known of the past and, farther on, of both."""
    many, now = 4000, 10.0 * HOUR
    when = np.repeat([[0.5 * now], [now], [2.0 * now], [1e6 * now]], many, axis=1)
    out = np.log(replay._astray(when, now) / when)
    near, far = fact("replay_hours"), fact("replay_hours_ahead")
    wide = [near, near, np.hypot(near, 0.5 * far), np.hypot(near, far)]
    assert out.mean(axis=1) == pytest.approx(np.zeros(4), abs=0.01)
    assert out.std(axis=1) == pytest.approx(wide, rel=0.02)
    assert np.corrcoef(spread_evenly(many).T, out[-1])[-1, :-1] == pytest.approx(np.zeros(4), abs=0.03)


def test_kilns_come_to_a_share_as_they_did_and_then_by_the_pace_of_their_last_hours():
    """Three kilns of half a tenth an hour: one steady, one that seems to lose some, one that stands still from 2 h on."""
    times = np.array([0.0, 1.0, 2.0, 4.0]) * HOUR
    burnt = np.array([[0.0, 0.05, 0.1, 0.2], [0.0, 0.06, 0.05, 0.2], [0.0, 0.05, 0.1, 0.1]]).T
    steady, slipping, still = replay._when(times, burnt, np.array([0.025, 0.15, 0.6])).T
    assert steady / HOUR == pytest.approx([0.5, 3.0, 12.0])
    assert slipping[2] / HOUR == pytest.approx(4.0 + 0.4 / 0.075)
    assert still[0] / HOUR == pytest.approx(0.5)
    assert still[1] > 365.0 * 24.0 * HOUR


class Ahead:
    """A kiln that burns, run for a while, what its law makes of the clock; told every time it is run."""

    def __init__(self, now, law):
        self.clock, self.law, self.until = now, law, []

    @property
    def burnt(self):
        return np.array([self.law(self.clock / HOUR)])

    def run(self, until):
        self.clock = until
        self.until.append(until / HOUR)


def looked_ahead(law, now=10.0, conversion=0.9):
    ahead = Ahead(now * HOUR, law)
    found = SimpleNamespace(burnt=np.array([law(now)]), weights=np.ones(1), mix=np.eye(1))
    replay._look_ahead(SimpleNamespace(ahead=lambda *stoking: ahead), found, conversion, ((), ()))
    return ahead.until


def test_the_kiln_is_fired_on_until_half_of_what_is_likely_is_long_done():
    until = looked_ahead(lambda hour: min(0.05 * hour, 1.0))
    assert until[:4] == [12.0, 14.0, 16.0, 18.0]
    assert until[-1] == pytest.approx(1.4 * 18.0)


def test_a_kiln_that_stands_still_is_fired_no_further_and_one_that_gathers_pace_is():
    assert looked_ahead(lambda hour: 0.4 if hour > 10.0 else 0.1) == [12.0, 14.0]
    until = looked_ahead(lambda hour: 0.1 + 1e-4 * (hour - 10.0) ** 2)
    assert until == np.arange(12.0, 83.0, 2.0).tolist(), "three days on"


def test_a_pace_that_slackens_but_would_do_within_the_horizon_is_followed():
    """From 0.5 on, a fortieth less in each two hours than in the two before: an end at 0.9 in some forty hours."""
    law = {10.0 + 2 * step: 0.5 + 0.02 * (1 - 0.975**step) / 0.025 for step in range(40)}
    until = looked_ahead(lambda hour: law.get(hour, 1.0))
    done = next(hour for hour, share in law.items() if share >= 0.9)
    assert done in until
    assert until[-1] == pytest.approx(min(1.4 * done, 82.0))


def test_a_course_is_that_of_the_followers_gone_on_mixed_as_they_count(monkeypatch):
    """Two followers, one twice as quick, seen past and ahead; in between 1/t is their mean, so t the harmonic one."""

    def burn(hours):
        hours = np.array(hours)
        moments = SimpleNamespace(time=hours * HOUR, burnt=np.array([0.1 * hours, 0.05 * hours]).T)
        return SimpleNamespace(moments=moments, clock=hours[-1] * HOUR, hours=hours)

    past, ahead = burn([1.0, 2.0]), burn([3.0, 4.0, 6.0])
    monkeypatch.setattr(replay, "_look_ahead", lambda *told: ahead)
    monkeypatch.setattr(
        replay, "told_by_place", lambda burn, places: {"flue": np.array([burn.hours, 3 * burn.hours]).T}
    )
    monkeypatch.setattr(replay, "_astray", lambda when, now: when * (1.0 + 0.0 * now))
    found = SimpleNamespace(mix=np.array([[1.0, 0.0], [0.5, 0.5], [0.0, 1.0]]))
    course = replay._course(SimpleNamespace(burn=past), found, 0.4321, ((), ()), ("flue",))
    assert (course.times / HOUR).tolist() == [1.0, 2.0, 3.0, 4.0, 6.0]
    assert course.gas["flue"][-1] == pytest.approx([6.0, 12.0, 18.0])
    assert course.gas["flue"][0] == pytest.approx([1.0, 2.0, 3.0])
    assert course.finishes(0.4321) / HOUR == pytest.approx([4.321, 2.0 / (1 / 4.321 + 1 / 8.642), 8.642])
    assert np.all(np.diff(course.when, axis=0) >= 0.0)


def test_followers_stay_with_a_firing_until_its_log_is_mended(monkeypatch):
    class Following:
        def __init__(self, plan):
            self.plan = plan

        def may_follow(self, log):
            return log != "mended"

    monkeypatch.setattr(replay, "Followers", Following)
    firing = SimpleNamespace(burn=Ahead(0.0, None), plan="plan")
    first = replay._followers(firing, "log")
    assert first.plan == "plan"
    assert replay._followers(firing, "longer") is first
    assert replay._followers(firing, "mended") is not first


def signs(**noted):
    return [(sign.noted, sign.says) for sign in read_signs(log_of([0, 1], [1, 1], **noted), plan_of())]


def test_signs_say_done_from_where_they_mean_it():
    assert signs() == [("", "not noted")] * 3
    least = 2.0 * fact("charge_sinking").low
    deep, shallow = (np.array([np.nan, sunk]) for sunk in (least, 0.9 * least))
    done = signs(test_piece=(None, "through"), sinking=deep, flame=("yellow", "clear"))
    assert done == [("slaked through", "done"), ("0.17 of the kiln's height", "done"), ("clear", "done")]
    not_yet = signs(test_piece=("through", "partly"), sinking=shallow, flame=("clear", "smoky"))
    assert [says for _, says in not_yet] == ["not yet"] * 3
    assert not_yet[1][0] == "0.15 of the kiln's height"
    assert signs(sinking=np.array([np.nan, 0.0]))[1] == ("0.00 of the kiln's height", "not yet")


def test_a_sign_is_told_with_what_was_noted_of_it():
    assert str(FinishSign("flame", "clear", "done")) == "flame: clear (done)"
    assert str(FinishSign("flame", "", "not noted")) == "flame: not noted"


def test_a_fire_is_stopped_at_four_chances_in_five_with_a_sign_and_a_piece_drawn_at_one_in_two():
    none, one = ([FinishSign("sinking", "", says)] * 1 for says in ("not yet", "done"))
    begin = [FinishSign("test piece", "", "not yet")]
    assert stop_or_go(0.8, (*begin, *one)) == "stop"
    assert stop_or_go(0.79, (*begin, *one)) == "draw a test piece"
    assert stop_or_go(0.5, (*begin, *none)) == "draw a test piece"
    assert stop_or_go(0.49, (*begin, *one)) == "keep firing"
    assert stop_or_go(0.0, (*begin, *one, *one)) == "draw a test piece"
    assert stop_or_go(1.0, (*begin, *none)) == "draw a test piece"


RAW_TOP = (FinishSign("test piece", "slaked partly", "not yet"), FinishSign("flame", "clear", "done"))


@pytest.mark.parametrize(
    ("verdict", "left", "lying", "said"),
    [
        (
            "keep firing",
            estimate(5.0 * HOUR, 3.04 * HOUR, 8.5 * HOUR),
            (),
            "Keep firing. 42 % is burnt (30 to 55 %); about 5.0 h are left, nine times in ten 3.0 to 8.5 h. "
            "Signs: test piece: slaked partly (not yet); flame: clear (done).",
        ),
        (
            "keep firing",
            None,
            ("hearth", "flue"),
            "Keep firing. 42 % is burnt (30 to 55 %); as the fire is fed, no finish is in sight within three days. "
            "Signs: test piece: slaked partly (not yet); flame: clear (done). "
            "The hearth thermometer does not fit the others: check it, and do not steer by it. "
            "The flue thermometer does not fit the others: check it, and do not steer by it.",
        ),
        (
            "stop",
            estimate(0.0, 0.0, HOUR),
            (),
            f"{replay.WAYS['stop']}. 42 % is burnt (30 to 55 %). "
            f"Signs: test piece: slaked partly (not yet); flame: clear (done). {replay.TOP_STAYS_RAW}",
        ),
    ],
)
def test_what_a_replay_says(verdict, left, lying, said):
    assert replay._words(verdict, estimate(0.42, 0.3, 0.55), left, RAW_TOP, lying) == said


@pytest.fixture
def replayed(monkeypatch):
    """Replay a log of five hours, of kilns that are known: what each weighs, and when it is done at last."""
    monkeypatch.setattr(replay, "_followers", lambda firing, log: SimpleNamespace(follow=lambda log: None))
    monkeypatch.setattr(replay, "rests_on", lambda *keys: ())

    def told(weights, done_at, lying=None, lines=None, conversion=0.9, **noted):
        unknown = {name: np.arange(len(weights), dtype=float) for name in replay.FITTED}
        found = SimpleNamespace(weights=np.array(weights), lying=lying or {}, unknowns=SimpleNamespace(**unknown))
        when = np.outer([0.5, 1.0], done_at) * HOUR
        course = Course(np.array([HOUR]), {}, np.array([0.5 * conversion, conversion]), when)
        monkeypatch.setattr(replay, "refit", lambda *of: found)
        monkeypatch.setattr(replay, "_course", lambda *of: course)
        log = log_of([0, 2, 5], [1, 2, 3], **noted)
        firing = SimpleNamespace(plan=plan_of(conversion=conversion), finish=9.0 * HOUR)
        return replay_burn.plain(log, firing, lines)

    return told


def test_a_finish_is_told_with_its_chance_and_what_is_left(replayed):
    came = replayed([0.25, 0.25, 0.5], [4.0, 5.0, 15.0])
    assert came.done_chance == pytest.approx(0.5)
    assert came.verdict == "draw a test piece"
    assert (came.finish.low / HOUR, came.finish.high / HOUR) == pytest.approx((4.0, 15.0), abs=0.5)
    assert (came.hours_left.low, came.hours_left.high / HOUR) == pytest.approx((0.0, 10.0))
    assert came.planned_finish == 9.0 * HOUR
    assert came.conversion.high == pytest.approx(0.9)
    assert came.loss_factor.high == pytest.approx(2.0)
    assert str(came) == came.words


def test_no_finish_is_told_where_more_than_one_chance_in_twenty_is_not_done_in_three_days(replayed):
    sure, unsure = (replayed([1.0 - late, late], [10.0, 500.0]) for late in (0.05, 0.06))
    assert sure.finish.high / HOUR <= 5.0 + 72.0
    assert (unsure.finish, unsure.hours_left) == (None, None)
    assert "no finish is in sight" in unsure.words
    assert replayed([1.0], [77.0]).finish.median == pytest.approx(77.0 * HOUR)
    assert replayed([1.0], [78.0]).finish is None


def test_a_thermometer_is_named_from_four_chances_in_five(replayed):
    chances = {"hearth": 0.79, "flue": 0.8, "upper": 0.95}
    came = replayed([1.0], [9.0], lying=chances)
    assert came.lying == ("flue", "upper")
    assert came.lying_chances == chances


def test_only_the_lines_asked_for_are_replayed_two_at_least_and_some_of_them_fed(replayed):
    assert replayed([1.0], [3.0]).done_chance == 1.0
    assert replayed([1.0], [3.0], lines=2).done_chance == 0.0
    noted = (None, None, "through")
    assert replayed([1.0], [3.0], test_piece=noted).verdict == "stop"
    assert replayed([1.0], [3.0], test_piece=noted, lines=2).signs[0].says == "not noted"
    for lines in (1, 4):
        with pytest.raises(replay.InputError, match="2 to 3, the lines of the log"):
            replayed([1.0], [3.0], lines=lines)
