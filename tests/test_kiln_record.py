import datetime
import os
import re
import tomllib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from limekit import glossary
from limekit.errors import InputError, RecordError
from limekit.records import files, kiln_record, kiln_toml
from limekit.records.examples import example_path
from limekit.records.kiln_keys import EITHER, QUANTITIES, RESULTS, WHOLE, WORDS, known_keys, unit_of_key
from limekit.records.kiln_record import Record
from limekit.units import from_si, quantity

MINE = """\
# my own kiln, begun in May
[kiln]            # behind the barn
largest_stone = "80 mm"   # what the hammer makes

# the hillside is steep here
[garden]
beans = [1, 2, 3]

[stone]
calcium_carbonate = 0.93
colour_of_the_bed = "grey"
"""


@pytest.fixture(autouse=True)
def a_folder_of_its_own(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)


@pytest.fixture
def mine(tmp_path):
    path = tmp_path / "my_kiln.toml"
    path.write_text(MINE)
    return path


def faults(text):
    with open("bad.toml", "wb") as file:
        file.write(text if isinstance(text, bytes) else text.encode())
    with pytest.raises(RecordError) as caught:
        Record.load("bad.toml")
    return caught.value.faults


def test_every_key_is_in_the_glossary_and_in_the_example_which_says_it_is_invented():
    text = example_path(kiln_record.EXAMPLE).read_text(encoding="utf-8")
    assert "invented" in text.splitlines()[0]
    example = tomllib.loads(text)
    assert set(QUANTITIES) == set(WORDS) == set(example)
    for section, names in QUANTITIES.items():
        assert set(names) <= set(glossary.entries())
        assert set(example[section]) <= set(known_keys(section)) - set(RESULTS.get(section, ()))


def test_without_a_file_the_invented_example_stands_in_and_says_so():
    record = Record.load()
    assert record.is_example
    assert "invented example" in repr(record)
    assert "(yours)" not in str(record)
    for section, names in QUANTITIES.items():
        for name in names:
            if name not in record[section]:
                with pytest.raises(InputError, match="not decided yet"):
                    record.quantity(f"{section}.{name}")
                continue
            low, high = (
                quantity(end, glossary.entry(name).unit)
                for end in (glossary.entry(name).low, glossary.entry(name).high)
            )
            assert low <= record.quantity(f"{section}.{name}") <= high
    assert not os.path.exists("my_kiln.toml")


def test_a_file_is_read_over_the_example(mine):
    record = Record.load(mine)
    assert record["stone"]["calcium_carbonate"] == 0.93
    assert record["stone"]["stone_moisture"] == 0.005
    assert record.quantity("kiln.largest_stone").to("m").magnitude == pytest.approx(0.08)
    assert record.is_own("kiln.largest_stone")
    assert not record.is_own("kiln.smallest_stone")
    assert record.unknown == ("garden", "stone.colour_of_the_bed")
    assert record["garden"]["beans"] == [1, 2, 3]
    assert re.search(r"2 of \d+ answers yours", repr(record))
    assert not record.is_example
    assert list(record) == list(QUANTITIES)


def test_what_is_read_cannot_be_changed_past_keep(mine):
    with pytest.raises(TypeError):
        Record.load(mine)["stone"]["calcium_carbonate"] = 0.5


def test_comments_and_unknown_keys_outlive_a_save(mine):
    Record.load(mine).keep("kiln", kiln_height="2 m", largest_stone="70 mm").keep("lime", putty_volume="300 L").save()
    saved = mine.read_text()
    for line in MINE.splitlines():
        assert line.replace("80 mm", "70 mm") in saved.splitlines()
    assert saved.index("kiln_height") < saved.index("# the hillside") < saved.index("[garden]")
    again = Record.load(mine)
    assert again.quantity("kiln.kiln_height") == quantity("2 m")
    assert again["garden"]["beans"] == [1, 2, 3]


@pytest.mark.parametrize(
    "text",
    [
        'kiln = {largest_stone = "80 mm"}\n',
        'kiln.largest_stone = "80 mm"\n[garden]\n',
        '[kiln]\nlargest_stone = "80 mm"',
        '[kiln]\r\nlargest_stone = "80 mm"\r\n# last\r\n',
        '[kiln.more]\nx = 1\n[garden]\n[kiln]\nlargest_stone = "80 mm"\n',
        "[kiln]\n[garden]\n[kiln.more]\nx = 1 # kept\n",
        "\ufeff[kiln]\n",
        "",
    ],
)
def test_any_shape_of_file_is_added_to_or_refused_whole(tmp_path, text):
    path = tmp_path / "my_kiln.toml"
    path.write_bytes(text.encode())
    before = tomllib.loads(text.lstrip("\ufeff"))
    Record.load(path).keep("kiln", smallest_stone="40 mm").keep("fuel", fuel_moisture=0.25).save()
    after = tomllib.loads(path.read_text())
    assert after["kiln"].pop("smallest_stone") == "40 mm"
    assert after.pop("fuel") == {"fuel_moisture": 0.25}
    assert after == {"kiln": {}, **before}


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.data())
def test_what_is_kept_is_read_back_from_any_unit(tmp_path, data):
    section = data.draw(st.sampled_from(list(QUANTITIES)))
    name = data.draw(st.sampled_from(QUANTITIES[section]))
    entry, unit = glossary.entry(name), unit_of_key(name)
    whole = st.integers(int(entry.low), int(entry.high)) if name in WHOLE else st.floats(entry.low, entry.high)
    value = data.draw(whole)
    kept = from_si(value, unit, entry.unit)
    if unit.kind == "amount" and entry.unit:
        kept = data.draw(st.sampled_from([kept, kept.to_base_units(), f"{value!r} {entry.unit}"]))
    path = tmp_path / "kept.toml"
    Record(path).keep(section, **{name: kept}).save(even_if_changed=True)
    read = Record.load(path).quantity(f"{section}.{name}").magnitude
    assert read == pytest.approx(value, rel=1e-11, abs=1e-11 * max(1, abs(value)))


def test_a_quantity_is_written_so_that_a_person_can_read_it():
    record = Record.load().keep("kiln", largest_stone=quantity("8 cm"), smallest_stone="1.5 inch")
    record.keep("burn", gas_temperature=quantity(1273.15, "K"), conversion="95 %").keep("fuel", excess_air=0.6)
    assert record["kiln"]["largest_stone"] == "80 mm"
    assert record["kiln"]["smallest_stone"] == "1.5 inch"
    assert record["burn"]["gas_temperature"] == "1000 degC"
    assert record["burn"]["conversion"] == "95 %"
    assert record["fuel"]["excess_air"] == 0.6


@pytest.mark.parametrize(
    ("section", "name", "value"),
    [
        ("kiln", "largest_stone", 80),
        ("kiln", "largest_stone", "80"),
        ("kiln", "largest_stone", "80 kg"),
        ("kiln", "largest_stone", "8 km"),
        ("kiln", "largest_stone", None),
        ("kiln", "largest_stone", True),
        ("kiln", "largest_stone", [80, 90]),
        ("kiln", "largest_stone", quantity([80.0, 90.0], "mm")),
        ("kiln", "kind", 3),
        ("kiln", "kind", ""),
        ("kiln", "kind", "fl\nare"),
        ("kiln", "kind", "\udcff"),
        ("stone", "calcium_carbonate", float("nan")),
        ("stone", "calcium_carbonate", 10**400),
        ("stone", "calcium_carbonat", 0.9),
        ("stone", "largest_stone", "80 mm"),
        ("stones", "calcium_carbonate", 0.9),
    ],
)
def test_what_is_refused_changes_nothing(mine, section, name, value):
    record = Record.load(mine)
    before = str(record)
    with pytest.raises(InputError):
        record.keep(section, **{"note": "fine", name: value})
    assert str(record) == before
    record.keep("kiln", kind="flare").save()
    assert "fine" not in mine.read_text()


@pytest.mark.parametrize(
    "key", ["kiln", "kiln.", "", ".", "kiln.largest", "largest_stone", "kiln.largest_stone.mm", None]
)
def test_an_unknown_key_is_answered_with_those_there_are(key):
    with pytest.raises(InputError, match="Wanted: one of"):
        Record.load().quantity(key)


def test_words_are_no_quantity_and_a_missing_section_is_named():
    with pytest.raises(InputError, match="which is words"):
        Record.load().quantity("kiln.kind")
    with pytest.raises(InputError) as caught:
        Record.load()["kilns"]
    assert caught.value.example == 'record["kiln"]'


def test_every_fault_in_a_file_is_named_by_section_and_key_at_once():
    found = faults(
        """
        largest_stone = "80 mm"
        fuel = 3
        [kiln]
        kiln_diametre = "1 m"
        kiln_height = "2 kg"
        kind = 5
        [stone]
        calcium_carbonate = 95
        stone_moisture = [1]
        density = "2 C"
        [lyme]
        [trail]
        """
    )
    assert len(found) == 9
    for words in (
        'largest_stone: it stands under no section; put it under "[kiln]"',
        "[fuel]: got fuel = 3",
        '[kiln] kiln_diametre: no such key; did you mean "kiln_diameter"?',
        '[kiln] kiln_height: got "2 kg"',
        "[kiln] kind: got 5",
        '[stone] calcium_carbonate: got "95"; wanted 0 to 1',
        "[stone] stone_moisture: got [1]; wanted one quantity",
        '[stone] density: got the unit "C"',
        '[trail]: no such section; did you mean "[trial]"?',
    ):
        assert any(line.startswith(words) for line in found), words


@pytest.mark.parametrize(
    "text",
    [
        "[kiln\n",
        "largest_stone = 80 mm",
        "[kiln]\n[kiln]\n",
        b"\xff\xfe\x00",
        "a = " + "[" * 3000 + "]" * 3000,
        "a = " + "9" * 5000,
        "a = 1979-13-45",
        "[kiln]\na = 1\na = 2",
    ],
)
def test_what_is_no_toml_is_refused_in_words(text):
    (found,) = faults(text)
    assert found.startswith(("it is not", "it could not be read safely"))


def test_a_folder_or_a_huge_file_is_refused(tmp_path):
    with pytest.raises(RecordError, match="it is a folder"):
        Record.load(tmp_path)
    assert "longer than" in faults("#" * (kiln_record.MOST_BYTES + 1))[0]
    (tmp_path / "link.toml").symlink_to(tmp_path / "gone.toml")
    with pytest.raises(RecordError, match="no such file"):
        Record.load(tmp_path / "link.toml")


@settings(max_examples=80, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(
    st.one_of(
        st.binary(max_size=200),
        st.lists(
            st.tuples(
                st.sampled_from(
                    ["", *[f"[{section}]\n" for section in QUANTITIES], "[x]\n", "[[kiln]]\n", "[kiln.x]\n"]
                ),
                st.sampled_from(
                    [*known_keys("kiln"), *RESULTS["kiln"], "calcium_carbonate", "largest_ston", "helpers"]
                ),
                st.sampled_from(
                    [
                        '"80 mm"',
                        "0.5",
                        "nan",
                        "inf",
                        "-1",
                        '"9**9**9 m"',
                        "1979-05-27",
                        "{a=1}",
                        '"é"',
                        "'''\n'''",
                        "true",
                    ]
                ),
            ).map(lambda parts: f"{parts[0]}{parts[1]} = {parts[2]}\n"),
            max_size=5,
        ).map(lambda lines: "".join(lines).encode()),
    )
)
def test_any_bytes_are_read_or_refused_and_never_changed(tmp_path, found):
    path = tmp_path / "any.toml"
    path.write_bytes(found)
    try:
        record = Record.load(path)
    except RecordError:
        record = None
    assert path.read_bytes() == found
    if record and not record.is_example:
        try:
            record.keep("lime", putty_volume="300 L").save()
        except InputError:
            assert path.read_bytes() == found
        else:
            before, after = tomllib.loads(found.decode("utf-8-sig")), tomllib.loads(path.read_text())
            before.setdefault("lime", {})["putty_volume"] = "300 L"
            for section, name in [("kiln", "stone"), *((one, key) for one in RESULTS for key in RESULTS[one])]:
                if isinstance(before.get(section), dict):
                    before[section].pop(name, None)
            assert kiln_toml.same({"kiln": {}, **after}, {"kiln": {}, **before})
    for left in tmp_path.glob("any.toml.*"):
        left.unlink()


@pytest.mark.parametrize("said", ["", "[kiln]\nlargest_stone = '80 mm'\n", "[kiln\n"])
def test_what_would_not_read_back_the_same_is_not_written(mine, monkeypatch, said):
    monkeypatch.setattr(kiln_record.tomlkit, "dumps", lambda _: said)
    with pytest.raises(InputError, match="cannot be written back unchanged"):
        Record.load(mine).keep("kiln", kiln_height="2 m").save()
    assert mine.read_text() == MINE


def test_saving_keeps_the_last_five_versions(mine):
    record = Record.load(mine)
    for height in range(1, 9):
        record.keep("kiln", kiln_height=f"{height} m").save()
    heights = [
        tomllib.loads((mine.parent / f"my_kiln.toml.{number}").read_text())["kiln"]["kiln_height"]
        for number in range(1, 6)
    ]
    assert heights == ["7 m", "6 m", "5 m", "4 m", "3 m"]
    assert len(list(mine.parent.iterdir())) == 1 + files.PREVIOUS_KEPT


def test_the_first_version_is_kept_to_the_letter(mine):
    Record.load(mine).keep("kiln", kiln_height="2 m").save()
    assert (mine.parent / "my_kiln.toml.1").read_text() == MINE


def test_saving_what_has_not_changed_keeps_no_copy(mine):
    Record.load(mine).keep("kiln", largest_stone="80 mm").save()
    assert mine.read_text() == MINE
    assert list(mine.parent.iterdir()) == [mine]


@pytest.mark.parametrize("nth", range(1, 8))
def test_a_failure_at_any_step_of_saving_leaves_the_old_file_whole(mine, monkeypatch, nth):
    record = Record.load(mine)
    for height in range(1, 8):
        record.keep("kiln", kiln_height=f"{height} m").save()
    old, calls, replace = mine.read_bytes(), [], os.replace

    def failing(*paths):
        calls.append(paths)
        if len(calls) == nth:
            raise OSError("the disk is full")
        replace(*paths)

    monkeypatch.setattr(os, "replace", failing)
    record.keep("kiln", kiln_height="9 m")
    if nth <= 1 + files.PREVIOUS_KEPT:
        with pytest.raises(InputError, match="the disk is full"):
            record.save()
        assert mine.read_bytes() == old
        kept = [path.name for path in mine.parent.iterdir()]
        assert not [name for name in kept if name.endswith((".new", ".old"))]
        assert "my_kiln.toml.1" in kept or "my_kiln.toml.2" in kept
        monkeypatch.undo()
        record.save()
        assert Record.load(mine).quantity("kiln.kiln_height") == quantity("9 m")
    else:
        record.save()


def test_a_disk_that_fails_while_writing_leaves_the_old_file_whole(mine, monkeypatch):
    record = Record.load(mine).keep("kiln", kiln_height="2 m")

    def failing(_):
        raise OSError("no space left")

    monkeypatch.setattr(os, "fsync", failing)
    with pytest.raises(InputError, match="no space left"):
        record.save()
    assert mine.read_text() == MINE
    assert list(mine.parent.iterdir()) == [mine]


@pytest.mark.parametrize("place", ["none/my.toml", "my_kiln.toml/my.toml", "."])
def test_a_place_that_cannot_be_written_to_is_named(mine, place):
    with pytest.raises(InputError, match="saving"):
        Record.load(mine).keep("kiln", kiln_height="2 m").save(mine.parent / place)
    assert mine.read_text() == MINE


def test_a_file_changed_since_it_was_read_is_not_written_over_unless_told(mine):
    record = Record.load(mine).keep("kiln", kiln_height="2 m")
    mine.write_text(MINE + "# and a line by another window\n")
    with pytest.raises(InputError, match="changed since") as caught:
        record.save()
    assert "another window" in mine.read_text()
    assert "even_if_changed" in caught.value.example
    record.save(even_if_changed=True)
    assert "another window" not in mine.read_text()
    assert "another window" in (mine.parent / "my_kiln.toml.1").read_text()


def test_a_file_that_came_to_be_since_is_not_written_over():
    record = Record.load().keep("kiln", kiln_height="2 m")
    with open("my_kiln.toml", "w") as file:
        file.write(MINE)
    with pytest.raises(InputError, match="changed since, or another one"):
        record.save()
    assert Path("my_kiln.toml").read_text() == MINE


def test_another_file_is_not_written_over_unless_told(mine):
    other = mine.parent / "other.toml"
    other.write_text("[kiln]\n")
    record = Record.load(mine).keep("kiln", kiln_height="2 m")
    with pytest.raises(InputError, match="another one"):
        record.save(other)
    record.save(other, even_if_changed=True)
    assert record.path == other
    assert mine.read_text() == MINE


def test_a_file_it_could_not_read_is_never_written_over(mine):
    record = Record.load(mine).keep("kiln", kiln_height="2 m")
    mine.write_text("[kiln\nhalf an edit")
    with pytest.raises(InputError, match="a file with a fault"):
        record.save(even_if_changed=True)
    assert mine.read_text() == "[kiln\nhalf an edit"
    assert list(mine.parent.iterdir()) == [mine]


def test_a_file_that_was_deleted_is_written_afresh(mine):
    record = Record.load(mine).keep("kiln", kiln_height="2 m")
    mine.unlink()
    record.save()
    assert Record.load(mine).is_own("kiln.kiln_height")


def test_the_invented_example_is_neither_copied_nor_written_over():
    shipped = example_path(kiln_record.EXAMPLE)
    before = shipped.read_bytes()
    with pytest.raises(InputError, match="nothing of yours"):
        Record.load().save()
    with pytest.raises(InputError, match="the kit's own example"):
        Record.load(shipped).keep("kiln", kiln_height="2 m").save(even_if_changed=True)
    Record.load().keep("kiln", kiln_height="2 m").save()
    assert tomllib.loads(Path("my_kiln.toml").read_text()) == {"kiln": {"kiln_height": "2 m"}}
    assert shipped.read_bytes() == before


def test_a_link_is_written_through_and_the_file_keeps_its_mode(mine):
    mine.chmod(0o640)
    link = mine.parent / "link.toml"
    link.symlink_to(mine)
    Record.load(link).keep("kiln", kiln_height="2 m").save()
    assert link.is_symlink()
    assert "kiln_height" in mine.read_text()
    assert mine.stat().st_mode & 0o777 == 0o640


def test_the_home_folder_is_found(mine, monkeypatch):
    monkeypatch.setenv("HOME", str(mine.parent))
    assert Record.load("~/my_kiln.toml").is_own("kiln.largest_stone")
    with pytest.raises(InputError, match="path of a file"):
        Record.load(None)


def test_an_older_record_s_names_are_read_and_written_back_by_today_s(tmp_path):
    path = tmp_path / "my_kiln.toml"
    path.write_text(
        "[stone]\nmoisture = 0.03 # by the stove\ncalcium_carbonate = 0.9\n\n[kiln] # mine\nchimney_height = '1 m'\n"
    )
    record = Record.load(path)
    assert record.quantity("stone.stone_moisture").magnitude == 0.03
    assert record.is_own("stone.stone_moisture")
    assert record.unknown == ()
    record.keep("kiln", largest_stone="90 mm").save()
    assert "stone_moisture = 0.03 # by the stove" in path.read_text()


def test_where_an_old_name_and_today_s_both_stand_today_s_counts_and_nothing_is_lost(tmp_path):
    path = tmp_path / "my_kiln.toml"
    path.write_text("[stone]\nmoisture = 0.03\nstone_moisture = 0.04\n")
    record = Record.load(path)
    assert record.quantity("stone.stone_moisture").magnitude == 0.04
    record.keep("kiln", largest_stone="90 mm").save()
    assert "\nmoisture = 0.03" in path.read_text()


OLD = """\
[kiln] # behind the barn
kiln_efficiency = 0.2 # as fired
efficiency = 0.31
largest_stone = "90 mm"

[burn]
burning_time = "9 h"

[fuel]
fuel_mass = "400 kg"

[trial]
gas_temperature = "980 degC"
"""


def test_results_of_an_older_record_are_read_told_and_left_out_at_the_next_save(mine):
    mine.write_text(OLD)
    record = Record.load(mine)
    assert record.former_results == {
        "kiln.efficiency": 0.31,
        "kiln.kiln_efficiency": 0.2,
        "burn.burning_time": "9 h",
        "fuel.fuel_mass": "400 kg",
        "trial.gas_temperature": "980 degC",
    }
    assert record.unknown == ()
    assert not record.is_own("kiln.stone")
    for key, value in record.former_results.items():
        assert any(key in said and str(value) in said for said in record.remarks)
        assert f"{key} = {value}" in str(record)
    assert mine.read_text() == OLD, "reading changes nothing"
    record.keep("kiln", chimney_height="1 m").save()
    saved = mine.read_text()
    assert tomllib.loads(saved)["kiln"] == {"largest_stone": "90 mm", "chimney_height": "1 m"}
    assert saved.startswith("[kiln] # behind the barn")
    assert not any(name in saved for name in ("efficiency", "burning_time", "fuel_mass"))
    assert (mine.parent / "my_kiln.toml.1").read_text() == OLD
    assert Record.load(mine).former_results == {}


@pytest.mark.parametrize("section", list(RESULTS))
def test_a_result_can_be_neither_kept_nor_asked_for(section):
    for name in RESULTS[section]:
        with pytest.raises(InputError, match="figure of the kiln record"):
            Record.load().keep(section, **{name: "1 h"})


VALUES = {
    "putty_volume": "300 L",
    "stone": "500 kg",
    "fire_temperature": "1050 degC",
    "excess_air": 0.5,
    "height_to_diameter": 1.3,
    "kiln_height": "1.2 m",
    "kiln_diameter": "0.9 m",
}
HOMES = {name: section for section, names in QUANTITIES.items() for name in names}


@pytest.mark.parametrize(("first", "then"), [*EITHER, *(pair[::-1] for pair in EITHER)])
def test_of_two_answers_to_one_question_the_later_takes_the_place_of_the_earlier(mine, first, then):
    Record.load(mine).keep(HOMES[first], **{first: VALUES[first]}).save()
    record = Record.load(mine).keep(HOMES[then], **{then: VALUES[then]})
    record.save()
    for one in (record, Record.load(mine)):
        assert one.is_own(f"{HOMES[then]}.{then}")
        assert not one.is_own(f"{HOMES[first]}.{first}")
    assert Record.load(mine)["garden"]["beans"] == [1, 2, 3]


def test_a_person_s_own_section_is_not_searched_for_a_second_answer(mine):
    mine.write_text("[garden]\nstone = 'the big one'\n\n[kiln]\nstone = '300 kg'\n")
    Record.load(mine).keep("lime", putty_volume="300 L").save()
    assert tomllib.loads(mine.read_text()) == {
        "garden": {"stone": "the big one"},
        "kiln": {},
        "lime": {"putty_volume": "300 L"},
    }


def test_a_key_in_the_wrong_section_is_sent_to_its_own():
    found = faults("[stone]\nlargest_stone = '80 mm'\n[kiln]\nhelpers = 3\n[fuel]\nfire_temperature = '1000 degC'\n")
    assert [line.rpartition("put it under ")[2] for line in found] == ['"[kiln]"', '"[people]"', '"[burn]"']


def test_a_key_that_is_not_known_is_told_with_the_nearest_that_is(mine):
    mine.write_text("[kiln]\nheight_of_the_flue = '2 m'\n[lyme]\nputty = '300 L'\n")
    record = Record.load(mine)
    told = "\n".join(record.remarks)
    for key in record.unknown:
        assert f'"{key}" is not known' in told
    assert 'the nearest known is "kiln.height_to_diameter"' in told or 'the nearest known is "kiln.kiln_height"' in told
    assert told in str(record)


@given(st.dates())
def test_any_day_of_the_calendar_can_be_wanted_and_is_written_year_first(day):
    for given_ in (day, str(day)):
        kept = Record(Path("any.toml")).keep("lime", wanted_on=given_)["lime"]["wanted_on"]
        assert kept == day.isoformat()


@given(st.one_of(st.text(max_size=12), st.integers(), st.floats(), st.none(), st.just("2028-02-30")))
def test_what_is_no_day_is_refused(given_):
    try:
        datetime.date.fromisoformat(given_)
    except (TypeError, ValueError):
        with pytest.raises(InputError, match="a date, year first"):
            Record(Path("any.toml")).keep("lime", wanted_on=given_)


def test_a_date_stands_in_a_file_with_or_without_quotation_marks(mine):
    for text in ("wanted_on = 2028-06-03", 'wanted_on = "2028-06-03"'):
        mine.write_text(f"[lime]\n{text}\n")
        assert str(Record.load(mine)["lime"]["wanted_on"]) == "2028-06-03"
        Record.load(mine).keep("kiln", largest_stone="70 mm").save()
        assert str(Record.load(mine)["lime"]["wanted_on"]) == "2028-06-03"


@pytest.mark.parametrize("given_", [2.5, -1, "two", 1e9, True, "3 people"])
def test_helpers_are_whole_and_few_enough_to_be_people(given_):
    with pytest.raises(InputError, match=r"\[people\] helpers"):
        Record.load().keep("people", helpers=given_)
