"""Compiled or plain, loop by loop: the column is what it comes to by whole arrays, whatever differs from kiln to kiln."""

import by_arrays
import numpy as np
import pytest

from limekit import size_kiln
from limekit.kiln.column.step import Closeness
from limekit.kiln.firing import fire_kiln
from limekit.kiln.followers import Unknowns, light_members
from limekit.units import HOUR

PLAIN = {"rings": 1, "flame_share": 0.0, "stoking_rate": np.inf, "laid": "poured"}  # what whole arrays know of
CLOSE = Closeness(gas=0.0, heat=1e-10, front=1e-10)
SIZE = size_kiln.plain(300.0, 0.09)
FIRES = {
    "held by the draught": {"fire_temperature": 1423.15, "levels": 4},
    "wet and dolomitic, stoked by hand": {
        "stone_moisture": 0.04,
        "magnesium_carbonate": 0.06,
        "calcium_carbonate": 0.88,
        "stoking": [(0.0, 6.0 / HOUR), (HOUR, 14.0 / HOUR), (3.0 * HOUR, 0.0)],
        "arrangement": "graded",
        "chimney_height": 2.0,
        "levels": 5,
    },
    "door open, damper half shut, small stone": {
        "air_door": "open",
        "damper": 0.5,
        "heat_up_time": HOUR,
        "stone_sizes": {0.012: 1.0, 0.03: 2.0},
        "levels": 1,
    },
}
TOLD = {
    "fed": lambda moment: moment.fire.fed,
    "air": lambda moment: moment.fire.air,
    "fire": lambda moment: moment.fire.heat,
    "unburnt": lambda moment: moment.fire.unburnt,
    "stones": lambda moment: moment.flows.stones,
    "wall": lambda moment: moment.flows.wall,
    "flue": lambda moment: moment.flows.flue,
    "leaks": lambda moment: moment.flows.leaks,
    "gas_in": lambda moment: moment.flows.gas_in,
    "gas_out": lambda moment: moment.flows.gas_out,
}


def agree(burn, reference):
    assert burn.moments.time == pytest.approx([moment.time for moment in reference.moments], rel=1e-12)
    for name in burn.moments._fields[1:]:
        told = TOLD.get(name, lambda moment, name=name: getattr(moment, name))
        wanted, found = np.array([told(moment) for moment in reference.moments]), getattr(burn.moments, name)
        if name == "flue_temperature":  # hangs on rounding where nothing flows
            wanted, found = (one[burn.moments.air[:, 0] > 0.0] for one in (wanted, found))
        scale = max(np.abs(wanted).max(), 1e-9)
        assert found == pytest.approx(wanted, rel=1e-9, abs=1e-9 * scale), name
    assert burn.column.wall.heat_lost == pytest.approx(reference.column.wall.heat_lost, rel=1e-9, abs=1e-3)


@pytest.mark.parametrize("fire", FIRES.values(), ids=FIRES)
def test_a_firing_is_what_it_comes_to_by_whole_arrays(fire):
    plan = fire_kiln.plain(SIZE, hours=0.01, **PLAIN, **({"heat_up_time": 0.0} | fire)).plan
    burn = plan.light()
    burn.close = CLOSE
    reference = by_arrays.Burn.like(burn, CLOSE)
    for one in (burn, reference):
        one.run(5.0 * HOUR)
    agree(burn, reference)
    assert burn.moments.stone_temperature.max() > 450.0, "the stones do warm"


def test_kilns_that_differ_in_all_that_a_refit_varies_are_what_they_come_to_by_whole_arrays():
    plan = fire_kiln.plain(SIZE, hours=0.01, levels=3, heat_up_time=0.0, **PLAIN).plan
    deviates = np.array([[0.0, 0.0, 0.0, 0.0], [1.2, -0.8, 0.5, 1.0], [-1.0, 1.5, -0.7, -1.4]])
    burn = light_members(plan, Unknowns.at(deviates, plan), ((0.0, 1.5 * HOUR), (12.0 / HOUR, 20.0 / HOUR)))
    burn.close = CLOSE
    reference = by_arrays.Burn.like(burn, CLOSE)
    for one in (burn, reference):
        one.run(5.0 * HOUR)
    agree(burn, reference)
    assert np.ptp(burn.burnt) > 0.001
