"""A kiln cooling: no hotter than before, no colder than the air, and told in its own figures."""

import pytest

from limekit import cool_kiln, fact, fire_kiln, size_kiln
from limekit.kiln import cooling
from limekit.kiln.cooling import LONGEST_COOLING


@pytest.fixture(scope="module")
def firing():
    return fire_kiln.plain(size_kiln.plain(200.0, 0.06), chimney_height=1.0, levels=3, hours=4 * 3600.0)


def test_hours_told_are_those_at_which_the_hottest_lime_is_cool_enough(firing):
    found = cool_kiln.plain(firing, draw_temperature=400.0)
    assert found.times[0] == 0.0
    assert found.hottest[-2] > 400.0 >= found.hottest[-1], "no hour longer than need be"
    before, after = found.times[-2:]
    assert before < found.cooling_time <= after
    line = (found.hottest[-2] - 400.0) / (found.hottest[-2] - found.hottest[-1])
    assert found.cooling_time == pytest.approx(before + line * (after - before))
    assert f"at 127 °C after {found.cooling_time / 3600:.3g} h" in found.verdict
    assert found.draw_temperature == 400.0
    assert found.lime_temperature == found.hottest[0] > found.hottest[-1], "as the fire is let out"
    assert (found.mean <= found.hottest + 1e-9).all()


def test_lime_cool_already_is_drawn_at_once(firing):
    found = cool_kiln.plain(firing, draw_temperature=firing.lime_temperature + 300.0)
    assert found.cooling_time == 0.0
    assert len(found.times) == 1
    assert found.lime_temperature == found.hottest[0]


def test_lime_that_is_never_so_cool_is_given_up_after_the_longest_time(firing, monkeypatch):
    monkeypatch.setattr(cooling, "LONGEST_COOLING", 6 * 3600.0)
    found = cool_kiln.plain(firing, draw_temperature=274.0)
    assert found.cooling_time is None
    assert found.times[-1] == 6 * 3600.0
    assert f"still at {found.hottest[-1] - 273.15:.0f} °C" in found.verdict


def test_a_month_is_told_in_days():
    assert cooling._verdict(None, 373.15, 333.15).startswith(f"After {LONGEST_COOLING / 86400:.0f} days")
    assert "100 °C" in cooling._verdict(None, 373.15, 333.15)


def test_shut_openings_leak_their_share_and_shine_no_more(firing):
    shut, airy = (cooling._fire_out(firing, openings) for openings in ("closed", "open"))
    leak = fact("closed_leak_share")
    assert shut.way.eye_area == pytest.approx(leak * airy.way.eye_area)
    assert shut.way.air_opening_area == pytest.approx(leak * firing.burn.way.air_opening_area)
    assert (shut.mouth, airy.mouth) == (0.0, firing.burn.mouth)
    assert shut.cover == firing.burn.cover
    assert shut.stoker.wanted(0.0) == 0.0


def test_lime_hotter_than_gloves_bear_is_not_said_to_be_ready():
    safe = float(fact("lime_draw_temperature"))
    assert "Until then nobody reaches in" in cooling._verdict(3600.0, safe, safe)
    hot = cooling._verdict(3600.0, safe + 20.0, safe + 20.0)
    assert "too hot for gloved hands, which want 60 °C: nobody reaches in" in hot
    assert "Until then" not in hot
