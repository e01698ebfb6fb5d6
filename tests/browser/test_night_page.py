"""The page of a burning night in Chromium, on a phone: no sideways scroll, large words, a contrast of seven to one."""

import html

import contrast
import pytest

from limekit.course.burn_watch import INVENTED_NIGHT, invented_night
from limekit.pictures.night_page import LEAST_CONTRAST, BigFigure, NightPage
from limekit.safety import caution_table

pytestmark = pytest.mark.browser

LONG = "x" * 120
PAGE = NightPage(
    title="Burn day, live: hour 22.0",
    read_at="By the log's line of 03:30; read at 03:41.",
    do="Draw a test piece from the top, break it and slake it; keep the fire up meanwhile.",
    figures=[
        BigFigure("hours burnt", "22.0 h", "lit at 05:30"),
        BigFigure("burnt", "94 %", "89 to 97 %"),
        BigFigure("hours left", "not in sight"),
        BigFigure("thermometer to doubt", "middle", f"<b>{LONG}</b>"),
    ],
    signs=["test piece: slaked partly (not yet)", "sinking: not noted", "flame: clear (done)"],
    cautions=[(one.title, one.text) for one in caution_table().values()],
    alarms=["The forecast passes the wood: have 60 kg more of dry wood brought now."],
    notes=[f"<img src=x onerror=alert(1)> {LONG}"],
)
SMALLEST = (
    "Math.min(...[...document.querySelectorAll('main *')].map(one => parseFloat(getComputedStyle(one).fontSize)))"
)


@pytest.mark.parametrize("night", [PAGE.html, lambda: invented_night().html(every=None)], ids=["live", "invented"])
def test_it_is_legible_on_a_phone_at_night(night, browser, lab, tmp_path):
    page, complaints = browser.new_page(), []
    page.set_viewport_size({"width": 360, "height": 740})
    page.on("pageerror", lambda fault: complaints.append(str(fault)))
    (tmp_path / "burn_day.html").write_text(night(), encoding="utf-8")
    page.goto((tmp_path / "burn_day.html").as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    assert page.evaluate(SMALLEST) >= 16
    strict = contrast.OF_WORDS.replace(f"contrast < {contrast.LEAST}", f"contrast < {LEAST_CONTRAST}")
    assert strict != contrast.OF_WORDS
    assert not page.evaluate(strict, "body")
    assert not lab.grave(page)
    assert page.locator("script[src], img, link, iframe").count() == 0
    page.screenshot(path=tmp_path / "night.png", full_page=True)
    assert not complaints
    page.close()


def test_the_invented_night_says_first_that_it_is_not_live_and_asks_for_nothing():
    text = html.unescape(invented_night().html(every=None))
    assert text.index(INVENTED_NIGHT) < text.index("hours burnt")
    assert "<script" not in text
    assert "By the log's line of 00:00." in text
