"""The chart for the kiln mouth: its bands hold the plan, rise as a fire does, and its page fetches nothing."""

import re

import numpy as np
import pytest

from limekit import Plan
from limekit.plan import chart


@pytest.fixture(scope="module")
def plan():
    return Plan.of()


@pytest.fixture(scope="module")
def panels(plan):
    drawn, kept = [], chart.burn_chart
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            chart,
            "burn_chart",
            lambda name, hours, several, height: drawn.append((hours, several)) or kept(name, hours, several, height),
        )
        plan.burn_chart()
    return drawn


def test_there_is_a_band_for_four_thermometers_and_one_for_the_fuel(panels):
    (hours, heat), (_, fuel) = panels
    assert [panel.title.split(",")[0] for panel in heat] == [*chart.PLACES.values()]
    assert len(fuel) == 1
    for panel in (*heat, *fuel):
        assert np.all(panel.low <= panel.high)
        assert np.all(np.isfinite(panel.low))
        assert panel.high.max() <= panel.most
        assert panel.low.shape == hours.shape


def test_the_plan_s_own_fuel_lies_within_the_band_and_its_end_is_what_it_burns(plan, panels):
    hours, (fuel,) = panels[1]
    history = plan.plain.firing.history
    fed = history.fed_by(np.minimum(3600.0 * hours, history.times[-1]))
    assert np.all(fuel.low - 1.0 <= fed)
    assert np.all(fed <= fuel.high + 1.0)
    assert fuel.high[-1] == pytest.approx(plan.plain.firing.fuel_used, rel=1e-3)
    assert np.all(np.diff(fuel.low) >= -1e-9)


def test_the_hours_reach_past_the_slower_half_of_kilns(plan, panels):
    assert panels[0][0][-1] * 3600.0 > plan.plain.firing.firing_time


def test_the_page_fetches_nothing_and_says_what_to_look_at(plan):
    page = plan.burn_chart()
    assert not re.search(r"https?:(?!//www.w3.org/2000/svg)|<script|<link|src=", page.html)
    assert "If your dots lie outside the band" in page.html
    assert "Carbon monoxide" in page.html
    assert plan.figures["hours"].words in page.html
