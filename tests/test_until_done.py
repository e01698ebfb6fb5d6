"""How long a fire is kept up and when a charge is done, with kilns written out by hand."""

from types import SimpleNamespace

import numpy as np
import pytest

from limekit import InputError, Stone, fact, fire_kiln, size_kiln
from limekit.kiln.column.budget import HeatBudget
from limekit.kiln.column.history import Place
from limekit.kiln.ensemble import _fuel_by, _side_by_side, pick_members
from limekit.kiln.firing import LONGEST_FIRING, Firing, beside_others, finish_times, keep_up

HOUR, DAY = 3600.0, 86_400.0
SIZE = size_kiln.plain(500.0, 0.1)


class Lit:
    """A kiln of two members that burns so much a day, the second half as much, its gas warming by so much a day."""

    def __init__(self, a_day, last_fed=np.inf, warms=0.0):
        self.clock, self.burnt, self.runs = 0.0, np.zeros(2), []
        self.a_day, self.warms = a_day, warms
        self.stoker = SimpleNamespace(last_fed=last_fed)
        self.column = SimpleNamespace(gas_temperature=np.full((2, 2), 300.0))

    def run(self, until, conversion, after):
        self.runs.append((until, conversion, after))
        days = (until - self.clock) / DAY
        self.burnt = self.burnt + self.a_day * days * np.array([1.0, 0.5])
        self.column.gas_temperature[0, 1] += self.warms * days
        self.clock = until


def kept(burn, hours=None, conversion=0.9):
    keep_up(burn, hours, conversion)
    return burn.clock / HOUR


def test_a_fire_is_kept_up_day_by_day_until_the_slowest_is_done():
    burn = Lit(0.8)
    keep_up(burn, None, 0.9, "told")
    assert burn.runs == [(day * DAY, 0.9, "told") for day in (1.0, 2.0, 3.0)]
    assert burn.burnt.min() == pytest.approx(1.2)
    exactly = Lit(1.0)
    assert kept(exactly, conversion=0.5) == 24.0, "done at what was wanted"
    assert kept(Lit(0.0), conversion=0.0) == 0.0


def test_it_is_let_out_when_the_hours_are_over_or_no_more_is_fed():
    assert kept(Lit(0.01), hours=30 * HOUR) == 30.0
    assert kept(Lit(0.01, last_fed=7 * HOUR)) == 7.0
    assert kept(Lit(0.01, last_fed=50 * HOUR), hours=30 * HOUR) == 30.0


def test_a_day_that_brought_nothing_more_is_the_last_unless_the_gas_still_warms_or_hours_are_set():
    assert kept(Lit(1e-4)) == 24.0
    assert kept(Lit(1e-4), hours=60 * HOUR) == 60.0
    assert kept(Lit(1e-4, warms=20.0)) == LONGEST_FIRING / HOUR == 14 * 24.0
    assert kept(Lit(0.01), conversion=5.0) == 14 * 24.0, "it still burns"
    assert kept(Lit(1e-4, warms=-20.0)) == 14 * 24.0, "cooling is no rest either"


def test_a_finish_lies_on_the_line_between_two_moments_from_lighting_on():
    moments = SimpleNamespace(time=np.array([10.0, 20.0]), burnt=np.array([[0.5, 0.8], [1.0, 0.7]]))
    burn = SimpleNamespace(moments=moments, burnt=np.zeros(2))
    assert list(finish_times(burn, 0.25)) == [5.0, 3.125]
    assert list(finish_times(burn, 0.75)) == [15.0, 9.375]
    assert list(finish_times(burn, 0.9)) == [18.0, np.inf]
    assert list(finish_times(burn, 1.0)) == [20.0, np.inf]


@pytest.mark.parametrize("what", ["hours", "hours_where_feeding_is_known", "fuel"])
def test_real_kilns_lie_as_far_below_the_model_as_above_it_by_their_factor(what):
    span = beside_others(20.0, what)
    assert span.middle == 20.0
    assert span.low * span.high == pytest.approx(400.0)
    # 1.645 standard deviations of a normal law hold 90 % of it
    assert span.high / 20.0 == pytest.approx(fact(f"{what}_between_kilns") ** 1.645, rel=1e-3)


# what a firing says of itself


def firing(fuel_used=10.0, conversions=(0.6, 0.2, 1.0)):
    parts = dict.fromkeys(HeatBudget.__dataclass_fields__, 0.0) | {"flue_heat": 75.0, "unburnt_heat": 25.0}
    places = tuple(Place("top", (0.0, 1.0), 0.05, 1 / 3, one, 0.0) for one in conversions)
    told = dict.fromkeys(Firing.__dataclass_fields__) | {"fuel_used": fuel_used, "heat_budget": HeatBudget(**parts)}
    return Firing(**(told | {"history": SimpleNamespace(places=lambda: places)}))


def test_what_did_not_smoke_off_gave_its_heat():
    assert firing().burnt_share == pytest.approx(0.75)
    assert firing(fuel_used=0.0).burnt_share == 1.0


def test_raw_places_are_told_the_rawest_first_and_none_that_is_burnt_enough():
    least = float(fact("raw_below"))
    told = firing(conversions=(least, least - 0.1, 1.0, least - 0.3))
    assert [place.conversion for place in told.raw] == pytest.approx([least - 0.3, least - 0.1])
    assert told.rawest == told.raw[0]
    assert firing(conversions=(1.0, least)).raw == ()


@pytest.mark.parametrize(
    ("asked", "got"),
    [
        ({"levels": 0}, "0"),
        ({"levels": 201}, "201"),
        ({"rings": 0}, "0"),
        ({"rings": 6}, "6"),
        ({"conversion": 0.0}, "0"),
        ({"stone": Stone.plain(mass=501.0)}, "501 kg for a kiln sized for 500 kg"),
    ],
    ids=str,
)
def test_what_no_firing_can_be_made_of_is_refused_before_it_is_lit(asked, got):
    with pytest.raises(InputError) as told:
        fire_kiln.plain(SIZE, **asked)
    assert told.value.got == got


# every stone that a trial leaves possible


def known(paces, conductivities, chances, spreads=(0.1,)):
    together = np.outer(chances, np.full(len(spreads), 1.0 / len(spreads)))
    return SimpleNamespace(
        of_stone=lambda: (np.array(paces), np.array(conductivities), together), spreads=np.array(spreads)
    )


def test_members_are_drawn_from_the_slowest_stone_to_the_quickest():
    """Of three as likely ones five draws hit the middle one once: by pace times conductivity 0.6, 0.9 and 1.2."""
    assert pick_members(known([1e-3, 2e-3, 3e-3], [0.9, 0.3, 0.4], np.full(3, 1 / 3)), 5)[3] == pytest.approx(
        [0.2, 0.4, 0.4]
    )


def test_members_stand_for_their_chances():
    paces, _, lays, weights = pick_members(known([0.003, 0.006, 0.012], [0.6, 0.6, 0.6], [0.2, 0.7, 0.1]), 100)
    assert dict(zip(paces, weights, strict=True)) == pytest.approx({0.003: 0.2, 0.006: 0.7, 0.012: 0.1}, abs=0.011)
    assert weights.sum() == pytest.approx(1.0)
    assert lays.shares.sum() == pytest.approx(1.0)
    middle, spread = lays.shares @ np.log(lays.factors), lays.shares @ np.log(lays.factors) ** 2
    assert middle == pytest.approx(0.0, abs=1e-12)
    assert np.sqrt(spread) == pytest.approx(0.1)


def test_a_stone_s_pieces_lie_by_the_mean_of_its_spreads():
    lays = pick_members(known([0.004], [0.6], [1.0], spreads=(0.1, 0.3)), 5)[2]
    assert np.sqrt(lays.shares @ np.log(lays.factors) ** 2) == pytest.approx(0.2)


def test_fuel_is_counted_up_to_each_member_s_own_time():
    moments = SimpleNamespace(time=np.array([10.0, 30.0]), fed=np.array([[1.0, 2.0], [3.0, 4.0]]))
    burn = SimpleNamespace(moments=moments)
    assert _fuel_by(burn, np.array([5.0, 20.0])).tolist() == [5.0, 20.0 + 40.0]
    assert _fuel_by(burn, np.array([np.inf, 0.0])).tolist() == [70.0, 0.0]


def test_parts_fired_side_by_side_come_back_in_order_and_tell_their_progress():
    def fire(part, tell):
        tell(0.5)
        return 10 * part

    told = []
    assert _side_by_side(fire, [1, 2, 3], told.append) == [10, 20, 30]
    assert told == sorted(told)
    assert (min(told), told[-1]) == (pytest.approx(1 / 6), 1.0)
    assert _side_by_side(fire, [4], None) == [40]
