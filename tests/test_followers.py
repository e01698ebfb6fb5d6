"""Kilns that follow a log: how they are spread, what they hold for true, and how they tell of others."""

from dataclasses import dataclass
from statistics import NormalDist
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.stats.qmc import Halton

from limekit.facts import fact
from limekit.kiln import followers
from limekit.kiln.followers import Followers, Told, Unknowns, light_members, spread_evenly

NORMAL = NormalDist()
AT_AN_END = NORMAL.inv_cdf(0.95)  # deviations from the middle to an end of a 90 % range
STOKING = (0.0, 3600.0), (0.01, 0.02)


def test_members_lie_on_halton_s_points_in_the_order_of_the_primes():
    """As scipy has them, less its first, which lies at the bottom of every law."""
    points = [[NORMAL.cdf(one) for one in row] for row in spread_evenly(7, 5)]
    assert np.array(points) == pytest.approx(Halton(5, scramble=False).random(8)[1:])
    assert spread_evenly(9).shape == (9, len(followers.UNKNOWNS))


@pytest.mark.parametrize(("deviate", "end"), [(AT_AN_END, "high"), (0.0, None), (-AT_AN_END, "low")])
def test_a_deviate_of_the_normal_law_reaches_the_ends_of_what_is_known(deviate, end):
    found = Unknowns.at(np.array([[deviate] * 4, [0.0] * 4]))
    for name, values in vars(found).items():
        known = fact(name)
        assert values == pytest.approx([known if end is None else getattr(known, end), known]), name


def plan_of(**told):
    given = {"excess_air": 0.9, "reaction_coefficient": 0.008, "lime_conductivity": 0.5} | told
    return SimpleNamespace(fire=SimpleNamespace(**given), stone=SimpleNamespace(**given))


@pytest.mark.parametrize("name", ["excess_air", "reaction_coefficient", "lime_conductivity"])
def test_a_plan_s_own_figure_is_the_middle_and_keeps_the_width(name):
    deviates = np.array([[0.0] * 4, [AT_AN_END] * 4])
    middle, high = getattr(Unknowns.at(deviates, plan_of()), name)
    assert middle == pytest.approx(getattr(plan_of().fire, name))
    assert high / middle == pytest.approx(fact(name).high / fact(name))
    untold = getattr(Unknowns.at(deviates, plan_of(**{name: None})), name)
    assert untold == pytest.approx([fact(name), fact(name).high])


def test_each_deviate_moves_what_it_is_named_for_and_a_willing_stone_conducts_too():
    moved = [
        [name for name, values in vars(Unknowns.at(np.eye(4)[[place]])).items() if values[0] != fact(name)]
        for place in range(4)
    ]
    willing = ["reaction_coefficient", "lime_conductivity"]
    assert moved == [["excess_air"], ["loss_factor"], ["fuel_quality"], willing]


@dataclass
class Stoker:
    times: tuple = ()
    rates: tuple = ()
    heat_up_time: float = 3600.0
    excess_air: float = 0.5
    quality: float = 1.0
    ample: bool = False


def test_members_lose_and_are_fed_as_each_of_them_has_it():
    """Two kilns of two rings and one level: every ring of a kiln, at the fire and above, loses by that kiln's factor."""
    lit = {}

    def light(stone, pace):
        lit.update(stone=stone, pace=pace)
        wall = SimpleNamespace(face_area=np.full(8, 3.0))
        return SimpleNamespace(column=SimpleNamespace(wall=wall), mouth=1.0, cover=2.0, stoker=Stoker())

    plan = SimpleNamespace(stone=SimpleNamespace(but=lambda **told: told), light=light, rings=2, levels=1)
    unknowns = Unknowns(*(np.array(pair) for pair in ((0.4, 0.6), (1.0, 5.0), (0.9, 1.1), (0.01, 0.02), (0.5, 0.7))))
    burn = light_members(plan, unknowns, STOKING, pace=2.0)
    assert burn.column.wall.face_area.tolist() == [3.0, 3.0, 15.0, 15.0] * 2
    assert (burn.mouth.tolist(), burn.cover.tolist()) == ([1.0, 5.0], [2.0, 10.0])
    assert burn.stoker == Stoker(*STOKING, 0.0, unknowns.excess_air, unknowns.fuel_quality, True)
    assert lit["pace"] == 2.0
    stone = {name: getattr(unknowns, name) for name in ("reaction_coefficient", "lime_conductivity")}
    assert lit["stone"] == stone


def test_other_kilns_are_told_in_the_measure_that_each_counts_and_burn_no_less_than_nothing_nor_more_than_all():
    told = Told(
        {"flue": np.array([[600.0, 700.0]])}, np.array([[900.0, 1000.0]]), np.array([0.2, 0.6]), np.array([0.0, 1.0])
    )
    others = told.by(np.array([[0.5, 0.5], [2.0, -1.0], [-2.0, 3.0]]))
    assert others.gas["flue"][0] == pytest.approx([650.0, 500.0, 900.0])
    assert others.lowest[0] == pytest.approx([950.0, 800.0, 1200.0])
    assert others.burnt == pytest.approx([0.4, 0.0, 1.0])
    assert others.top == pytest.approx([0.5, 0.0, 1.0])


@dataclass
class Plan:
    levels: int
    fire: SimpleNamespace
    stone: SimpleNamespace


def log_of(times, fed, **read):
    """A log whose stoking is what stands line by line."""
    return SimpleNamespace(times=np.array(times), stoking=lambda: (times[:-1], fed), temperatures=read)


@pytest.fixture
def following(monkeypatch):
    """Return followers of a plan of some levels with no kiln lit, and the arguments that one would have been lit with."""
    lit = []
    monkeypatch.setattr(followers, "light_members", lambda *told: lit.append(told))
    plan = plan_of()
    return lambda levels=5: (Followers(Plan(levels, plan.fire, plan.stone)), lit)


@pytest.mark.parametrize("levels", [5, 40])
def test_followers_have_no_more_levels_than_their_plan_and_fewer_where_that_has_many(following, levels):
    _, [(plan, unknowns, stoking)] = following(levels)
    assert plan.levels == min(levels, 12)
    assert unknowns.excess_air.shape == (followers.MEMBERS,)
    assert stoking == ((), ())


def test_a_smooth_surface_gives_every_plane_back(following):
    """Radial functions over a plane: at a follower's own place it alone counts, and elsewhere a plane is met."""
    told, _ = following()
    assert told.mix(told.deviates) == pytest.approx(np.eye(followers.MEMBERS), abs=1e-8)
    between = np.array([[0.3, -0.2, 0.7, 0.1], [-1.0, 1.0, 0.4, -0.6]])
    mix = told.mix(between)
    assert mix.sum(axis=1) == pytest.approx([1.0, 1.0])
    assert mix @ told.deviates == pytest.approx(between)


def test_a_log_goes_on_from_the_lines_that_were_followed(following):
    told, _ = following()
    told.burn = SimpleNamespace(stoker=Stoker(), run=lambda until: ran.append(until))
    ran, long = [], log_of((0.0, 1.0, 2.0, 5.0), (7.0, 8.0, 9.0))
    assert told.may_follow(long)
    told.follow(log_of((0.0, 1.0, 2.0), (7.0, 8.0)))
    assert ran == [2.0]
    assert (told.burn.stoker.times, told.burn.stoker.rates) == ((0.0, 1.0), (7.0, 8.0))
    assert told.may_follow(long)
    assert not told.may_follow(log_of((0.0, 1.0), (7.0,)))
    assert not told.may_follow(log_of((0.0, 1.0, 2.5, 5.0), (7.0, 8.0, 9.0)))


def test_what_goes_on_ahead_leaves_the_followers_where_they_stand(following):
    told, _ = following()
    told.burn = SimpleNamespace(stoker=Stoker(), branch=lambda: SimpleNamespace(stoker=Stoker()))
    assert told.ahead(*STOKING).stoker == Stoker(*STOKING)
    assert told.burn.stoker == Stoker()


def test_followers_tell_what_a_log_s_lines_would_have_read(following):
    """Two members and moments, two levels, two pieces a level, of which the second weighs three times the first."""
    told, _ = following()
    stones = np.zeros((2, 2, 2, 2))
    stones[:, 0] = [[[800.0, 900.0], [850.0, 700.0]], [[1000.0, 1100.0], [1050.0, 900.0]]]
    conversion = np.zeros((2, 2, 2, 2))
    conversion[-1, -1] = [[0.2, 1.0], [0.6, 0.0]]
    told.burn = SimpleNamespace(
        moments=SimpleNamespace(
            time=np.array([100.0, 200.0]),
            gas_temperature=np.array([[[1300.0, 1400.0]] * 2, [[1500.0, 1600.0]] * 2]),
            flue_temperature=np.array([[500.0, 600.0], [700.0, 800.0]]),
            stone_temperature=stones,
            conversion=conversion,
        ),
        column=SimpleNamespace(charge=SimpleNamespace(mass=np.array([[9.0, 9.0], [1.0, 3.0]]))),
        burnt=np.array([0.3, 0.4]),
    )
    found = told.told(log_of((0.0, 150.0, 200.0), (1.0, 1.0), hearth=None, flue=None))
    assert found.gas["hearth"].tolist() == [[1300.0, 1400.0], [1400.0, 1500.0], [1500.0, 1600.0]]
    assert found.gas["flue"].tolist() == [[500.0, 600.0], [600.0, 700.0], [700.0, 800.0]]
    assert found.lowest.tolist() == [[850.0, 900.0], [950.0, 1000.0], [1050.0, 1100.0]]
    assert found.top == pytest.approx([0.5, 0.25])
    assert found.burnt.tolist() == [0.3, 0.4]
