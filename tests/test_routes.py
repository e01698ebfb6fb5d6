import json
from pathlib import Path

import pytest

from limekit.course.ladder import ladder
from limekit.course.routes import Card, laid_out, lesson_cards, routes
from limekit.errors import InputError

NOTEBOOKS = Path(__file__).parents[1] / "notebooks"
START, STONE = (ladder()[slug].notebook for slug in ("start_here", "know_your_stone"))


def write(folder, name, *sources):
    cells = [{"cell_type": "markdown", "source": [source]} for source in sources]
    (folder / f"{name}.ipynb").write_text(json.dumps({"cells": cells}), encoding="utf-8")


def card(title, minutes):
    return f"# {title}\n\nWhy?\n\n**Before you start**\n\n- **Time:** {minutes} minutes\n- **To hand:** 10 pencils"


@pytest.fixture
def folder(tmp_path):
    write(tmp_path, STONE, card("Is this stone worth burning?", 32), "- **Time:** 5 minutes")
    write(tmp_path, START, card("Where do I start?", 20))
    return tmp_path


class TestCards:
    def test_title_and_minutes_come_off_the_card_in_the_order_of_names(self, folder):
        assert list(lesson_cards(folder).items()) == [
            (START, Card("Where do I start?", 20)),
            (STONE, Card("Is this stone worth burning?", 32)),
        ]

    def test_what_is_no_lesson_is_passed_over(self, folder):
        write(folder, "scratch", "# My sums", card("late", 5))
        write(folder, "empty")
        (folder / "broken.ipynb").write_text('{"cells": [', encoding="utf-8")
        (folder / "list.ipynb").write_text("[]", encoding="utf-8")
        (folder / "bytes.ipynb").write_bytes(b"\xff\xfe\x00")
        (folder / "folder.ipynb").mkdir()
        assert list(lesson_cards(folder)) == [START, STONE]

    def test_every_notebook_of_the_course_has_a_card(self):
        assert set(lesson_cards(NOTEBOOKS)) == {path.stem for path in NOTEBOOKS.glob("*.ipynb")}


class TestRoutes:
    def test_alone_one_does_every_lesson_once_whole_and_in_order(self):
        legs = routes()["self-study"]
        assert [leg.lesson.file for leg in legs] == sorted(path.name for path in NOTEBOOKS.glob("*.ipynb"))
        assert {leg.share for leg in legs} == {1.0}

    def test_a_weekend_is_some_of_them_with_work_by_hand_that_is_named(self):
        legs = routes()["weekend"]
        assert {leg.lesson.slug for leg in legs} < set(ladder())
        assert {leg.day for leg in legs} == {1, 2}
        assert all(0 < leg.share <= 1 for leg in legs)
        assert all(work.what and work.minutes for leg in legs for work in leg.by_hand)
        assert legs[0].lesson.slug == "start_here", "the safety page comes first"

    def test_a_weekend_fits_two_days(self):
        assert laid_out("weekend", NOTEBOOKS).days == 2


class TestLaidOut:
    def test_minutes_are_the_lessons_own_shortened_and_rounded_up(self, folder):
        slots = [slot for slot in laid_out("weekend", folder).slots if slot.title not in ("break", "lunch")]
        minutes = [60 * (s.end.hour - s.start.hour) + s.end.minute - s.start.minute for s in slots]
        assert minutes == [20, 15, 20, 30]  # the second lesson at half of 32, to the next five
        assert slots[2].title == f"{ladder()['know_your_stone'].digits} · Is this stone worth burning?"

    def test_what_is_not_in_the_folder_is_named(self, folder):
        missing = laid_out("weekend", folder).missing
        assert ladder()["your_trial_burn"].notebook in missing
        assert START not in missing

    def test_a_day_too_full_runs_on_and_the_next_still_begins_a_day_of_its_own(self, tmp_path):
        for leg in routes()["weekend"]:
            write(tmp_path, leg.lesson.notebook, card("long", 100))
        slots = laid_out("weekend", tmp_path, start="09:00", end="15:00").slots
        opens = next(leg.lesson.digits for leg in routes()["weekend"] if leg.day == 2)
        second = next(place for place, slot in enumerate(slots) if slot.title.startswith(opens))
        assert slots[second - 1].day > 1
        assert (slots[second].day, slots[second].start.hour) == (slots[second - 1].day + 1, 9)
        assert [slot.day for slot in slots] == sorted(slot.day for slot in slots)

    @pytest.mark.parametrize("out", ["putty_and_mortar", ladder()["putty_and_mortar"].digits])
    def test_what_is_left_out_goes_with_its_work_by_hand_and_the_day_ends_sooner(self, out):
        whole, less = (laid_out("weekend", NOTEBOOKS, leave_out=left).slots for left in ([], [out]))
        gone = {slot.title for slot in whole} - {slot.title for slot in less}
        assert {title[:7] for title in gone} == {f"{ladder()['putty_and_mortar'].digits} · Wh", "by hand"}
        assert less[-1].end < whole[-1].end

    @pytest.mark.parametrize(
        ("out", "said"),
        [
            ("start_here", "safety page"),
            (["money_and_carbon"], "washing up"),
            (["draught"], "first_kiln"),
            (5, "first_kiln"),
        ],
    )
    def test_safety_and_washing_up_stay_and_a_lesson_not_on_the_way_is_refused(self, out, said):
        with pytest.raises(InputError, match="leave_out") as caught:
            laid_out("weekend", NOTEBOOKS, leave_out=out)
        assert said in str(caught.value)

    def test_a_folder_with_no_lessons_gives_no_slots(self, tmp_path):
        route = laid_out("self-study", tmp_path)
        assert (route.slots, route.days) == ((), 0)
        assert len(route.missing) == len(routes()["self-study"])

    def test_unknown_names_the_known(self, folder):
        with pytest.raises(InputError, match="weekend, self-study"):
            laid_out("fortnight", folder)
