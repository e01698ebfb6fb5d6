import inspect
import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
import pandas as pd
import pytest

import limekit
from limekit import glossary
from limekit.edge import Ground, edge, plain, unit_of
from limekit.errors import InputError
from limekit.facts import fact
from limekit.units import Kelvin, Kilogram, Metre, Money, Share, quantity


@dataclass(frozen=True)
class Burnt:
    diameter: Metre
    gas_temperature: Kelvin
    note: str
    basis: tuple[Ground, ...] = ()


@edge
def burnt(
    diameter: Metre,
    gas_temperature: Kelvin = 1273.15,
    conversion: Share = fact("burning_time_spread"),
    co2_fraction: Share | None = None,
) -> Burnt:
    return Burnt(diameter, gas_temperature, f"{diameter!r} {co2_fraction!r}")


@edge
def diameter(diameter: Metre, shape: Literal["round", "flat"] = "round") -> Metre:
    return diameter


def test_text_quantities_and_si_floats_come_to_the_same():
    assert burnt("60 mm").note == burnt(quantity("6 cm")).note == burnt.plain(0.06).note


def test_a_result_comes_out_in_the_glossary_unit():
    assert str(burnt("0.06 m").diameter) == "60 mm"
    assert burnt("60 mm").gas_temperature.to("degC").magnitude == pytest.approx(1000)
    assert str(diameter("0.06 m")) == "60 mm"


@edge
def widths(burnt: Burnt, pieces: tuple[Burnt, ...] = ()) -> float:
    return burnt.diameter + sum(piece.diameter for piece in pieces)


@edge
def amount(amount: Money, per: Kilogram = 1.0) -> Money:
    return amount / per


def test_a_result_may_go_back_into_the_next_function():
    outside, inside = burnt("60 mm", "900 degC"), burnt.plain(0.06, 1173.15)
    assert plain(outside).diameter == pytest.approx(inside.diameter)
    assert plain(outside).gas_temperature == pytest.approx(inside.gas_temperature)
    assert plain(inside) is inside
    assert plain([1, "a", None]) == [1, "a", None]
    assert widths(outside, [outside, inside]) == widths.plain(inside, (inside, inside)) == pytest.approx(0.18)


def test_money_is_a_plain_number_on_both_sides_and_its_mass_is_not():
    assert amount(12.5, per="25 kg") == amount("12.5", per="25000 g") == 0.5
    assert type(amount(12.5)) is float
    for wrong in ("12.5 EUR", "12,5", -1e-6, math.inf, True):
        with pytest.raises(InputError, match="cost of one line"):
            amount(wrong)
    with pytest.raises(InputError, match="short_ton"):
        amount(12.5, per="1 ton")


@pytest.mark.parametrize("given", ["2,50", 10**400, [1, 2], None, "free"])
def test_money_that_is_no_number_is_refused(given):
    with pytest.raises(InputError, match="wage"):
        limekit.work_line(work="8 h", wage=given)


def test_the_plain_function_gives_floats():
    assert burnt.plain(0.06).diameter == 0.06
    assert burnt.plain(0.06).basis == ()


def test_an_array_passes_through_and_is_checked_as_a_whole():
    assert diameter(quantity(np.array([10.0, 60.0]), "mm")).magnitude.tolist() == [10, 60]
    with pytest.raises(InputError, match="Wanted: 1 mm to 600 mm"):
        diameter(quantity(np.array([10.0, 60000.0]), "mm"))


@pytest.mark.parametrize(
    "several",
    [
        ["900 degC", "1000 degC"],
        [quantity("900 degC"), quantity("1273.15 K")],
        quantity([900, 1000], "degC"),
        pd.Series(["900 degC", "1000 degC"]),
        quantity(pd.Series([900.0, 1000.0]), "degC"),
        quantity(np.ma.array([900, 1000]), "degC"),
    ],
)
def test_several_values_come_as_lists_arrays_or_a_pandas_column(several):
    pressures = limekit.dissociation_pressure(several).magnitude
    assert pressures == pytest.approx([limekit.dissociation_pressure(f"{t} degC").magnitude for t in (900, 1000)])


@pytest.mark.parametrize("shares", [[0.9, 1], np.array([0.9, 1.0]), pd.Series([0.9, 1.0]), ["90 %", "100 %"]])
def test_shares_come_as_lists_too(shares):
    losses = [limekit.loss_on_ignition(share).magnitude for share in (0.9, 1.0)]
    assert limekit.loss_on_ignition(shares).magnitude == pytest.approx(losses)
    with pytest.raises(InputError, match=r"carbonates that come to 1\.05"):
        limekit.loss_on_ignition(shares, magnesium_carbonate=0.05)


@pytest.mark.parametrize(
    "given",
    [
        {"a": 1},
        {0.9},
        object(),
        0.9 + 0j,
        b"0.9",
        10**400,
        [10**400],
        [None],
        [[0.9], [0.9, 0.8]],
        [True],
        np.bool_(True),
        np.ma.array([0.9, 0.8], mask=[0, 1]),
        np.datetime64("2028-03-04"),
        pd.NA,
        pd.NaT,
        pd.Series([0.9, None]),
        pd.Series(["a", "b"], dtype="category"),
        pd.DataFrame({"share": ["a"]}),
        (share for share in [0.9]),
    ],
    ids=lambda given: type(given).__name__,
)
def test_what_is_no_number_is_refused_in_a_few_lines(given):
    with pytest.raises(InputError, match="calcium_carbonate") as caught:
        limekit.loss_on_ignition(given)
    assert caught.value.example == "calcium_carbonate=0.95"
    assert max(map(len, str(caught.value).splitlines())) < 250


def test_lists_of_different_lengths_are_told_with_their_lengths():
    with pytest.raises(InputError, match="3 values of diameter, 2 values of gas_temperature") as caught:
        limekit.burning_time(["5 cm", "6 cm", "7 cm"], ["900 degC", "1000 degC"], model="reduced")
    assert caught.value.wanted == "lists of one length, or one value for all"


def test_a_function_of_one_value_says_so():
    with pytest.raises(InputError, match=r"lower_heating_value\(\): got 2 values of fuel_moisture") as caught:
        limekit.lower_heating_value("oak", fuel_moisture=[0.1, 0.2])
    assert caught.value.wanted == "one value at a time"
    with pytest.raises(InputError, match="one of round, flat"):
        diameter("60 mm", shape=np.array(["flat", "flat"]))


@pytest.mark.parametrize("nothing", [[], (), [[]], np.array([]), quantity(np.array([]), "min")])
def test_a_list_with_nothing_in_it_is_refused(nothing):
    with pytest.raises(InputError, match="one value at least") as caught:
        limekit.read_reactivity(nothing, [20, 30])
    assert caught.value.example == 'log_times="2 min"'


def test_a_large_figure_is_written_out_wherever_a_thing_or_a_basis_shows_it():
    size = limekit.size_kiln(stone="14 tonne", largest_stone="120 mm")
    assert {ground.name: ground.value for ground in size.basis}["stone"] == "14000 kg"
    assert "14000 kg" in str(size)
    assert "14000 kg" in size._repr_html_()


def test_a_basis_shows_arrays_with_their_unit_and_long_ones_by_their_ends():
    times, temperatures = (ground.value for ground in limekit.read_reactivity([0, 1, 2], [20, 40, 56]).basis)
    assert (times, temperatures) == ("0, 1, 2 min", "20, 40, 56 °C")
    long = limekit.read_reactivity(np.arange(30.0), 20 + np.arange(30.0)).basis
    assert [ground.value for ground in long] == ["30 values, 0 min to 29 min", "30 values, 20 °C to 49 °C"]


def test_a_basis_tells_given_from_assumed_and_published():
    kinds = {ground.name: ground.kind for ground in burnt("60 mm").basis}
    assert kinds == {"diameter": "given", "gas_temperature": "assumed", "conversion": "common practice"}


@pytest.mark.parametrize(
    "given", [60, 60.0, "60", True, None, "60 kg", "0 mm", "-60 mm", "7 m", "nan mm", "inf mm", math.nan]
)
def test_a_bad_size_is_refused_by_name_with_an_example_that_works(given):
    with pytest.raises(InputError, match="diameter") as caught:
        diameter(given)
    assert caught.value.example == 'diameter="60 mm"'
    assert diameter(caught.value.example.split('"')[1])


@pytest.mark.parametrize(("given", "share"), [("30 %", 0.3), (0.3, 0.3), ("0.3", 0.3), (1, 1.0)])
def test_a_share_may_be_bare_or_in_percent(given, share):
    assert burnt.plain(0.06).note == "0.06 None"
    assert burnt("60 mm", co2_fraction=given).note == f"{0.06!r} {share!r}"


def test_a_share_in_percent_without_its_mark_is_refused():
    with pytest.raises(InputError, match="Wanted: 0 to 1"):
        burnt("60 mm", co2_fraction=30)


def test_a_misspelt_argument_is_answered_with_the_near_one():
    with pytest.raises(InputError, match=r'For example: diameter="60 mm"'):
        burnt(diametre="60 mm")


def test_a_missing_argument_is_named():
    with pytest.raises(InputError, match="missing a required argument: 'diameter'") as caught:
        burnt()
    assert caught.value.example == 'burnt(diameter="60 mm")'


def test_a_choice_that_is_not_there_is_answered_with_those_that_are():
    with pytest.raises(InputError, match="one of round, flat") as caught:
        diameter("60 mm", shape="flatt")
    assert caught.value.example == 'shape="flat"'


def test_a_learner_sees_the_message_and_no_traceback():
    with pytest.raises(InputError) as caught:
        diameter("0 mm")
    assert caught.value._render_traceback_() == [f"InputError: {caught.value}"]


def _public():
    for name in limekit.__all__:
        value = getattr(limekit, name)
        if hasattr(value, "plain"):
            yield pytest.param(name, value, id=name)


@pytest.mark.parametrize(("name", "function"), _public())
def test_every_public_quantity_is_in_the_glossary_and_the_docstring(name, function):
    hints = inspect.get_annotations(function.plain, eval_str=True)
    result = hints.pop("return", None)
    for argument, hint in hints.items():
        if unit_of(hint):
            assert argument in glossary.entries(), argument
        assert argument in function.__doc__, f"{argument} is not in the docstring of {name}"
    if unit_of(result):
        assert name in glossary.entries()
    for field, hint in inspect.get_annotations(result, eval_str=True).items() if isinstance(result, type) else ():
        if unit_of(hint):
            assert field in glossary.entries(), field


def test_every_example_in_the_glossary_lies_in_its_band_and_its_slider():
    for entry in glossary.entries().values():
        example = quantity(entry.example, entry.unit).to(entry.unit or "").magnitude
        assert entry.low <= example <= entry.high, entry.name
        if entry.step:
            assert entry.low <= entry.slide_from < entry.slide_to <= entry.high, entry.name
            assert entry.step <= (entry.slide_to - entry.slide_from) / 4, entry.name
        assert entry.label, entry.name
        assert entry.help, entry.name
