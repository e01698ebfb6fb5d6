"""A person's files: read with a bound, written whole or not at all."""

from __future__ import annotations

import contextlib
import os
import re
import shutil
from pathlib import Path

from limekit.errors import InputError, RecordError

PREVIOUS_KEPT = 5
NOT_TEXT = {
    b"PK\x03\x04": "it is a spreadsheet's own file; save it as CSV and read that",
    b"\xd0\xcf\x11\xe0": "it is a spreadsheet's own file; save it as CSV and read that",
    b"%PDF": "it is a PDF; a table saved as CSV is wanted",
}

_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f]")


def as_path(path) -> Path:
    """Return a path from text or a path-like, with ``~`` opened.

    Raises
    ------
    InputError
        If it is neither, or holds characters that no file's name can.
    """
    try:
        opened = Path(path).expanduser()
        if "\0" in str(opened):
            raise ValueError("a null character in a file's name")
        os.fsencode(opened)
        return opened
    except (TypeError, ValueError, RuntimeError) as fault:
        raise InputError("path of a file", repr(path), "a file's name, as text or a path", '"my_trial.csv"') from fault


def read_bytes(path: Path, most: int) -> bytes:
    """Return a file's bytes.

    Raises
    ------
    RecordError
        If it is missing, not an ordinary file, longer than `most` bytes, or cannot be opened.
    """
    try:
        if not path.is_file():
            kind = "it is a folder" if path.is_dir() else "it is not an ordinary file"
            raise RecordError(
                str(path), [kind if path.exists() else f"there is no such file in {path.parent.resolve()}"]
            )
        with path.open("rb") as file:
            found = file.read(most + 1)
    except (OSError, ValueError) as fault:
        if isinstance(fault, RecordError):
            raise
        raise RecordError(str(path), [f"it cannot be opened ({fault})"]) from fault
    if len(found) > most:
        raise RecordError(str(path), [f"it is longer than {most // 1000} kB, too long for a record kept by hand"])
    return found


def read_text(path: Path, most: int) -> str:
    """Return the text of a file in UTF-8, UTF-16 with its mark, or the code page spreadsheets use in the West.

    Raises
    ------
    RecordError
        As `read_bytes` does, or if it is no text, or empty.
    """
    name, found = str(path), read_bytes(path, most)
    for mark, fault in NOT_TEXT.items():
        if found.startswith(mark):
            raise RecordError(name, [fault])
    marked = "utf-16" if found[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    text = None
    for coding in (marked, "cp1252"):
        try:
            text = found.decode(coding)
            break
        except UnicodeDecodeError:
            continue
    if text is None or _CONTROL.search(text):
        raise RecordError(name, ["it is not a text file; a table saved as CSV is wanted"])
    if not text.strip():
        raise RecordError(name, ["it is empty"])
    return text


def write_whole(path: Path, new: bytes) -> None:
    """Write a file in one step, keeping up to five earlier versions as ``name.1`` (newest) to ``name.5``.

    The new version is first written beside the old and forced to the disk, so that a failure at
    any moment leaves the old one whole.

    Raises
    ------
    InputError
        If the folder or the disk refuses; nothing has changed then.
    """
    path = Path(os.path.realpath(path))
    draft, previous = (path.with_name(f".{path.name}.{os.getpid()}.{end}") for end in ("new", "old"))
    try:
        with draft.open("wb") as file:
            file.write(new)
            file.flush()
            os.fsync(file.fileno())
        if path.exists():
            shutil.copymode(path, draft)
            shutil.copy2(path, previous)
            _make_room(path)
            os.replace(previous, _kept(path, 1))
        os.replace(draft, path)
    except OSError as fault:
        for unfinished in (draft, previous):
            with contextlib.suppress(OSError):
                unfinished.unlink()
        wanted = "a folder that may be written to, with room on the disk; the old file is as it was"
        raise InputError(f"saving {path}", f"a refusal ({fault})", wanted) from fault


def _kept(path: Path, number: int) -> Path:
    return path.with_name(f"{path.name}.{number}")


def _make_room(path: Path) -> None:
    """Move each earlier version one number up; the oldest goes."""
    for number in range(PREVIOUS_KEPT - 1, 0, -1):
        if _kept(path, number).exists():
            os.replace(_kept(path, number), _kept(path, number + 1))
