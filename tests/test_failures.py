"""Firings that failed fail in the model too: those of ``data/firings.csv`` set aside as under-fired, by name."""

import numpy as np
import pytest

from limekit.balance import mass_balance
from limekit.kiln.firing import fire_kiln
from limekit.kiln.population import fire_all, fired, kilns, ways
from limekit.kiln.real_firings import real_firings
from limekit.kiln.sizing import size_kiln

UNDER_FIRED = {one.id: one for one in real_firings() if one.set_aside == "under-fired"}
PURE = {"calcium_carbonate": 1.0, "stone_moisture": 0.01}


def test_those_that_failed_are_these():
    assert set(UNDER_FIRED) == {"CER", "GUE15", "GOE23"}


@pytest.mark.parametrize(("laid", "excess_air"), [("by hand", 0.6), ("with flues", 0.6), ("with flues", None)])
def test_two_tonnes_fired_for_eleven_hours_stay_half_raw(laid, excess_air):
    """Černý Důl: 10 to 12 h, and 400 to 700 kg of lime of 2 t (board of the Vápenická stezka).

    With the air of a minded fire so much burns in the model too; with that of the middle of real firings less.
    """
    told = UNDER_FIRED["CER"]
    air = {} if excess_air is None else {"excess_air": excess_air}
    came = fire_kiln.plain(
        size_kiln.plain(told.stone.middle, 0.15), hours=told.hours.middle, laid=laid, wall_kind="bank", **PURE, **air
    )
    assert came.finish is None
    assert came.quicklime <= told.lime.high
    assert (told.lime.low <= came.quicklime) == (excess_air is not None)
    done = mass_balance.plain(told.stone.middle, **PURE, conversion=1.0).quicklime
    assert told.lime.high < 0.65 * done


def doors(stone, hours, **told):
    """Return a large kiln fired with its air door minded, and open."""
    kiln = size_kiln.plain(stone, 0.2)
    told = {"hours": hours, "laid": "with flues", "wall_kind": "rubble"} | told
    return (fire_kiln.plain(kiln, air_door=door, **told) for door in ("minded", "open"))


def test_five_days_of_fire_with_the_air_let_through_burn_little():
    """Gößl 2023: a few buckets of lime, since the air drew too strongly, its burners say; a kiln of some ten tonnes, whose
    mass is not printed. The same fire with its door minded would have done in half the time."""
    minded, let_through = doors(10_000.0, UNDER_FIRED["GOE23"].hours.middle)
    assert minded.finish < minded.plan.fire.hours / 2.0
    assert let_through.finish is None
    assert let_through.conversion < 0.5
    assert let_through.fuel_used > 2.0 * minded.fuel_used


def test_a_tonne_and_a_half_of_lime_of_24_tonnes_lies_between_an_open_door_and_a_minded_one():
    """Guédelon 2015: four days (Meloche 2016). Many a kiln of that size wants longer, however well it is minded."""
    told = UNDER_FIRED["GUE15"]
    minded, let_through = doors(told.stone.middle, told.hours.middle, **PURE)
    assert let_through.quicklime < told.lime.middle < minded.quicklime
    came = fire_all(told.stone.middle, {}, kilns(), ways(), fired())
    assert np.mean(came.hours > told.hours.middle) > 0.4
