"""Whatever a public function is given, it answers with figures or refuses in words, soon and without a warning."""

import functools
import inspect
import math
import random
import signal
import typing
from contextlib import contextmanager

import numpy as np
import pandas as pd
import pytest

import limekit
from limekit import glossary
from limekit.edge import unit_of
from limekit.edge.figures import LEFT_OUT
from limekit.errors import InputError
from limekit.records.examples import example_path
from limekit.units import quantity

CALLS, MANY_CALLS = (16, 4), (300, 40)  # of a light function, and of one that takes a second
LONGEST, LONGEST_LINE = 20.0, 1200  # s of processor time of one call; characters of a refusal's line
OUR_WORDS = {"asked", "example"}  # of `quantity`, which the kit itself says
HEAVY = {  # a call that goes through takes a second
    "assess_trial", "cool_kiln", "design_kiln", "fire_kiln", "fire_range", "fire_wall",
    "replay_burn", "run_shaft", "shaft_window", "wall_buildup",
}  # fmt: skip
HOSTILE = (
    None, True, False, 0, -1, 10**400, math.nan, math.inf, -math.inf, 1e-320, 1e308, 0.9 + 0j, b"60 mm", object(),
    "", " ", "nan", "inf", "-1", "0", "x" * 300, "60", "60 mm", "1 kg", "3 h", "20 degC", "1 ton", "1,5 kg", "nan kg",
    "1e999 mm", "<img src=x onerror=alert(1)>", "{0}", "%s", "\x00", "\ud800", "½", "１２ mm", "60 mm**400", "left out",
    [], [None], ["a"], [1, "2"], [[1], [1, 2]], [0.5, 0.6], (), {}, {"a": 1}, {0.5}, iter("ab"), int, len,
    np.array([]), np.array([1.0, math.nan]), np.zeros((2, 3)), np.ma.array([0.9, 0.8], mask=[0, 1]),
    pd.Series([0.5, None]), pd.Series([0.5, 0.6, 0.7]), pd.DataFrame({"a": [0.5]}), pd.NA, pd.NaT, pd.Timestamp("2028-03-04"),
    quantity("1 kg"), quantity("60 mm"), quantity(math.nan, "kg"), quantity(np.array([1.0, 2.0]), "h"),
)  # fmt: skip


@functools.cache
def things():
    """What a person has in hand: by the parameter it is given for."""
    flare = limekit.size_kiln("500 kg", "80 mm")
    shaft = limekit.size_kiln("30 tonne", "80 mm", kind="shaft")
    firing = limekit.fire_kiln(flare, chimney_height="1 m", levels=4)
    trial = limekit.read_trial(example_path("trial_example.csv"))
    balance = limekit.mass_balance("1000 kg", 0.95, 0.9)
    lines = (limekit.cost_line("wood", 120), limekit.kiln_line(800, 20), limekit.work_line("40 h"))
    dates = ["2028-03-04", "2024-02-29", "9999-12-31", "0001-01-01", "2028-02-30", "2028-03-04 09:00", 20280304]
    wall = [("firebrick", "114 mm"), ("wood_ash", "100 mm"), ("rubble", "300 mm")]
    return {
        "applied_on": dates,
        "assessment": [limekit.assess_trial(trial)],
        "balance": [balance],
        "burn_day": dates,
        "chapters": [()],
        "design": [limekit.design_kiln("300 L")],
        "done": [[], ["wood"], "wood"],
        "end": ["17:00", "25:00"],
        "fire_history": [
            None,
            limekit.FireHistory.table([("0 min", "20 degC"), ("2 h", "1000 degC"), ("5 h", "1000 degC")]),
        ],
        "firing": [firing],
        "fuels_burnt": [(), (limekit.fuel_carbon("oak", "300 kg", "15 MJ/kg"),)],
        "key": ["lime_conductivity"],
        "kiln": [flare, shaft, {"stone": "500 kg", "largest_stone": "80 mm"}],
        "layers": [None, wall, wall[:1], [("firebrick", "1 mm")], [("firebrick", "5 m")] * 9, ("firebrick", "1 m")],
        "levels": [4, 5, 1, 0, 1000],
        "lines": [lines, lines[:1], ()],
        "lit": dates,
        "log": [limekit.read_burn_log(example_path("burn_log_example.csv"))],
        "members": [5, 6, 0, 1000],
        "mix": [*limekit.mix_names()],
        "name": ["wood", "burn log", "trial_example.csv"],
        "people": [12, 1, 0, 10**9, ["Ash", "Fern", "Rowan"], ["Ash", "Ash"]],
        "piece": list(trial.pieces),
        "pieces": [[("fire", 60), ("stone", 90)], [], [("fire", 0)], [("fire", 10**9)]],
        "place": [*limekit.place_names()],
        "progress": [None],
        "sheet": [limekit.cost_sheet(lines, "500 kg", "1000 L")],
        "size": [flare, shaft],
        "slaked": dates,
        "slaked_on": [*dates, dates[:2]],
        "start": ["10:00", "9.30"],
        "stoking": [None, "10 kg/h", [("0 h", "8 kg/h"), ("6 h", "14 kg/h")], [("0 h", "0 kg/h")], "1 g/h", "100 t/h"],
        "stone_sizes": [{"40 mm": 1, "80 mm": 3}, {"80 mm": 0}, {}, {"1 mm": 1, "600 mm": 1e9}, {"80 mm": "much"}],
        "store": [
            limekit.tank("cube container"),
            limekit.tank("lying cylinder", tank_diameter="57 cm", tank_length="85 cm"),
        ],
        "today": [None, *dates],
        "trial": [trial],
        "weekend": dates,
    }


def _hints(function):
    return typing.get_type_hints(getattr(function, "plain", function), include_extras=True)


def _fair(dice, name, hint):
    """Return something that the argument may well be given, the ends of its band and zero among them."""
    if unit_of(hint):
        entry = glossary.entry(name)
        if dice.random() < 0.5:
            return entry.example
        spread = entry.low * (entry.high / entry.low) ** dice.random() if entry.low > 0.0 else 0.0
        value = dice.choice([entry.low, entry.high, dice.uniform(entry.low, entry.high), spread, entry.slide_from])
        if entry.left_out is not None and (value is None or dice.random() < 0.3):
            return LEFT_OUT
        return f"{value or 0.0!r} {entry.unit}" if entry.unit else value or 0.0
    choices = typing.get_args(hint) if typing.get_origin(hint) is typing.Literal else things().get(name)
    return dice.choice(choices) if choices else None


def _arguments(dice, function):
    """Return arguments for a call: most of them fair, in every second call one that is not."""
    hints, drawn = _hints(function), {}
    for name, parameter in inspect.signature(function).parameters.items():
        if parameter.default is inspect.Parameter.empty or dice.random() < 0.25:
            drawn[name] = _fair(dice, name, hints.get(name))
    if dice.random() < 0.5:
        spoilt = dice.choice([name for name in inspect.signature(function).parameters if name not in OUR_WORDS])
        drawn[spoilt] = dice.choice(HOSTILE)
    return drawn


@contextmanager
def _bounded():
    """End what runs for longer than a learner waits, by the processor's own clock, which other work does not hurry."""

    def too_long(*_):
        raise TimeoutError(f"more than {LONGEST:.0f} s")

    old = signal.signal(signal.SIGVTALRM, too_long)
    signal.setitimer(signal.ITIMER_VIRTUAL, LONGEST)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0.0)
        signal.signal(signal.SIGVTALRM, old)


def _call(name, dice):
    function = getattr(limekit, name)
    given = _arguments(dice, function)
    try:
        with _bounded():
            said = str(function(**given))
    except InputError as refusal:
        said = str(refusal)
        longest = max(map(len, said.splitlines()))
    except Exception as fault:
        raise AssertionError(f"{name}(**{given!r})"[:1000]) from fault
    else:
        longest = 0
    assert said, f"{name}(**{given!r})"[:1000]
    assert longest < LONGEST_LINE, said


FUNCTIONS = [name for name in limekit.__all__ if inspect.isroutine(getattr(limekit, name))]
FUNCTIONS = [name for name in FUNCTIONS if inspect.signature(getattr(limekit, name)).parameters]


@pytest.mark.skipif(not hasattr(signal, "setitimer"), reason="wants a clock that ends a call")
@pytest.mark.parametrize(
    "name", [pytest.param(one, marks=pytest.mark.slow if one == "find_plan" else ()) for one in FUNCTIONS]
)
def test_whatever_is_given_is_answered_or_refused_in_words(name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    dice = random.Random(name)
    for _ in range(CALLS[name in HEAVY]):
        _call(name, dice)


@pytest.mark.slow
@pytest.mark.skipif(not hasattr(signal, "setitimer"), reason="wants a clock that ends a call")
@pytest.mark.parametrize("name", FUNCTIONS)
def test_whatever_is_given_at_great_length_too(name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    dice = random.Random(f"{name} again")
    for _ in range(MANY_CALLS[name in HEAVY]):
        _call(name, dice)


FLARE = {"stone": "500 kg", "largest_stone": "80 mm"}
SHAFT = {"stone": "30 tonne", "largest_stone": "80 mm", "kind": "shaft"}


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: limekit.draught_flow("2 m", "2 m", "80 mm", "0.2 m^2", "0.2 m^2", "800 degC", air_demand=0), "air_demand"),
        (lambda: limekit.kiln_efficiency("100 kg", "0 kg", "15 MJ/kg"), "fuel_mass: got none"),
        (lambda: limekit.fire_kiln(limekit.size_kiln(**FLARE), conversion=0), "a share of the charge to be burnt"),
        (
            lambda: limekit.run_shaft(
                limekit.size_kiln(**SHAFT), draw_rate="10 tonne/day", fuel_ratio=0.07, calcium_carbonate=0
            ),
            "a stone that can be burnt to lime",
        ),
        (lambda: limekit.burning_time_range("60 mm", "1000 degC", calcium_carbonate=0), "a stone that can be burnt to lime"),
        (lambda: limekit.fact("x"), "key of a fact"),
        (lambda: limekit.fact("lime_conductivty"), 'fact\\("lime_conductivity"\\)'),
        (lambda: limekit.rivals(["x"]), "key of a fact"),
        (lambda: limekit.read_trial("x" * 300), "path of a file"),
        (lambda: limekit.Record.load().keep("kiln", largest_stone="80 mm").save("x" * 300), "path of a file"),
        (lambda: limekit.FireHistory((0.0, 60.0), (math.nan, 300.0), (0.2, 0.2)), "finite numbers"),
        (lambda: limekit.FireHistory((0.0, math.inf), (300.0, 300.0), (0.2, 0.2)), "finite numbers"),
        (lambda: limekit.FireHistory((0.0, 60.0), (300.0,), (0.2, 0.2)), "as many times as temperatures"),
        (lambda: limekit.FireHistory.table([("0 min", ["20 degC", "30 degC"])]), "one quantity"),
        (lambda: limekit.compare_trial("my_trial.csv"), "trial: got 'my_trial.csv'"),
        (lambda: limekit.putty_level("drum", "500 L"), "what tank\\(\\) returns"),
        (lambda: limekit.cost_sheet([120], "500 kg", "1000 L"), "a list, each of it what"),
        (lambda: limekit.fire_kiln(limekit.size_kiln(**FLARE), levels=True), "a whole number"),
        (lambda: limekit.ready_dates("9999-12-31", use="mortar"), "end of the calendar"),
        (lambda: limekit.draw_time("2028-03-04 09:00", pd.NaT), "slaked"),
        (lambda: limekit.sauter_diameter({"80 mm": "much"}), "stone_sizes"),
        (lambda: limekit.burning_time("60 mm", "1000 degC", reaction_coefficient="1e6 m/s"), 'or "left out"'),
        (lambda: limekit.burning_time("60 mm", "1000 degC", density="left out"), "density"),
        (
            lambda: limekit.burning_time("60 mm", "1000 degC", stone_heat_capacity="left out", stone_moisture=0.1),
            "take heat before it burns",
        ),
    ],
)  # fmt: skip
def test_what_used_to_end_in_an_inner_traceback_is_refused_in_words(call, words):
    with pytest.raises(InputError, match=words):
        call()


def test_carbonates_that_come_to_more_than_the_stone_are_refused_as_a_record_is_read(tmp_path):
    path = tmp_path / "my_kiln.toml"
    path.write_text("[stone]\ncalcium_carbonate = 0.9\nmagnesium_carbonate = 0.3\n")
    with pytest.raises(limekit.RecordError, match=r"calcium_carbonate = 0.9 and magnesium_carbonate = 0.3.*1\.2 of"):
        limekit.Record.load(path)
    path.write_text("[stone]\ncalcium_carbonate = 0.9\n")
    with pytest.raises(InputError, match=r"1\.2 of the dry stone"):
        limekit.Record.load(path).keep("stone", magnesium_carbonate=0.3)


@pytest.mark.parametrize(
    ("own", "other"), [("calcium_carbonate = 0.995", 0.005), ('magnesium_carbonate = "20 %"', 0.8)]
)
def test_the_invented_carbonate_leaves_room_for_a_learners_own(tmp_path, own, other):
    path = tmp_path / "my_kiln.toml"
    path.write_text(f"[stone]\n{own}\n")
    record = limekit.Record.load(path)
    name = ({"calcium_carbonate", "magnesium_carbonate"} - {own.split()[0]}).pop()
    assert record["stone"][name] == pytest.approx(other)


def test_what_is_left_out_of_a_model_is_said_so_where_a_result_tells_what_it_rests_on():
    burnt = limekit.burn_stone("50 mm", "1000 degC", "2 h", co2_diffusivity="left out")
    assert {ground.name: ground.value for ground in burnt.basis}["co2_diffusivity"] == "left out"
