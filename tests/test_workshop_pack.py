"""The pack of a workshop: every page there, written whole or not at all, and no word of a file is markup."""

import datetime
import math
import re
from dataclasses import fields, replace
from html import escape
from pathlib import Path

import pytest
from hostile import HOSTILE
from test_hostile_words import Page

import limekit
from limekit import __main__ as verbs
from limekit import tables
from limekit.course import pack
from limekit.course.pack_things import wanted
from limekit.course.programme import Programme
from limekit.facts import fact
from limekit.pictures.yard import RATIOS, Yard, distances, yard_drawing
from limekit.records.examples import example_path
from limekit.records.supplies import materials, tools
from limekit.records.workshop_file import EXAMPLE, Workshop, read_workshop

NOTEBOOKS = Path(__file__).parents[1] / "notebooks"
KINDS = ("trial only", "kiln burnt", "kiln lit")


@pytest.fixture(scope="module")
def plan():
    return limekit.Plan.of()


@pytest.fixture(scope="module")
def made(plan):
    def page(**changed):
        told = replace(read_workshop(example_path(EXAMPLE)), lit=datetime.datetime(2028, 5, 20, 6), **changed)
        return Programme(told, plan, NOTEBOOKS)

    return page


def sections(page):
    return re.findall(r"<section><h2>(.*?)</h2>", page)


class TestPages:
    @pytest.mark.parametrize("ready", KINDS)
    def test_every_page_is_there_and_named_on_the_cover(self, made, ready):
        page = pack.pack_page(made(ready=ready))
        titles = sections(page)
        for opens in (
            *("Day 1", "Day 2", "Who works where", "Shopping list", "Van list", "Questions before a burn", "Sign in"),
            *("Risk assessment", "Yard and room", "Distances", "Wet-day plan", "Five heaps", "Labels for tubs"),
            *("To take home", "Attendance", "Machines"),
        ):
            assert any(title.startswith(opens) for title in titles), opens
        assert any(title.startswith("Watch at the kiln") for title in titles) == (ready == "kiln lit")
        assert re.findall("<li>(.*?)</li>", page.partition('<ol class="contents')[2].partition("</ol>")[0]) == titles
        assert not re.search(r"<script|<img|https?://(?!www.w3.org/2000/svg)|url\(http", page)
        assert pack.NONE in page
        assert pack.INVENTED in page
        assert pack.INVENTED_KILN in page

    def test_contradictions_stand_on_the_cover(self, made):
        page = pack.pack_page(made(brought=()))
        assert page.index("nothing here makes it") < page.index("<section>")
        assert pack.NONE not in page

    def test_names_dates_and_the_plans_own_figures_stand_where_they_are_wanted(self, made, plan):
        page = pack.pack_page(made())
        for name in made().workshop.everybody:
            assert page.count(name) >= 2
        assert "Saturday 3 June 2028 to Sunday 4 June 2028" in page
        assert str(plan.figures["quicklime"]) in page
        ripe = datetime.date(2028, 6, 3) + datetime.timedelta(seconds=float(fact("maturing_mortar")))
        assert f"mortar {ripe:%d %b %Y}" in page

    def test_a_stone_whose_lime_is_not_kept_as_putty_gets_no_day_it_is_ready(self, plan):
        told = read_workshop(example_path(EXAMPLE))
        lean = plan.with_(calcium_carbonate=0.7, magnesium_carbonate=0.0, clay=0.28)
        assert not lean.plain.putty.keeping.as_putty
        page = pack.pack_page(Programme(told, lean, NOTEBOOKS))
        assert "mortar 03 Jul 2028" in pack.pack_page(Programme(told, plan, NOTEBOOKS))
        assert "mortar 03 Jul 2028" not in page

    @pytest.mark.parametrize("load", [150.0, 300.0, 500.0, 2000.0])
    def test_weights_are_split_into_trips_that_the_van_takes(self, made, load):
        programme = made(van_load=load)
        page = pack.pack_page(programme)
        rows = re.findall(r"☐ ([^<]+)</th><td>([\d.]+)[^<]*</td><td>([\d.]+)</td><td>☐ out  ☐ back</td>", page)
        (told,) = {float(mass) for mass in re.findall(r"In all about (\d+) kg", page)}
        trips = [float(mass) for mass in re.findall(r"this trip</th><td></td><td>([\d.]+)</td><td></td>", page)]
        assert sum(float(mass) for *_, mass in rows) == pytest.approx(told, rel=0.02)
        assert sum(trips) == pytest.approx(told, rel=0.02)
        assert all(mass <= load for mass in trips)
        assert math.ceil(told / load) <= len(trips) <= math.ceil(told / load) + 1
        assert all(mass > load - 60.0 for mass in trips[:-1])  # the heaviest piece, a marquee
        amounts = {}
        for name, amount, _ in rows:
            amounts[name] = amounts.get(name, 0.0) + float(amount)
        for item in (*wanted(programme, tools), *wanted(programme, materials)):
            assert amounts[item.name] == pytest.approx(item.amount)
        assert "as my_workshop.toml has it" in page

    def test_a_van_of_which_nothing_is_told_takes_what_is_usual_and_says_so(self, made):
        page = pack.pack_page(made(van_load=fact("van_load")))
        assert (
            f"may carry {fact('van_load'):.0f} kg beside who sits in it, after {escape(fact('van_load').basis)}" in page
        )
        assert "TOO HEAVY IN ONE PIECE" not in page
        assert "TOO HEAVY IN ONE PIECE" in pack.pack_page(made(van_load=50.0))

    def test_putty_weighs_what_it_does(self):
        putty = next(item for item in materials(8) if item.name == "lime putty")
        assert putty.mass == pytest.approx(putty.amount * fact("putty_density") / 1000.0, rel=0.01)  # litres

    def test_a_wet_day_is_a_timetable_that_says_what_falls_out(self, made):
        programme = made()
        first, second = re.findall(r"<section><h2>Wet-day plan.*?</section>", pack.pack_page(programme), re.DOTALL)
        for page, rows in zip((first, second), programme.days, strict=True):
            hours = re.findall(r'<th scope="row">([^<]*)</th>', page)
            assert hours == [f"{row.start:%H:%M} to {row.end:%H:%M}" for row in rows]
        assert re.findall(r"FALLS OUT: (\w+)", first) == ["stones", "the"]
        assert "for want of cold trial stones; brought, it stays" in first
        assert "FALLS OUT" not in second
        assert second.count("under the roof") >= len(programme.days[1])

    def test_who_is_missing_and_who_draws_stand_where_they_are_looked_for(self, made):
        programme = made(ready="kiln lit")
        page = pack.pack_page(programme)
        for number in range(1, programme.to_find + 1):
            assert f"<span>stoker {number}, to be found, is</span><span></span>" in page
        assert page.count(f"{programme.to_find} STOKERS ARE TO BE FOUND") == page.count("<h2>Watch at the kiln")
        day, heaps = (re.search(rf"<h2>{title}.*?</section>", page, re.DOTALL)[0] for title in ("Day 2", "Five heaps"))
        for sheet in (day, heaps, page[page.index("<h2>Watch") :]):
            assert programme.to_draw in sheet
            assert "<span>Drawn on, by, and the other beside</span><span></span>" in sheet
        assert "Drawn on, by" not in pack.pack_page(made())

    def test_a_learner_takes_home_what_was_done(self, made):
        whole, less = (pack.pack_page(made(leave_out=out)) for out in ((), ("slake",)))
        for line in ("lime slaked, kg", "the same after it [g]"):
            assert line in whole
            assert line not in less
        assert "sand&#x27;s voids" in less

    def test_a_yard_has_no_hearth_and_no_vessel_where_nothing_is_burnt_or_slaked(self, made):
        cold = pack.pack_page(made(leave_out=("your_trial_burn", "slake")))
        for told in ("Nothing is slaked", "The yard in plan", "hearth 1", "from a trial hearth"):
            assert (told in cold) == (told == "Nothing is slaked")
            assert (told in pack.pack_page(made())) == (told != "Nothing is slaked")

    def test_machines_say_what_each_step_wants(self, made):
        page = pack.pack_page(made())
        page = page[page.index("<h2>Machines") :]
        for row in tables.rows("machines"):
            assert row["wants"]
            assert f"<td>{row['what']}</td><td>{row['wants']}</td>" in page

    def test_only_a_kiln_lit_on_the_day_is_fed_from_the_shopping_list(self, made, plan):
        lit, trial = (pack.pack_page(made(ready=ready)) for ready in ("kiln lit", "trial only"))
        assert "stone for the kiln" in lit
        assert "stone for the kiln" not in trial
        assert "hearth or stove" in trial
        assert "hearth or stove" not in lit
        drawn = pack.pack_page(made(ready="kiln burnt", brought=("matured putty",)))
        assert "lime putty" in drawn
        assert "kept dry in a closed tin" not in drawn

    def test_gear_is_for_everybody_and_tins_hold_all_that_may_be_drawn(self, made, plan):
        stokers = ("Ash", "Yew", "Oak")
        there = made(ready="kiln lit", stokers=stokers)
        page = pack.pack_page(there)
        for gear in ("goggles", "leather gloves", "fitted dust mask", "head torch"):
            assert f"{gear}</th><td>{len(there.workshop.everybody)}</td>" in page
        assert f"drinking water</th><td>{2 * len(there.workshop.everybody)} L</td>" in page
        (tins,) = re.findall(r"steel tin of 25 L with a lid, dry</th><td>(\d+)</td>", page)
        drawn = plan.plain.design.drawn
        litres = max(drawn.low, drawn.high) / fact("quicklime_bulk_density") * 1000.0
        assert litres <= 25.0 * int(tins) < litres + 25.0
        assert "steel tin of 25 L" not in pack.pack_page(made())

    def test_what_can_hurt_is_said_where_it_is_read(self, made):
        page = pack.pack_page(made())
        assert "brush dry lime off first" in page
        assert "See to it:" in page
        assert "emergency number, poisons line, eye hospital" in page
        assert page.count("Rowan drives and teaches. While away: work stops") == 1 + page.count(
            "<h2>Risk"
        )  # and the poster
        assert "drives and teaches" not in pack.pack_page(made(driver="Alder"))
        assert page.count("<b>QUICKLIME</b>") == page.count("<b>LIME PUTTY</b>") > 0
        assert "NEVER WATER" in page
        assert re.search("Embers, hearth and stones.*?<span>Rowan and ", page)

    def test_each_sheet_is_numbered_and_says_whose_kiln_it_is(self, made):
        page = pack.pack_page(made())
        count = len(sections(page)) + 1
        numbers = re.findall(rf"sheet (\d+) of {count}\. {pack.INVENTED_KILN}", page)
        assert list(map(int, numbers)) == list(range(2, count + 1))

    def test_no_word_of_a_file_becomes_more_than_a_word(self, made):
        texts = {
            field.name: HOSTILE
            for field in fields(Workshop)
            if field.type == "str" and field.name not in ("ready", "start", "end")
        }
        people = tuple(f"{HOSTILE} {number}" for number in range(4))
        page = pack.pack_page(made(**texts, people=people, teachers=(f"{HOSTILE} a",)))
        read = Page(page)
        assert not read.strange
        assert read.text.count("zzmark") > 20


class TestWritten:
    def test_without_a_file_an_example_is_written_and_the_pack_is_made_of_it(self, tmp_path, capsys):
        assert verbs.main(["workshop", str(tmp_path)]) == 0
        assert read_workshop(tmp_path / pack.FILE).place == read_workshop(example_path(EXAMPLE)).place
        first = (tmp_path / pack.PACK).read_text(encoding="utf-8")
        assert pack.INVENTED in first
        said = capsys.readouterr().out
        assert "2 written" in said
        assert "an invented example: change it to yours" in said
        assert pack.NONE in said
        assert verbs.main(["workshop", str(tmp_path)]) == 0
        assert "0 written" in capsys.readouterr().out
        own = (tmp_path / pack.FILE).read_text(encoding="utf-8").replace("the upper yard", "the lower yard")
        (tmp_path / pack.FILE).write_text(own, encoding="utf-8")
        assert verbs.main(["workshop", str(tmp_path)]) == 0
        assert (tmp_path / f"{pack.PACK}.1").read_text(encoding="utf-8") == first
        again = (tmp_path / pack.PACK).read_text(encoding="utf-8")
        assert "the lower yard" in again
        assert pack.INVENTED not in again

    def test_a_file_with_faults_leaves_the_pack_as_it_was(self, tmp_path, capsys):
        (tmp_path / pack.FILE).write_text("people = 0", encoding="utf-8")
        (tmp_path / pack.PACK).write_text("an older pack", encoding="utf-8")
        assert verbs.main(["workshop", str(tmp_path)]) == 2
        assert "2 thing(s) to put right" in capsys.readouterr().err
        assert [path.name for path in tmp_path.iterdir() if path.name.startswith(pack.PACK)] == [pack.PACK]
        assert (tmp_path / pack.PACK).read_text(encoding="utf-8") == "an older pack"

    @pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31"])
    def test_a_day_at_an_end_of_the_calendar_is_refused_in_words(self, day, tmp_path, capsys):
        (tmp_path / pack.FILE).write_text(f'first_day = "{day}"\npeople = 6', encoding="utf-8")
        assert verbs.main(["workshop", str(tmp_path)]) == 2
        assert "end of the calendar" in capsys.readouterr().err
        assert not (tmp_path / pack.PACK).exists()

    def test_contradictions_are_told_where_it_was_asked_for(self, tmp_path, capsys):
        (tmp_path / pack.FILE).write_text('first_day = "2028-06-03"\npeople = 6\nbrought = []', encoding="utf-8")
        assert verbs.main(["workshop", str(tmp_path)]) == 0
        assert "it needs matured putty" in capsys.readouterr().out


class TestYard:
    def test_things_stand_as_far_apart_as_the_table_says(self):
        far = {key: one.metres for key, one in distances().items()}
        assert far["roof_from_kiln"] == pytest.approx(50 * 0.3048)  # International Fire Code 307.4.1, bonfires
        assert far["roof_from_hearth"] == pytest.approx(15 * 0.3048)  # the same, fires in approved containers
        assert far["generator_from_people"] == pytest.approx(20 * 0.3048)  # CPSC
        assert Yard(3, 0.35, 0, 2.4, 5.0).to_roof == far["roof_from_kiln"]
        assert Yard(3, 0.35, 3).to_roof == far["slaking_from_fire"]
        assert Yard(3, 0.35, 0, 4.0, 14.0).to_roof == 14.0 + far["spectators_from_fire"]  # as far as it could fall
        assert all(one.basis for one in distances().values())

    @pytest.mark.parametrize(
        "yard",
        [Yard(1, 0.3, 1), Yard(10, 0.4, 10), Yard(3, 0.35, 0, 2.4, 5), Yard(3, 0.35, 3, 2.4, 5), Yard(7, 0.4, 0, 5, 9)],
        ids=str,
    )
    def test_it_is_drawn_to_a_usual_scale_and_within_its_paper(self, yard):
        svg = yard_drawing(yard)
        (ratio,) = re.findall(r"1 to (\d+) where", svg)
        assert int(ratio) in RATIOS
        width, height = map(float, re.search(r'viewBox="0 0 (\d+) (\d+)"', svg).groups())
        assert height <= 720
        for shape in re.findall(r"<rect [^>]*>", svg)[1:]:
            place = {name: float(value) for name, value in re.findall(r' (x|y|width|height)="(-?[\d.]+)"', shape)}
            assert 0 <= place["x"] <= place["x"] + place["width"] <= width
            assert 0 <= place["y"] <= place["y"] + place["height"] <= height
        (circle,) = re.findall(r'<circle cx="[\d.]+" cy="[\d.]+" r="([\d.]+)" fill="#dedad2"', svg)[:1]
        wide = yard.kiln_width or yard.vessel_width
        assert float(circle) == pytest.approx(wide / 2 * 4000 / int(ratio), abs=0.06)
