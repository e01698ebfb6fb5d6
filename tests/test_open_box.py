"""The sum of a burning time: its two halves have to agree before its hours are held beside the kit's."""

import pytest

from limekit import burning_time
from limekit.course.lessons.how_hot_how_long import hold, how_it_pushes


@pytest.mark.parametrize(
    ("brought", "given", "said"),
    [
        (2.5, 4.9, "Raise `front`"),
        (3.7, 2.1, "Lower `front`"),
        (3.1, -1.0, "no answer"),
        (-3.1, 1.0, "no answer"),
        (3.06, 3.04, "so plain a sum may be out by 30 %"),
        (9.0, 9.1, "wants a reason"),
        (0.1, 0.14, "Heat wants 0.1 h and the front 0.14 h"),
    ],
)
def test_what_to_do_with_the_front_is_said_before_any_comparison(capsys, brought, given, said):
    hold(brought, given, burning_time("60 mm", "1050 degC", 0.25, calcium_carbonate=0.95).to("h"))
    found = capsys.readouterr().out
    assert said in found
    assert ("by the kit" in found) == ("By hand" in found) == ("front`" not in found and "no answer" not in found)


def test_a_hotter_front_pushes_harder_in_the_table():
    """Near 898 °C it is one atmosphere: CRC Handbook, decomposition of calcium carbonate; from memory."""
    rows = {int(front): float(push) for front, push in how_it_pushes().rows}
    assert list(rows.values()) == sorted(rows.values())
    assert rows[880] < 1.0 < rows[900]
