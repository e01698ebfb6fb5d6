import re

import pytest

from limekit.pictures.looks import LEAST_CONTRAST, LEAST_OF_TEXT, contrast
from limekit.pictures.shown import COLOURS, Shown, colour, own_colours


@pytest.mark.parametrize("hour", [0, 1], ids=["by day", "by night"])
def test_words_and_lines_stand_out_on_either_ground(hour):
    of = {name: pair[hour] for name, pair in COLOURS.items()}
    for ground in (of["layout-color0"], of["layout-color2"]):
        for words in ("content-font-color1", "content-link-color"):
            assert contrast(of[words], ground) >= LEAST_OF_TEXT
        for line in ("brand-color1", "warn-color0", "success-color0"):
            assert contrast(of[line], ground) >= LEAST_CONTRAST


def test_a_page_of_ours_has_every_colour_twice_and_paper_the_light_ones():
    day, night = own_colours().split("@media screen and (prefers-color-scheme: dark)")
    for one in (day, night):
        assert set(re.findall(r"--jp-([\w-]+):", one)) == set(COLOURS)


def test_a_page_without_a_theme_falls_back_on_the_light_colour():
    assert colour("warn-color0") == f"var(--jp-warn-color0, {COLOURS['warn-color0'][0]})"


def test_dollars_in_what_is_shown_are_no_mathematics():
    class Price(Shown):
        def _html(self):
            return "<p>$5 to $6</p>"

    assert Price()._repr_html_() == '<div class="mathjax_ignore"><p>$5 to $6</p></div>'
