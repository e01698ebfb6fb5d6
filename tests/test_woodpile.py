import re

import numpy as np
import plotly.graph_objects as go
import pytest

from limekit.estimate import Span
from limekit.pictures.fire import DEEP, HIGH, woodpile
from limekit.pictures.kiln_parts import PERSON


@pytest.mark.parametrize("room", [Span(1.0, 0.5, 1.6), Span(12.0, 2.0, 40.0)])
def test_the_parts_drawn_hold_the_volumes_they_name(room):
    drawn = go.Figure(woodpile(room))
    areas = [float(np.ptp(part.x) * np.ptp(part.y)) for part in drawn.data[:3]]
    assert [area * DEEP for area in np.cumsum(areas)] == pytest.approx([room.low, room.middle, room.high])
    assert drawn.data[2].x.max() < drawn.layout.xaxis.range[1]


def test_ends_of_logs_lie_in_the_stack_and_are_not_without_number():
    for high in (0.5, 60.0):
        ends = go.Figure(woodpile(Span(high / 2, high / 4, high))).data[3]
        assert 10 < len(ends.x) < 400
        assert ends.x.min() > 0.0
        assert ends.x.max() < high / HIGH
        assert ends.y.max() < HIGH


def test_the_person_is_as_tall_as_said_and_stands_clear_of_the_stack():
    path = woodpile(Span(1.0, 0.5, 1.6))["layout"]["shapes"][0]["path"]
    points = [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", path.replace("Q", " "))]
    assert max(x for x, _ in points) < 0.0
    assert PERSON * 0.95 < max(y for _, y in points) < PERSON * 1.05


def test_lumps_look_unlike_logs():
    symbols = {woodpile(Span(1.0, 0.5, 1.6), is_stacked)["data"][3]["marker"]["symbol"] for is_stacked in (True, False)}
    assert len(symbols) == 2
