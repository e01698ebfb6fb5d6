"""The lines of a design sheet, of a design whose every figure is made by hand."""

from types import SimpleNamespace

import pytest

from limekit.estimate import Span, shown
from limekit.facts import fact
from limekit.kiln.fittings import chimney
from limekit.kiln.particulars import building, burning, charging, spanned
from limekit.units import quantity


def span(middle, low, high, unit):
    return Span(*(quantity(f"{one} {unit}") for one in (middle, low, high)))


def design(**told):
    size = {
        "largest_stone": "100 mm", "kiln_diameter": "1.5 m", "outer_diameter": "2.5 m", "lining_thickness": "114 mm",
        "fill_thickness": "50 mm", "outer_thickness": "336 mm", "vault_span": "0.61 m", "vault_height": "0.42 m",
        "mouth_width": "0.35 m", "mouth_height": "0.47 m", "draw_eye_size": "0.2 m", "vault_mass": "180 kg",
        "tie_length": "34 m", "grate_bar_length": "0.8 m", "chimney_height": "0 m", "chimney_diameter": "0.4 m",
    }  # fmt: skip
    counts = {
        "mouths": 2, "draw_eyes": 4, "fire_bricks": 900, "common_bricks": 2000, "arch_bricks": 66, "vault_stones": 130,
        "ties": 5, "grate_bars": 9,
    }  # fmt: skip
    size = {name: quantity(value) for name, value in (size | told).items()} | counts
    return SimpleNamespace(
        size=SimpleNamespace(**size),
        stone=span(1234, 1000, 1500, "kg"),
        kiln_diameter=span(1.5, 1.4, 1.7, "m"),
        kiln_height=span(2.0, 2.0, 2.0, "m"),
        fuel="oak",
        draught=SimpleNamespace(fuel_rate_most=quantity("20 kg/h")),
        firing_time=span(26, 16, 41, "h"),
        fuel_mass=span(900, 500, 1600, "kg"),
        fuel_rate=span(35, 30, 40, "kg/h"),
        cooling_time=span(30, 20, 50, "h"),
        rule_time=span(28, 20, 36, "h"),
        heat_up_time=span(8, 6, 10, "h"),
        burning_time=span(14, 9, 19, "h"),
        soak_time=span(6, 5, 7, "h"),
        demand=SimpleNamespace(fuel_mass=span(800, 600, 1000, "kg")),
        drawn=span(700, 650, 780, "kg"),
        quicklime=span(640, 560, 660, "kg"),
        putty_volume=span(1.2, 1.0, 1.3, "m^3"),
        keeping=SimpleNamespace(as_putty=True, way="putty"),
        sinking=span(0.4, 0.33, 0.5, "m"),
    )


def lines(of, **told):
    made = design(**told)
    return {row.label: row for row in of(made)}


def test_a_figure_has_its_ends_and_one_that_was_given_says_so():
    assert spanned("Stone", span(1234, 1000, 1567, "kg"), "why", 3) == ("Stone", "1230 kg", "1000 to 1600 kg", "why")
    assert spanned("Turns", Span(7, 4, 11), "why")[1:3] == ("7", "4 to 11")
    assert spanned("Height", span(2, 2, 2, "m"), "why").spread == "as given"


def test_what_is_charged():
    said = lines(charging)
    assert [row[1:3] for row in said.values()] == [
        ("1230 kg", "1000 to 1500 kg"),
        ("100 mm", ""),
        ("1.5 m", "1.4 to 1.7 m"),
        ("2 m", "as given"),
    ]


def test_what_is_built():
    said = {label: row[1:3] for label, row in lines(building).items()}
    assert said == {
        "Wall, from the fire outward": ("114 mm firebrick, 50 mm dry sand, 336 mm brick or stone", ""),
        "Kiln, outside diameter": ("2.5 m", "2.4 to 2.7 m"),
        "Fire vault of stone": ("0.61 m wide, 0.42 m high", ""),
        "Stones set in the vault": ("about 130 of 100 mm, 180 kg of the charge", ""),
        "Firing mouths, width by height": ("2 of 0.35 by 0.47 m", ""),
        "Draw eyes, each with a slab": ("4 of 0.2 by 0.2 m", ""),
        "Chimney over the draw eyes": ("none", ""),
        "Bricks for the wall alone": ("900 firebricks, 2000 common bricks", "5 to 15 % waste"),
        "Bricks for the arches over the mouths": ("66 firebricks on edge, the ring 114 mm thick", "5 to 15 % waste"),
        "Iron ties": ("5 bands of flat iron, 50 by 5 mm, 34 m in all", ""),
        "Grate, where one is wanted": ("9 bars, each 0.8 m, over an ash pit", ""),
    }


@pytest.mark.parametrize(("high", "held"), [(1.5, False), (6.0, True)])
def test_a_chimney_is_told_both_ways_it_may_be_made_and_held_where_it_must_be(high, held):
    said, made = lines(building, chimney_height=f"{high} m"), chimney(high, 0.4)
    assert said["Chimney over the draw eyes"].value == f"{high:.3g} m, 400 mm across"
    assert said["as a flue of sheet steel"].value.startswith(f"{shown(made.steel, 2)} kg on the cover")
    assert (f"held by {made.guys} guys" in said["as a flue of sheet steel"].value) is held
    brick = said["or of brick, half a brick thick"]
    assert brick.value == f"{made.bricks} common bricks, {shown(made.brickwork, 2)} kg"
    assert brick.spread == "5 to 15 % waste"


def test_what_is_burnt():
    """26, 16 and 41 h are 7, 4 and 11 turns of four hours; 20 kg/h three tenths either way are 14 and 26."""
    assert (fact("watch_time"), fact("draught_spread")) == (4 * 3600.0, 0.3)
    said = {label: row[1:3] for label, row in lines(burning).items()}
    assert said == {
        "Firing in all": ("26 h", "16 to 41 h"),
        "Turns of 4 h at the fire": ("7", "4 to 11"),
        "Fuel: oak wood": ("900 kg", "500 to 1600 kg"),
        "Fuel an hour, on the mean": ("35 kg/h", "30 to 40 kg/h"),
        "Cooling, closed, by rule": ("30 h", "20 to 50 h"),
        "By rule: firing in all": ("28 h", "20 to 36 h"),
        "By rule: fuel": ("800 kg", "600 to 1000 kg"),
        "Fuel an hour that the draught can burn": ("20 kg/h", "14 to 26 kg/h"),
        "Drawn from the kiln": ("700 kg", "650 to 780 kg"),
        "Quicklime in it": ("640 kg", "560 to 660 kg"),
        "Putty": ("1.2 m³", "1 to 1.3 m³"),
        "The charge sinks by the finish": ("0.4 m", "0.33 to 0.5 m"),
    }


def test_figures_say_what_they_rest_on():
    said = lines(burning)
    assert said["Drawn from the kiln"].rests_on.startswith("80 to 98 % burnt; ")
    assert said["Turns of 4 h at the fire"].rests_on == "common practice"
    by_rule = said["By rule: firing in all"].rests_on
    assert by_rule == "to hold against the firing: heating up 8 h, the largest stone 14 h, soak 6 h"


def test_where_no_putty_is_kept_none_is_promised():
    made = design()
    made.keeping = SimpleNamespace(as_putty=False, way="dry powder")
    (row,) = (row for row in burning(made) if row.label == "Putty")
    assert row == ("Putty", "none", "", "dry powder: see above")
