"""A workshop's timetable: what is planted wrong is found and told, and nothing is wrong in what the kit lays out."""

import datetime
from dataclasses import replace
from pathlib import Path

import pytest

import limekit
from limekit.course.programme import Programme, Row, contradictions
from limekit.course.routes import handwork, laid_out, routes
from limekit.errors import InputError
from limekit.facts import fact
from limekit.records.examples import example_path
from limekit.records.roster import people_to_watch
from limekit.records.supplies import materials, tools
from limekit.records.workshop_file import BROUGHT, EXAMPLE, read_workshop

NOTEBOOKS = Path(__file__).parents[1] / "notebooks"
SATURDAY = datetime.datetime(2028, 6, 3)
BEFORE = datetime.datetime(2028, 5, 20, 6)
WARM = datetime.datetime(2028, 5, 31, 6)
KINDS = ("trial only", "kiln burnt", "kiln lit")


def at(clock, minutes, what, **told):
    hour, minute = map(int, clock.split(":"))
    start = SATURDAY + datetime.timedelta(hours=hour, minutes=minute)
    return Row(what, start, start + datetime.timedelta(minutes=minutes), **told)


@pytest.fixture(scope="module")
def plan():
    return limekit.Plan.of()


@pytest.fixture
def programme(plan):
    def made(**changed):
        told = replace(read_workshop(example_path(EXAMPLE)), **{"lit": BEFORE, **changed})
        return Programme(told, plan, NOTEBOOKS)

    return made


class TestPlanted:
    def test_a_fire_lit_after_the_coffee_has_no_time_to_come_to_colour(self):
        light = {"gives": "fire at full colour", "hours": 0.5}
        stones = {"needs": ("fire at full colour",)}
        coffee = at("11:30", 30, "break")
        before = (at("11:00", 30, "light", **light), coffee, at("12:00", 90, "stones in", **stones))
        assert contradictions(before, {}) == ()
        after = (at("11:15", 15, "break"), at("11:30", 30, "light", **light), at("12:00", 90, "stones in", **stones))
        (said,) = contradictions(after, {})
        assert said.startswith("Saturday 12:00, stones in")
        assert said.endswith("at 12:30.")

    def test_a_row_before_what_it_needs(self):
        rows = (at("09:00", 60, "weigh", needs=("cold stones",)), at("10:00", 60, "burn", gives="cold stones", hours=6))
        (said,) = contradictions(rows, {})
        assert "it needs cold stones, and that is ready on Saturday 03 June at 17:00" in said

    def test_slaking_with_no_cooled_lime(self):
        rows = (at("14:00", 90, "slake", needs=("cold quicklime",)),)
        assert "nothing here makes it or brings it" in contradictions(rows, {})[0]
        monday = SATURDAY + datetime.timedelta(days=2)
        assert "Monday 05 June at 00:00" in contradictions(rows, {"cold quicklime": monday})[0]
        assert contradictions(rows, {"cold quicklime": SATURDAY}) == ()

    def test_two_rows_for_one_person(self):
        kiln, vessel = at("14:00", 240, "at the kiln", people=("Ash",)), at("15:00", 90, "slake", people=("Elm", "Ash"))
        assert contradictions((kiln, vessel), {})[0].startswith("Ash: at two things at once")
        later = at("18:00", 90, "slake", people=("Elm", "Ash"))
        assert contradictions((kiln, later), {}) == ()

    def test_nobody_goes_without_sleep(self):
        rows = tuple(at(f"{hour:02d}:00", 180, f"turn {hour}", people=("Ash",)) for hour in (0, 6, 12, 18))
        assert any("to sleep in" in said for said in contradictions(rows, {}))
        assert not contradictions(rows[1:3], {})


class TestLaidOut:
    @pytest.mark.parametrize("ready", KINDS)
    @pytest.mark.parametrize("learners", [3, 8, 12])
    def test_nothing_contradicts_in_the_three_kinds(self, programme, ready, learners):
        people = tuple(f"learner {number}" for number in range(learners + 3 * (ready == "kiln lit")))
        made = programme(ready=ready, people=people, first_aider="", driver="")
        assert made.contradictions == ()
        assert len(made.days) == 2

    @pytest.mark.parametrize("ready", KINDS)
    def test_everything_needed_is_known_and_somebody_stands_at_every_vessel(self, programme, ready):
        made = programme(ready=ready)
        given = (
            {work.gives for work in handwork().values()}
            | set(BROUGHT)
            | {"loaded kiln", "cold kiln", "the lesson slake"}
        )
        for row in made.rows:
            assert set(row.needs) <= given
        inside = [name for team in made.teams for name in team]
        assert len(inside) == len(set(inside))
        assert set(made.workshop.people) <= set(inside)
        assert max(map(len, made.teams)) <= fact("group_size_most") + 1

    @pytest.mark.parametrize("ready", KINDS)
    @pytest.mark.parametrize("lesson", ["slake", "your_trial_burn", "draw_and_sort", "the_firing", "putty_and_mortar"])
    def test_what_is_left_out_takes_all_its_work_by_hand_along_on_any_day(self, programme, ready, lesson):
        legs = routes()[ready if ready != "trial only" else "weekend"]
        (leg,) = (
            (leg for leg in legs if leg.lesson.slug == lesson) if lesson in [x.lesson.slug for x in legs] else [None]
        )
        if leg is None:
            return
        made = programme(ready=ready, leave_out=(lesson,))
        left = {row.piece.name for row in made.by_hand}
        assert not left & {work.name for work in leg.by_hand}
        assert not any(f"the lesson {lesson}" in row.needs for row in made.by_hand)
        assert not any("nothing here makes it" in said for said in made.contradictions)
        before = {row.piece.name for row in programme(ready=ready).by_hand}
        along = before - left - {work.name for work in leg.by_hand}
        assert along == set(made.route.gone)
        for name in along:
            assert any(said.startswith(f"{name.replace('_', ' ')} goes with") for said in made.remarks)

    def test_the_second_slaking_goes_with_the_lesson_on_slaking_and_sorting_and_mixing_stay(self, programme):
        made = programme(leave_out=("slake",), brought=BROUGHT)
        assert not any("slake" in row.what for row in made.by_hand)
        assert {"sort", "mix"} <= {row.piece.name for row in made.by_hand}
        assert any(
            "break trial goes with what is left out, for want of the lesson slake" in one for one in made.remarks
        )
        assert any("nothing here uses the cold trial stones" in said for said in made.remarks)
        assert not programme().remarks

    def test_what_is_brought_keeps_its_work_where_what_made_it_is_left_out(self, programme):
        for brought, stays in ((BROUGHT[:2], False), (BROUGHT, True)):
            made = programme(leave_out=("your_trial_burn",), brought=brought)
            assert not made.row("light_trial")
            assert not made.row("trial_fire")
            assert bool(made.row("break_trial")) == stays
            assert made.contradictions == ()

    def test_lime_that_nobody_brings_is_missed(self, programme):
        assert sum("cold quicklime" in said for said in programme(brought=()).contradictions) == 2

    def test_rows_change_places_and_what_comes_too_soon_is_told(self, programme):
        swapped = programme(swap=(("touch", "what_fire_does"),))
        names = [row.piece.name for row in swapped.days[0] if row.piece]
        assert names.index("what_fire_does") < names.index("touch")
        assert swapped.contradictions == ()
        wrong = programme(swap=(("light_trial", "trial_fire"),))
        assert any("fire at full colour" in said for said in wrong.contradictions)
        assert any("briefing" in said for said in programme(swap=(("brief", "slake"),)).contradictions)
        with pytest.raises(InputError, match="swap"):
            programme(swap=(("slake", "draught"),))

    def test_a_kiln_still_hot_is_not_drawn(self, programme, plan):
        warm = Programme(replace(programme(ready="kiln burnt").workshop, lit=SATURDAY), plan, NOTEBOOKS)
        assert any("it needs cold kiln" in said for said in warm.contradictions)

    def test_a_kiln_lit_on_the_day_is_watched_until_it_is_cold_and_never_drawn(self, programme, plan):
        people = tuple(f"learner {number}" for number in range(12))
        made = programme(ready="kiln lit", people=people)
        assert made.watch[0].start == made.lit
        assert made.watch[-1].end == made.drawn_from
        assert made.known["burn"].high == pytest.approx(plan.plain.forecast.hours.high, abs=1)
        assert not any("draw the kiln" in row.what for row in made.rows)
        assert all(len(turn.people) >= 2 for turn in made.watch)

    @pytest.mark.parametrize("stokers", [(), tuple(f"stoker of mine {number}" for number in range(6))])
    def test_learners_keep_every_row_by_hand_and_stokers_keep_the_kiln(self, programme, stokers):
        made = programme(ready="kiln lit", stokers=stokers)
        crew = {name for turn in made.watch for name in turn.people}
        assert crew == set(made.workshop.stokers)
        assert not crew & {*made.workshop.people, *made.workshop.teachers}
        for row in made.by_hand:
            assert set(row.people) == {*made.workshop.people, *made.workshop.teachers}
        assert made.contradictions == ()

    def test_stokers_whom_nobody_named_are_counted_and_told(self, programme):
        made = programme(ready="kiln lit")
        long = (made.drawn_from - made.lit).total_seconds()
        assert made.to_find == len(made.workshop.stokers) == people_to_watch.plain(long)
        assert f"find {made.to_find} who do nothing else" in made.remarks[0]
        for settled in (
            programme(ready="kiln lit", stokers=tuple("ABCDEF")),
            programme(),
            programme(ready="kiln burnt"),
        ):
            assert settled.to_find == 0
            assert not any("Nobody is named" in said for said in settled.remarks)

    def test_who_draws_is_to_be_settled_where_the_timetable_does_not(self, programme):
        lit = programme(ready="kiln lit")
        assert f"surely is on {lit.drawn_from:%A %d %B at %H:%M}" in lit.to_draw
        soonest = lit.lit + datetime.timedelta(seconds=lit.known["burn"].low + lit.known["cooling"].low)
        assert f"may be cold on {soonest:%A %d %B at %H:%M}" in lit.to_draw
        assert any("is to be settled" in said for said in lit.remarks)
        assert programme(ready="kiln burnt", lit=WARM).to_draw
        assert programme(ready="kiln burnt", leave_out=("draw_and_sort",)).to_draw
        for none in (
            programme(),
            programme(ready="kiln burnt"),
            programme(ready="kiln lit", leave_out=("the_firing",)),
        ):
            assert none.to_draw == ""

    def test_a_kiln_that_the_timetable_no_longer_lights_is_told_of(self, programme):
        made = programme(ready="kiln lit", leave_out=("the_firing",))
        assert (made.lit, made.watch, made.drawn_from) == (None, (), None)
        assert any("no row here lights it" in said for said in made.contradictions)
        assert not made.row("read_kiln")

    def test_too_few_to_watch_are_told_of(self, programme):
        made = programme(ready="kiln lit", stokers=("Ash", "Yew"))
        enough = people_to_watch.plain((made.drawn_from - made.lit).total_seconds())
        assert f"Watch at the kiln: 2 cannot keep it and sleep; {enough} people can. Name more stokers." in (
            made.contradictions
        )

    def test_a_wet_day_takes_fires_and_draw_and_what_hangs_on_them(self, programme):
        first, second = SATURDAY.date(), SATURDAY.date() + datetime.timedelta(days=1)
        for brought, more in ((BROUGHT[:2], {"break_trial"}), (BROUGHT, set())):
            made = programme(brought=brought)
            assert set(made.falls_out(first)) == {"light_trial", "trial_fire"} | more
            assert made.falls_out(second) == {}
        assert set(programme(ready="kiln lit").falls_out(first)) == {"light_kiln", "read_kiln"}
        assert "draw" in programme(ready="kiln burnt").falls_out(first)
        dry = programme(ready="kiln burnt", brought=("matured putty",)).falls_out(first)
        assert "for want of cold quicklime" in dry["slake"]

    def test_one_person_has_one_task_where_it_counts(self, programme):
        assert any("drives to hospital" in said for said in programme(driver="Juniper").contradictions)
        assert any("not among" in said for said in programme(driver="Nobody").contradictions)

    def test_a_third_day_is_told_of(self, programme):
        assert any("rows fill" in said for said in programme(end="15:00").contradictions)


class TestSafe:
    def test_everybody_has_a_place_in_every_row(self, programme):
        for ready, lit in (("trial only", BEFORE), ("kiln lit", BEFORE), ("kiln burnt", WARM)):
            made = programme(ready=ready, lit=lit, stokers=("Ash", "Yew") if ready == "trial only" else ())
            for row in made.by_hand:
                placed = [name for names in (*made.teams, *made.elsewhere(row).values()) for name in names]
                assert set(placed) >= set(made.workshop.everybody), str(row)

    def test_who_is_at_the_kiln_is_not_told_as_asleep(self, programme):
        made = programme(ready="kiln lit")
        for row in made.by_hand:
            on = {name for turn in made.watch if turn.start < row.end and row.start < turn.end for name in turn.people}
            assert not on & set(made.elsewhere(row)["off or asleep"])

    def test_stokers_are_awake_for_the_safety_card_before_the_kiln_is_lit(self, programme):
        made = programme(ready="kiln lit")
        assert made.elsewhere(made.row("brief"))["at hand"] == made.workshop.stokers

    def test_the_first_aider_is_awake_where_lime_is_slaked_or_it_is_told(self, programme):
        assert not any("first-aider" in said for said in programme(ready="kiln lit").contradictions)
        stokers = tuple(f"stoker {number}" for number in range(6))
        away = programme(ready="kiln lit", stokers=stokers, first_aider="stoker 5")
        assert any("the first-aider stoker 5 is off or asleep" in said for said in away.contradictions)

    def test_the_only_one_who_leads_does_not_drive(self, programme):
        said = programme(teachers=("Rowan",), first_aider="Alder").contradictions
        assert any("is the only one who leads" in one for one in said)
        assert not any("the only one" in one for one in programme().contradictions)

    def test_no_lime_is_slaked_before_the_lesson_on_it(self, programme):
        early = programme(swap=(("slake", "touch"),)).contradictions
        assert any("it needs the lesson slake" in said for said in early)

    @pytest.mark.parametrize("work", [work for work in handwork().values() if "slake" in work.what])
    def test_every_slaking_carries_its_cautions(self, work):
        assert {"boil_over", "quicklime_skin", "quicklime_eyes"} <= set(work.cautions)
        assert "the lesson slake" in work.needs

    def test_a_kiln_that_still_cools_is_watched_and_the_sum_is_told(self, programme, plan):
        made = programme(ready="kiln burnt", lit=WARM)
        assert made.watch[0].start == made.days[0][0].start
        assert made.watch[-1].end == made.drawn_from
        (said,) = (one for one in made.contradictions if "it needs cold kiln" in one)
        burn, cooling = (made.known[step].high / 3600 for step in ("burn", "cooling"))
        assert f"{burn:.0f} h at the longest and cools {cooling:.0f} h at the longest" in said
        assert any("is to be settled" in one for one in made.remarks)

    def test_beside_a_trial_fire_is_one_who_teaches_and_one_more(self, programme):
        for teachers in (("Rowan",), ("Rowan", "Juniper"), ("Rowan", "Juniper", "Ash")):
            made = programme(teachers=teachers, driver="", first_aider="")
            assert len(made.beside) == min(len(teachers), 2)
            assert all(pair[0] in teachers and len(pair) == fact("watch_people_least") for pair in made.beside)
            assert any("hearths burn" in said for said in made.remarks) == (len(teachers) == 1)
            assert any("who teach: 1" in said for said in made.remarks) == (len(teachers) == 1)

    def test_a_trial_fire_is_not_kept_overnight(self):
        light = at("16:30", 30, "light", gives="fire at full colour", hours=0.5)
        morning = SATURDAY + datetime.timedelta(days=1, hours=9)
        late = Row("stones in", morning, morning + datetime.timedelta(hours=1), needs=("fire at full colour",))
        (said,) = contradictions((light, late), {})
        assert "no fire is kept" in said

    def test_days_that_cannot_be_meant_are_told(self, programme, plan):
        made = programme(ready="kiln burnt", lit=SATURDAY + datetime.timedelta(days=1))
        assert any("after the first day" in said for said in made.contradictions)
        for today, past in ((SATURDAY.date(), False), (SATURDAY.date() + datetime.timedelta(days=1), True)):
            said = Programme(programme().workshop, plan, NOTEBOOKS, today).contradictions
            assert any("is past" in one for one in said) == past


def test_every_work_is_on_a_route_with_a_plan_for_rain():
    used = {work.name for legs in routes().values() for leg in legs for work in leg.by_hand}
    assert used == set(handwork())
    assert all(work.wet for work in handwork().values())


def test_what_is_brought_is_for_work_that_there_is():
    assert {work for item in (*tools(8), *materials(8)) for work in item.works} <= set(handwork())
    assert {item.brought for item in materials(8)} <= {"", *BROUGHT}


def test_titles_are_told_apart():
    for name in routes():
        route = laid_out(name, NOTEBOOKS)
        assert len(route.pieces) == sum(slot.title not in ("break", "lunch") for slot in route.slots)
