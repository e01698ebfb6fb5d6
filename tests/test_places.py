import pytest

import limekit
from limekit.errors import InputError


@pytest.mark.parametrize("place", limekit.place_names())
def test_where_it_stays_wet_pure_putty_will_not_do(place):
    found = limekit.binder_for(place)
    assert found.putty_will_do == (place in ("indoors", "sheltered outside"))
    assert found.putty_will_do == (found.binder == "lime putty")


def test_frost_too_near_turns_putty_away_outside_only():
    near, far = "20 day", "200 day"
    assert not limekit.binder_for("sheltered outside", time_to_frost=near).putty_will_do
    assert limekit.binder_for("sheltered outside", time_to_frost=far).putty_will_do
    assert limekit.binder_for("indoors", time_to_frost=near).putty_will_do


def test_an_unknown_place_is_answered_with_the_near_one():
    with pytest.raises(InputError, match='place="sea"'):
        limekit.binder_for("seas")


def test_frost_is_told_in_days():
    least = limekit.fact("frost_free_least") / 86400.0
    assert f"within {least:.0f} days" in limekit.binder_for("sheltered outside", time_to_frost="5 day").words
    enough = limekit.binder_for("sheltered outside", time_to_frost=f"{least} day")
    assert enough.putty_will_do
