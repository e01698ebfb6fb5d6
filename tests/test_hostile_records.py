"""What people's files may hold by mischance: refused in words or read to finite figures, and never changed or lost."""

import contextlib
import csv
import dataclasses
import io
import os
import shutil
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import limekit
from limekit.errors import InputError, RecordError
from limekit.records import files, forms, roster, sheets, supplies, workshop
from limekit.records.examples import example_path
from limekit.records.kiln_record import Record

READERS = {
    "trial_example.csv": limekit.read_trial,
    "burn_log_example.csv": limekit.read_burn_log,
    "slaking_log_example.csv": limekit.read_slaking_log,
    "my_kiln_example.toml": Record.load,
    "own_burns_example.toml": Record.load,
    "logger.csv": lambda path: limekit.read_logger(path, {"T1": "flue", "T2": "hearth"}),
}
LOGGED = "\n".join(
    ["logger 3, started by hand", "time,T1 [degC],T2 [degC],battery"]
    + [f"2028-06-03T22:{minute:02d}:30,{20 + minute},{400.5 + minute},3.1" for minute in range(60)]
)
GOOD = {name: LOGGED.encode() if name == "logger.csv" else example_path(name).read_bytes() for name in READERS}
LINES_ENDS = (b"\n", b"\r\n", b"\r", b"\n\r")
MARKS = (b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff", b"\x00", b"PK\x03\x04", b"\xef\xbb\xbf\xef\xbb\xbf")
CODES = ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-32", "cp1252", "cp437", "utf-7")
CELLS = (
    "nan",
    "inf",
    "-inf",
    "1e308",
    "1e-320",
    "9" * 400,
    "0x10",
    "1_000",
    "1.2.3",
    "１２",
    "½",
    "−5",
    "=1+1",
    "=cmd|'/c calc'!A1",
    "@SUM(A1:A9)",
    "+80 mm",
    "-80 mm",
    "80 mm; 60 mm",
    "1e999 mm",
    "80 mm**400",
    "\ud7ff",
    "\u202e08",
    "<b>1</b>",
    '"',
    "'",
    ",",
    "\n",
    "\x0b",
    "a" * 5000,
    "true",
    "None",
    "{}",
    "[]",
    "12:60",
    "24:00",
    "00:00",
)
quick = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


def _with_cell(found: bytes, row: int, column: int, cell: str, name: str) -> bytes:
    """Put a cell into a file, in place of another."""
    text = found.decode("utf-8-sig")
    if name.endswith(".toml"):
        lines = text.splitlines()
        settable = [number for number, line in enumerate(lines) if " = " in line]
        number = settable[row % len(settable)]
        lines[number] = f"{lines[number].partition(' = ')[0]} = {cell if column % 2 else repr(cell)}"
        return "\n".join(lines).encode()
    rows = list(csv.reader(io.StringIO(text)))
    rows = [one for one in rows if len(one) > 1]
    rows[row % len(rows)][column % len(rows[0])] = cell
    text = io.StringIO()
    csv.writer(text).writerows(rows)
    return text.getvalue().encode()


def _doubled(found: bytes, row: int) -> bytes:
    """Write a line of the file twice."""
    lines = found.splitlines(keepends=True)
    return b"".join([*lines[: row % len(lines)], lines[row % len(lines)], *lines[row % len(lines) :]])


def _with_column_twice(found: bytes, column: int) -> bytes:
    rows = [line.split(b",") for line in found.splitlines()]
    return b"\n".join(b",".join([*row, row[column % len(row)]]) for row in rows)


@st.composite
def spoilt(draw, name):
    """Draw the bytes of a good file, spoilt in one to three of the ways files are."""
    found = GOOD[name]
    number = st.integers(0, 10_000)
    for _ in range(draw(st.integers(1, 3))):
        how = draw(st.sampled_from(["cut", "bytes", "mark", "ends", "code", "cell", "line", "column", "noise"]))
        try:
            if how == "cut":
                found = found[: draw(number) % (len(found) + 1)]
            elif how == "bytes":
                at = draw(number) % (len(found) + 1)
                found = found[:at] + draw(st.binary(max_size=8)) + found[at + draw(st.integers(0, 3)) :]
            elif how == "mark":
                found = draw(st.sampled_from(MARKS)) + found
            elif how == "ends":
                ends = draw(st.lists(st.sampled_from(LINES_ENDS), min_size=1, max_size=3))
                found = b"".join(line + ends[i % len(ends)] for i, line in enumerate(found.splitlines()))
            elif how == "code":
                found = found.decode("utf-8-sig").encode(draw(st.sampled_from(CODES)))
            elif how == "cell":
                found = _with_cell(found, draw(number), draw(number), draw(st.sampled_from(CELLS)), name)
            elif how == "line":
                found = _doubled(found, draw(number))
            elif how == "column":
                found = _with_column_twice(found, draw(number))
            else:
                found = draw(st.binary(max_size=300))
        except (UnicodeError, csv.Error, IndexError, ZeroDivisionError):  # too spoilt to be spoilt that way too
            continue
    return found


def _figures(read):
    """Yield every figure in what was read."""
    if dataclasses.is_dataclass(read):
        for field in dataclasses.fields(read):
            yield from _figures(getattr(read, field.name))
    elif isinstance(read, dict):
        for one in read.values():
            yield from _figures(one)
    elif isinstance(read, tuple):
        for one in read:
            yield from _figures(one)
    elif isinstance(read, (float, np.ndarray)) or hasattr(read, "magnitude"):
        yield np.asarray(getattr(read, "magnitude", read), dtype=float)


def _read_or_refused(name, path):
    try:
        return READERS[name](path)
    except RecordError as fault:
        refusal = fault
    assert refusal.faults
    assert all(len(line) < 1000 for line in str(refusal).splitlines())
    return None


@pytest.mark.parametrize("name", READERS)
@quick
@given(data=st.data())
def test_a_spoilt_file_is_read_to_figures_or_refused_in_words_and_stays_as_it_is(tmp_path, name, data):
    found = data.draw(spoilt(name))
    path = tmp_path / name
    path.write_bytes(found)
    read = _read_or_refused(name, path)
    if read is not None and not isinstance(read, Record):
        noted = "temperatures" if name.startswith(("burn", "logger")) else ""
        for figure in _figures(read):
            assert not np.isinf(figure).any()
            assert noted or not np.isnan(figure).any()
    assert path.read_bytes() == found
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("name", READERS)
def test_a_folder_a_missing_file_and_a_file_nobody_may_open_are_refused_in_words(tmp_path, monkeypatch, name):
    for path, words in ((tmp_path, "it is a folder"), (tmp_path / "gone" / name, "no such file")):
        if path.exists() or name.endswith(".csv"):
            with pytest.raises(RecordError, match=words):
                READERS[name](path)
    path = tmp_path / name
    path.write_bytes(GOOD[name])

    def refused(*_, **__):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refused)
    with pytest.raises(RecordError, match="cannot be opened"):
        READERS[name](path)


OURS = b'# mine\n[kiln]\nlargest_stone = "90 mm" # broken small\n'
THEIRS = st.one_of(
    st.just(None),
    st.just(b""),
    st.just(b'[kiln]\nlargest_stone = "70 mm"\n'),
    st.just(b"[kiln\n"),
    st.just(OURS.replace(b"\n", b"\r\n")),
    st.binary(max_size=60),
)
STEPS = ((os, "replace"), (os, "fsync"), (shutil, "copy2"), (shutil, "copymode"), (Path, "open"))


def _contents(folder):
    return [one.read_bytes() for one in folder.iterdir() if one.is_file()]


@quick
@given(
    theirs=THEIRS,
    step=st.sampled_from([None, *range(len(STEPS))]),
    nth=st.integers(1, 3),
    insists=st.booleans(),
    saves=st.integers(1, 3),
)
def test_whatever_happens_while_saving_a_persons_bytes_are_there(tmp_path, theirs, step, nth, insists, saves):
    folder = tmp_path / "course"
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    path = folder / "my_kiln.toml"
    path.write_bytes(OURS)
    record = Record.load(path)
    if theirs is not None:  # another program writes the file between reading and saving
        path.write_bytes(theirs)
    before = path.read_bytes()
    with pytest.MonkeyPatch.context() as patch:
        if step is not None:
            owner, name = STEPS[step]
            real, calls = getattr(owner, name), []

            def failing(*given, **named):
                calls.extend(one for one in given[:1] if str(folder) in str(one) or isinstance(one, int))
                if len(calls) == nth:
                    raise OSError(28, "No space left on device")
                return real(*given, **named)

            patch.setattr(owner, name, failing)
        for height in range(saves):
            with contextlib.suppress(InputError):
                record.keep("kiln", kiln_height=f"{2 + height} m").save(even_if_changed=insists)
    assert before in _contents(folder)
    assert path.exists()
    assert not [one for one in folder.iterdir() if one.name.startswith(".")], "a draft is left behind"
    if path.read_bytes() != before:
        Record.load(path)


@pytest.mark.skipif(os.name != "posix", reason="folders are made read-only another way")
def test_a_folder_that_may_not_be_written_to_keeps_what_is_in_it(tmp_path, monkeypatch):
    path = tmp_path / "my_kiln.toml"
    path.write_bytes(OURS)
    record = Record.load(path).keep("kiln", kiln_height="2 m")
    tmp_path.chmod(0o500)
    if os.access(tmp_path, os.W_OK):  # the administrator may write anywhere

        def refused(*_, **__):
            raise PermissionError(13, "Permission denied")

        monkeypatch.setattr(os, "open", refused)
        monkeypatch.setattr(Path, "open", refused)
    try:
        with pytest.raises(InputError, match=r"a refusal"):
            record.save(even_if_changed=True)
        with pytest.raises(InputError, match="a refusal"):
            sheets.write_blank_csv(tmp_path / "new.csv")
    finally:
        monkeypatch.undo()
        tmp_path.chmod(0o700)
    assert _contents(tmp_path) == [OURS]


def test_a_folder_in_place_of_the_file_is_left_as_it_is(tmp_path):
    record = Record.load(tmp_path / "mine.toml").keep("kiln", kiln_height="2 m")
    (tmp_path / "mine.toml").mkdir()
    (tmp_path / "mine.toml" / "letter.txt").write_text("dear")
    with pytest.raises(InputError, match="it is a folder"):
        record.save(even_if_changed=True)
    for make in (sheets.write_blank_csv, lambda path: files.write_whole(path, b"new")):
        with pytest.raises(InputError):
            make(tmp_path / "mine.toml")
    assert (tmp_path / "mine.toml" / "letter.txt").read_text() == "dear"


ODD = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(10**20), 10**20),
    st.floats(),
    st.text(max_size=12),
    st.sampled_from(
        ["9 h", "4 h", "2028-03-04", "2028-02-30", "2028-03-04 09:00", "9999-12-31", "0001-01-01", "25:00"]
    ),
    st.binary(max_size=4),
    st.lists(st.one_of(st.text(max_size=4), st.integers(-2, 400), st.none()), max_size=4),
    st.lists(st.tuples(st.text(max_size=4), st.integers(-2, 600)), max_size=4),
    st.just(object()),
    st.just({"a": 1}),
    st.just(np.array([1.0, 2.0])),
    st.dates().map(str),
    st.datetimes(),
)
WORKSHOP = {
    roster.groups: 2,
    roster.timetable: 7,
    roster.watches: 5,
    supplies.tools: 1,
    supplies.materials: 1,
    supplies.burn_checks: 1,
    supplies.power_check: 3,
    workshop.plan_back: 5,
    workshop.draw_time: 3,
    forms.sheet: 1,
}
GIVEN = {
    roster.timetable: [[("fire", 60)], "09:00", "17:00", "12:30", 60, 90, 15],
    roster.watches: ["2028-03-04 06:00", "12 h", ["Ash", "Fern", "Rowan", "Hazel"], "4 h", 2],
    roster.groups: [14, 4],
    supplies.power_check: ["2 kW", "700 W", 5],
    workshop.plan_back: ["2028-06-03", "mortar", "small flare", "2028-04-01", ["wood"]],
    workshop.draw_time: ["2028-03-04 09:00", "2028-03-08 14:00", "small flare"],
}


@pytest.mark.parametrize("asked", WORKSHOP, ids=lambda one: one.__name__)
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_whatever_a_workshop_is_planned_with_is_answered_or_refused_in_words(asked, data):
    given_ = GIVEN.get(asked, [None] * WORKSHOP[asked]).copy()
    given_[data.draw(st.integers(0, len(given_) - 1))] = data.draw(ODD)
    with contextlib.suppress(InputError):
        assert str(asked(*given_))
