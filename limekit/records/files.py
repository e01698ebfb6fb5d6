"""A person's files: read with a bound, written whole or not at all, by one writer at a time.

Nothing else in the kit opens a file for writing. Who looks before they write does both while they hold the file, so
that nothing changes in between, whichever lesson, window or process it comes from.
"""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import stat
from collections.abc import Iterator
from pathlib import Path

from limekit.errors import InputError, RecordError, told

PREVIOUS_KEPT = 5
PATIENCE = 30  # s, for another writer
MAY_BE_WRITTEN = stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH
LONGEST_NAME = 200  # bytes; file systems take 255, and a draft's or an earlier version's name is longer
NOT_TEXT = {
    b"PK\x03\x04": "it is a spreadsheet's own file; save it as CSV and read that",
    b"\xd0\xcf\x11\xe0": "it is a spreadsheet's own file; save it as CSV and read that",
    b"%PDF": "it is a PDF; a table saved as CSV is wanted",
}

_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f]")


def as_path(path) -> Path:
    """Return a path from text or a path-like, with ``~`` opened; what no file can be named raises `InputError`."""
    try:
        opened = Path(path).expanduser()
        if "\0" in str(opened):
            raise ValueError("a null character in a file's name")
        if len(os.fsencode(opened.name)) > LONGEST_NAME:
            raise ValueError("a name longer than file systems take")
        return opened
    except (TypeError, ValueError, RuntimeError) as fault:
        raise InputError("path of a file", told(path), "a file's name, as text or a path", '"my_trial.csv"') from fault


def read_bytes(path: Path, most: int) -> bytes:
    """Return an ordinary file's bytes, `most` of them at the most; a `RecordError` says why it cannot be read."""
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
        raise RecordError(str(path), [f"it is longer than {most // 1000} kB, the most that is read"])
    return found


def read_text(path: Path, most: int) -> str:
    """Return the text of a file in UTF-8, UTF-16 with its mark, or the code page spreadsheets use in the West.

    Raises `RecordError` as `read_bytes` does, or if it is no text, or empty.
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


def folder(path) -> Path:
    """Return a folder, made if it is not there; one that cannot be made raises `InputError`."""
    path = as_path(path)
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise InputError(f"making {path}", f"a refusal ({fault})", "a folder that can be made") from fault
    return path


@contextlib.contextmanager
def held(path) -> Iterator[Held]:
    """Hold a file, there or not yet, against every other writer of the kit, for looking and writing in one.

    A link is followed to its file. Raises `InputError` if it is a folder or a link to nothing, the folder or the disk
    refuses, or another holds it for half a minute; what was in the file is then as it was.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder, held(f"{folder}/count.txt") as file:
    ...     file.write(b"one more")
    """
    import filelock

    given = as_path(path)
    path, asked = Path(os.path.realpath(given)), f"saving {given}"
    if given.is_symlink() and not given.exists():
        raise InputError(asked, f"a link to {path}, which is not there", "a file of its own")
    if path.is_dir():
        raise InputError(asked, "a refusal: it is a folder", "the name of a file")
    if not path.parent.is_dir():
        raise InputError(asked, f"no folder {path.parent}", "a folder that is there")
    try:
        with filelock.FileLock(lock := path.with_name(f".{path.name}.lock"), timeout=PATIENCE):
            try:
                yield Held(path, asked)
            finally:
                _gone(lock)  # whoever waits for it takes a new one
    except filelock.Timeout as fault:
        wanted = "to wait until it is done, and to save again"
        raise InputError(asked, f"a file that another has been saving for {PATIENCE} s", wanted) from fault
    except OSError as fault:
        wanted = "a folder that may be written to, with room on the disk; the old file is as it was"
        raise InputError(asked, f"a refusal ({fault})", wanted) from fault


class Held:
    """A file in the hands of one writer; made by `held`."""

    def __init__(self, path: Path, asked: str) -> None:
        self.path, self._asked = path, asked

    def read(self, most: int) -> bytes | None:
        """Return what is in it, as `read_bytes` does, or None where there is no such file; else raise `InputError`."""
        if not self.path.exists():
            return None
        try:
            return read_bytes(self.path, most)
        except RecordError as fault:
            wanted = "the name of an ordinary file"
            raise InputError(self._asked, f"a refusal: {fault.faults[0]}", wanted) from fault

    def says(self, new: bytes) -> bool:
        """Whether just this is in it."""
        return self.path.is_file() and self.path.read_bytes() == new

    def write(self, new: bytes, keeps: bool = True) -> None:
        """Write it in one step, keeping up to five earlier versions as ``name.1`` (newest) to ``name.5``.

        What the kit itself wrote there, and writes anew each minute, need not be kept.

        The new version is first written beside the old and forced to the disk, so that a failure at
        any moment leaves the old one whole; what a killed writer left half done goes. Raises `InputError` if the file
        is marked as not to be written, and `OSError`, which `held` puts into words, if the folder or the disk refuses.
        """
        path = self.path
        draft, previous = (path.with_name(f".{path.name}.{end}") for end in ("new", "old"))
        there = path.exists()
        if there and not path.stat().st_mode & MAY_BE_WRITTEN:
            raise InputError(self._asked, "a file marked read-only", "another name, or that mark taken off")
        try:
            _gone(draft, previous)
            with draft.open("xb") as file:
                file.write(new)
                file.flush()
                os.fsync(file.fileno())
            if there:
                shutil.copymode(path, draft)
            if there and keeps:
                shutil.copy2(path, previous)
                for number in range(PREVIOUS_KEPT - 1, 0, -1):
                    if _kept(path, number).exists():
                        os.replace(_kept(path, number), _kept(path, number + 1))
                os.replace(previous, _kept(path, 1))
            os.replace(draft, path)
        finally:
            _gone(draft, previous)


def write_whole(path, new: bytes) -> bool:
    """Write a file as `Held.write` does, unless it says this already; return whether it was written."""
    with held(path) as file:
        if file.says(new):
            return False
        file.write(new)
    return True


def write_new(path, new: bytes) -> Path:
    """Write a file that is not there yet, and return its path; one that is there is refused, never written over."""
    with held(path) as file:
        if file.path.exists():
            wanted = "a name that is not taken; nothing is written over"
            raise InputError(f"saving {path}", "a file that is there already", wanted, '"my_trial.csv"')
        file.write(new)
    return as_path(path)


def _gone(*paths: Path) -> None:
    for path in paths:
        with contextlib.suppress(OSError):
            path.unlink()


def _kept(path: Path, number: int) -> Path:
    return path.with_name(f"{path.name}.{number}")
