import csv
import io
import os

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from limekit.errors import InputError, RecordError
from limekit.facts import fact
from limekit.records import table_file
from limekit.records.examples import example_path
from limekit.records.trial_sheet import COLUMNS, read_trial, trial_table
from limekit.stone.assessment import assess_trial
from limekit.stone.contradiction import compare_trial
from limekit.stone.glow import COLOURS
from limekit.stone.trial import SLAKING, Trial
from limekit.units import quantity, to_si

HEADER = "piece,mass_before [g],largest_size [mm],time_in_heat [min],mass_after [g],core_size [mm],slaking"
in_a_folder = settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])


@pytest.fixture
def sheet(tmp_path):
    def write(text, name="trial.csv", encoding="utf-8"):
        path = tmp_path / name
        path.write_bytes(text if isinstance(text, bytes) else text.encode(encoding))
        return path

    return write


def read_or_refuse(path):
    try:
        return isinstance(read_trial(path), Trial)
    except RecordError as fault:
        return bool(fault.faults)


def faults(path):
    with pytest.raises(RecordError) as caught:
        read_trial(path)
    return caught.value.faults


def test_the_shipped_example_reads_and_its_wet_stone_is_found():
    trial = read_trial(example_path("trial_example.csv"))
    found = compare_trial(trial)
    assert [one.name for one in found if one.agree is False] == ["9"]
    assert found[8].cause == "wet stone"
    assert sum(one.agree is True for one in found) >= 8
    assert "invented" in example_path("trial_example.csv").read_text().splitlines()[0]


def test_an_example_that_is_not_there_is_answered_with_one_that_is():
    with pytest.raises(InputError) as caught:
        example_path("../trial_exampel.csv")
    assert caught.value.example == 'example_path("trial_example.csv")'


def test_what_was_assumed_of_the_stone_is_said(sheet):
    path = sheet(f"{HEADER}\n1,400,80,60,300,50,partly\n")
    trial = read_trial(path)
    assert trial.stone.calcium_carbonate == fact("calcium_carbonate")
    assert [remark.split()[0] for remark in trial.remarks] == ["Calcium", "Moisture", "The"]
    given_stone = read_trial(path, calcium_carbonate="95 %", magnesium_carbonate=0.01, stone_moisture=0.02)
    assert given_stone.remarks == ()
    assert given_stone.stone.calcium_carbonate == pytest.approx(0.95)
    with pytest.raises(InputError, match="calcium_carbonate"):
        read_trial(path, calcium_carbonate=95)


UNITS = {
    "mass_before": ("g", "kg", "lb", "oz"),
    "mass_after": ("g", "kg", "lb"),
    "largest_size": ("mm", "cm", "m", "inch"),
    "middle_size": ("mm", "cm"),
    "core_size": ("mm", "inch", "cm"),
    "time_in_heat": ("min", "h", "s", "hours"),
    "gas_temperature": ("degC", "degF", "K"),
}
SI = {column.name: column.unit.si for column in COLUMNS if column.unit}


@st.composite
def pieces(draw):
    size = draw(st.floats(0.02, 0.3))
    before = draw(st.floats(0.05, 0.9)) * 2700 * size**3
    return {
        "mass_before": before,
        "mass_after": before * draw(st.floats(0.5, 1)),
        "largest_size": size,
        "middle_size": size * draw(st.floats(0.3, 1)),
        "core_size": size * draw(st.floats(0, 1)),
        "time_in_heat": draw(st.floats(600, 1e5)),
        "gas_temperature": draw(st.floats(1000, 1500)),
        "glow": draw(st.sampled_from(COLOURS)),
        "slaking": draw(st.sampled_from(SLAKING)),
        "note": draw(
            st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), max_size=20).map("seen_{}".format)
        ),
    }


@in_a_folder
@given(
    st.lists(pieces(), min_size=1, max_size=4),
    st.fixed_dictionaries({name: st.sampled_from(units) for name, units in UNITS.items()}),
    st.sampled_from(",;\t"),
    st.sampled_from(["utf-8", "utf-8-sig", "utf-16"]),
    st.booleans(),
    st.booleans(),
)
def test_what_is_written_in_any_unit_is_read_back(tmp_path, made, units, delimiter, encoding, unit_in_cell, comma):
    comma = comma and delimiter != ","

    def cell(name, value):
        if name not in units:
            return value
        number = f"{quantity(value, SI[name]).to(units[name]).magnitude:.12f}"
        number = number.replace(".", ",") if comma else number
        return f"{number} {units[name]}" if unit_in_cell else number

    text = io.StringIO()
    writer = csv.writer(text, delimiter=delimiter)
    writer.writerow(["piece", *(f"{name} [{units[name]}]" if name in units else name for name in made[0])])
    for number, piece in enumerate(made, start=1):
        writer.writerow([number, *(cell(name, value) for name, value in piece.items())])
    path = tmp_path / "trial.csv"
    path.write_bytes(text.getvalue().encode(encoding))
    trial = read_trial(path)
    assert len(trial.pieces) == len(made)
    assert any("decimal commas" in remark for remark in trial.remarks) == comma
    for read, piece in zip(trial.pieces, made, strict=True):
        for name, value in piece.items():
            assert getattr(read, name) == (pytest.approx(value, rel=1e-6, abs=1e-9) if name in units else value)


def test_five_faults_give_five_messages_and_no_result(sheet):
    path = sheet(
        "# our stove, in May\n"
        "piece,mass_before [g],largest_size [mm],time_in_heat [min],mass_after [g],core_size [mm],glow,slakng\n"
        "1,400,80,60,300,50,cherry,\n"
        "2,four hundred,80,60,300,50,cherry,\n"
        "\n"
        "3,400,80,60,300,95,cherry,\n"
        "4,400,80,60,500,50,cherry,\n"
        "4,400,80,60,300,50,cheery,\n"
    )
    found = faults(path)
    assert len(found) == 6
    for line, words in zip(
        found,
        [
            'row 2, column "slakng": no such column; did you mean "slaking"?',
            'row 4, column mass_before: got "four hundred"',
            "row 6, column core_size: more than largest_size",
            "row 7, column mass_after: more than mass_before",
            'row 8, column glow: got "cheery"; wanted one of just visible',
            'row 8, column piece: "4" is the name of row 7 too',
        ],
        strict=True,
    ):
        assert line.startswith(words)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("1,400 ton,80,60,300,50,partly", 'row 2, column mass_before: got the unit "ton"'),
        ("1,400 gr,80,60,300,50,partly", 'the unit "gr", which means more than one thing'),
        ("1,400 mm,80,60,300,50,partly", "converts to kg"),
        ("1,400,8000,60,300,50,partly", "row 2, column largest_size: got"),
        ("1,400,-80,60,300,50,partly", "row 2, column largest_size: got"),
        ("1,400,80,60,300,50,prtly", 'one of through, partly, not, not tried, for example "partly"'),
        ("1,400,,60,300,50,partly", "largest_size: it is empty"),
        ("1,400,80,,300,50,partly", "time_in_heat: it is empty"),
        (",400,80,60,300,50,partly", "piece: it is empty"),
        ("1,400,80,60,,,not tried", "nothing says how far it burnt"),
        ("1,400,80,60,,,", "nothing says how far it burnt"),
        ('1,"1,200",80,60,300,50,partly', "comma inside a number"),
        ("1,400,80,60,300,50,partly,5", '"5" stands under no column'),
        ('1,400,80,60,300,50,"partly', "a quotation mark that is not closed"),
        ("1,40000,80,60,30000,50,partly", "is a unit wrong?"),
        ("1,0.6,80,60,0.5,50,partly", "is a unit wrong?"),
        ("1,nan,80,60,300,50,partly", 'got "nan"'),
        ("#1,400,80,60,300,50,partly\n2,400,80,60,300,50,partly", "row 2: it begins with #"),
    ],
)
def test_each_fault_is_named_by_row_and_column(sheet, row, words):
    (found,) = faults(sheet(f"{HEADER}\n{row}\n"))
    assert words in found


@pytest.mark.parametrize(
    ("header", "words"),
    [
        ("piece,largest_size [mm],slaking", "time_in_heat: it is missing"),
        ("piece,largest_size [mm],time_in_heet [min],slaking", 'did you mean "time_in_heat [min]"?'),
        ("piece,largest_size [C],time_in_heat [min],slaking", 'the unit "C", which means more than one thing'),
        ("piece,largest_size [kg],time_in_heat [min],slaking", "converts to m"),
        ("piece,largest_size [bananas],time_in_heat [min],slaking", "not known"),
        ("piece,largest_size,time_in_heat [min],slaking", 'it names no unit; write "largest_size [mm]"'),
        ("piece,largest_size [mm],time_in_heat [min],slaking,slaking", "slaking: it is there twice"),
        ("piece|largest_size [mm]|time_in_heat [min]|slaking", "one column only"),
    ],
)
def test_a_header_is_put_right_once_not_row_by_row(sheet, header, words):
    found = faults(sheet(f"{header}\n" + "".join(f"{number},80,60,partly\n" for number in range(1, 6))))
    assert sum(words in line for line in found) == 1
    assert sum(line.startswith("row 1") for line in found) == 1


def test_a_fault_without_rows_or_text_says_so(sheet, tmp_path):
    assert faults(sheet(f"{HEADER}\n# nothing yet\n,,,\n")) == ("it has no rows under the one that names the columns",)
    assert faults(sheet("# only this\n\n")) == ("it has no row that names the columns",)
    assert faults(sheet("")) == ("it is empty",)
    assert faults(sheet(" \n\ufeff\n".encode("utf-8-sig")))
    assert "not a text file" in faults(sheet(bytes(range(256))))[0]
    assert "save it as CSV" in faults(sheet(b"PK\x03\x04 and so on"))[0]
    assert faults(tmp_path) == ("it is a folder",)
    assert "no such file" in faults(tmp_path / "none.csv")[0]


@pytest.mark.skipif(not os.path.exists("/dev/zero"), reason="wants a device file")
def test_a_device_is_not_read():
    assert faults("/dev/zero") == ("it is not an ordinary file",)


def test_a_huge_file_is_refused(sheet):
    assert "longer than" in faults(sheet(b"x" * (table_file.MOST_BYTES + 1)))[0]
    rows = "".join(f"{number},,80,60,,,partly\n" for number in range(table_file.MOST_ROWS + 1))
    assert faults(sheet(f"{HEADER}\n{rows}")) == ("it has more than 2000 rows, too many for a record kept by hand",)


def test_a_long_sheet_is_converted_together_and_not_number_by_number(sheet, monkeypatch):
    asked = []
    monkeypatch.setattr(table_file, "to_si", lambda given, *rest: asked.append(given) or to_si(given, *rest))
    rows = "".join(f"{number},400,80,60,300,50,partly\n" for number in range(1990))
    trial = read_trial(sheet(f"{HEADER}\n{rows}2001,400,8 cm,60,300,50,partly\n"))
    assert len(trial.pieces) == 1991
    assert {piece.largest_size for piece in trial.pieces} == {0.08}
    assert len(asked) < 15


def test_of_very_many_faults_the_first_twenty_are_shown_and_all_are_counted(sheet):
    rows = "".join(f"{number},much,80,60 kg,9e9,50,prtly\n" for number in range(1990))
    with pytest.raises(RecordError) as caught:
        read_trial(sheet(f"{HEADER}\n{rows}"))
    assert len(caught.value.faults) == 4 * 1990
    lines = str(caught.value).splitlines()
    assert "7960 thing(s) to put right" in lines[0]
    assert (len(lines), lines[-1].strip()) == (22, "and 7940 more")


def test_faults_stand_in_the_order_of_rows_and_in_a_row_of_columns(sheet):
    text = f"{HEADER}\n1,400,80,60,300,50,prtly\n2,much,8000,60,300,50,partly\n3,400,80,x,300,50,partly\n"
    assert [fault.split(":")[0] for fault in faults(sheet(text))] == [
        "row 2, column slaking",
        "row 3, column mass_before",
        "row 3, column largest_size",
        "row 4, column time_in_heat",
    ]


def test_a_piece_that_lost_more_than_any_stone_can_is_named_by_its_row(sheet):
    (found,) = faults(sheet(f"{HEADER}\n1,400,80,60,300,50,partly\n2,400,80,60,40,50,partly\n"))
    assert found.startswith("row 3, column mass_after: 90 % lost")


def test_a_cell_of_great_length_is_refused_for_its_length(sheet):
    assert faults(sheet(f"{HEADER}\n{'x' * 501},400,80,60,300,50,partly\n")) == (
        'row 2, column piece: got 501 characters; wanted 500 at most, for example "..."',
    )


@pytest.mark.parametrize("given", [None, 5, ["trial.csv"], "\0", "\ud800"])
def test_what_is_no_path_is_refused(given):
    with pytest.raises(InputError, match="path of a file"):
        read_trial(given)


def test_the_home_folder_is_found(sheet, monkeypatch):
    path = sheet(f"{HEADER}\n1,400,80,60,300,50,partly\n")
    monkeypatch.setenv("HOME", str(path.parent))
    assert len(read_trial("~/trial.csv").pieces) == 1


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_every_spreadsheets_line_ends_and_code_pages_are_read(sheet, end, encoding):
    text = end.join(
        [
            "sep=;",
            "# Größe in mm;;;",
            "Piece;Largest size (mm);TIME IN HEAT [h];Slaking;note",
            ";;;;",
            '1;80 mm;1;Through;"Stück über; dem Rost"',
            "2;8 cm;60 min; Not Tried ; partly burnt",
            "",
        ]
    ).replace("Not Tried", "not")
    trial = read_trial(sheet(text, encoding=encoding))
    assert [piece.note for piece in trial.pieces] == ["Stück über; dem Rost", "partly burnt"]
    assert {piece.largest_size for piece in trial.pieces} == {0.08}
    assert {piece.time_in_heat for piece in trial.pieces} == {3600.0}
    assert [piece.slaking for piece in trial.pieces] == ["through", "not"]


def test_a_note_over_two_lines_counts_as_one_row(sheet):
    text = f'{HEADER},note\n1,400,80,60,300,50,partly,"two\n# lines"\n2,x,80,60,300,50,partly,\n'
    assert faults(sheet(text))[0].startswith("row 3, column mass_before")


def test_a_number_that_a_comma_pushed_into_the_note_is_noticed(sheet):
    (found,) = faults(sheet("piece,largest_size [mm],time_in_heat [min],core_size [mm],note\n1,80,60,2,5\n"))
    assert "cut in two by a comma" in found


def test_a_decimal_comma_is_understood_only_where_it_can_mean_nothing_else(sheet):
    header = HEADER.replace(",", ";")
    good = sheet(f"{header}\n1;400,5;80;60;0,300 kg;50;partly\n")
    assert read_trial(good).pieces[0].mass_before == pytest.approx(0.4005)
    assert read_trial(good).pieces[0].mass_after == pytest.approx(0.3)
    tabs = HEADER.replace(",", "\t")
    assert "thousands mark" in faults(sheet(f"{tabs}\n1\t1,200\t80\t60\t300\t50\tpartly\n"))[0]
    (mixed,) = faults(sheet(f"{header}\n1;400,5;80;60;300;50;partly\n2;400.5;80;60;300;50;partly\n"))
    assert mixed == "row 2 has a decimal comma and row 3 a decimal point; use one"


def test_semicolons_say_that_a_comma_is_decimal_and_between_tabs_one_plain_decimal_comma_does(sheet):
    header = HEADER.replace(",", ";").replace("[g]", "[kg]")
    rows = "1;1,620;110;60;1,100;50;partly", "2;0,045;30;60;0,030;10;partly"
    (read,) = read_trial(sheet(f"{header}\n{rows[0]}\n")).pieces
    assert (read.mass_before, read.mass_after) == (1.62, 1.1)
    assert "with a comma inside a number" in faults(sheet(f"{header}\n{rows[1]}\n3;1,234,567;80;60;;;partly\n"))[0]
    header, *rows = (line.replace(";", "\t") for line in (header, *rows))
    assert [piece.mass_before for piece in read_trial(sheet("\n".join([header, *rows]))).pieces] == [1.62, 0.045]
    assert len(faults(sheet(f"{header}\n{rows[0]}\n"))) == 2
    note = f"{header}\tnote\n{rows[0]}\tabout 0,5 of it\n"
    assert "thousands mark" in faults(sheet(note))[0]


def test_reading_leaves_the_file_as_it_is(sheet):
    text = f"{HEADER}\r\n1,400,80,60,900,50,partly\r\n".encode()
    path = sheet(text)
    faults(path)
    assert path.read_bytes() == text
    assert list(path.parent.iterdir()) == [path]


@in_a_folder
@given(
    st.one_of(st.binary(max_size=300), st.text(max_size=300).map(lambda text: text.encode("utf-8", "surrogatepass")))
)
def test_any_bytes_give_a_trial_or_a_record_error(tmp_path, found):
    path = tmp_path / "trial.csv"
    path.write_bytes(found)
    assert read_or_refuse(path)
    assert path.read_bytes() == found


cells = st.one_of(
    st.sampled_from(
        [*SLAKING, *COLOURS, "80", "80 mm", "8,5", "1e400", "1e-400", "9" * 400, "80 kg*m", "0", "-1", "#", '"']
    ),
    st.text(max_size=12),
    st.floats().map(str),
    st.tuples(
        st.floats(0, 1e6), st.sampled_from(["g", "kg^9", "degC", "mm²", "**", "1/0", "()", "%", "delta_degC"])
    ).map(lambda pair: f"{pair[0]} {pair[1]}"),
)


@settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(
    st.lists(st.lists(cells, min_size=1, max_size=9), min_size=1, max_size=5),
    st.sampled_from([HEADER, HEADER.replace(" [g]", ""), HEADER.replace("[mm]", "[**]"), "slaking,note,piece [,][]"]),
    st.sampled_from(",;\t"),
)
def test_any_cells_give_a_trial_or_a_record_error(tmp_path, rows, header, delimiter):
    text = io.StringIO()
    writer = csv.writer(text, delimiter=delimiter, quoting=csv.QUOTE_ALL)
    writer.writerows([header.split(","), *rows])
    path = tmp_path / "trial.csv"
    path.write_bytes(text.getvalue().encode("utf-8", "replace"))
    assert read_or_refuse(path)


def test_a_trial_is_shown_with_units_in_its_headings(sheet):
    trial = read_trial(sheet(f"{HEADER}\n1,0.4 kg,8 cm,1 h,300,50,partly\n2,,80,60,,,through\n"))
    table = trial_table(trial)
    assert list(table.index) == ["1", "2"]
    assert table.loc["1", "weight before burning [g]"] == pytest.approx(400)
    assert table["weight before burning [g]"].isna().tolist() == [False, True]
    assert table.loc["1", "time in the heat [min]"] == pytest.approx(60)
    assert not any("thickness" in heading for heading in table.columns)


def test_a_column_of_a_person_s_own_is_kept_with_the_notes_and_that_is_said(sheet):
    trial = read_trial(
        sheet(
            "piece,largest_size [mm],bed <of> the quarry,time_in_heat [min],slaking,note,weeks later [g]\n"
            "1,40,upper,60,through,by the door,31\n"
            "2,40,,60,not tried,,\n".replace("not tried", "partly")
        )
    )
    assert [piece.note for piece in trial.pieces] == [
        "by the door; bed <of> the quarry: upper; weeks later [g]: 31",
        "",
    ]
    told = "\n".join(trial.remarks)
    assert '"bed <of> the quarry" is no column of this sheet; what stands in it is kept with the notes.' in told
    assert '"weeks later [g]"' in told


def test_a_column_of_a_person_s_own_is_bounded_and_on_one_line(sheet):
    head = "piece,largest_size [mm],time_in_heat [min],slaking,"
    long = sheet(f"{head}bed\n1,40,60,partly,{'x' * 501}\n")
    assert "column bed: 501 characters" in faults(long)[0]
    (piece,) = read_trial(sheet(f'{head}{"bed " * 30}\n1,40,60,partly,"a\nb"\n')).pieces
    assert piece.note.endswith(": a b")
    assert len(piece.note) < 70


@pytest.mark.parametrize("said", ["not tried", "Not Tried", "not_tried"])
def test_slaking_that_was_not_tried_tells_nothing_where_the_weights_do(sheet, said):
    row = "1,400,80,60,300,50,{}"
    told = read_trial(sheet(f"{HEADER}\n{row.format(said)}\n"))
    silent = read_trial(sheet(f"{HEADER}\n{row.format('')}\n"))
    assert told.pieces[0].slaking == "not tried"
    one, other = (assess_trial.plain(trial).gas_temperature for trial in (told, silent))
    assert one == other
