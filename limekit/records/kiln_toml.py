"""A kiln record's TOML: read with its comments, and answers put into it where they belong."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator

import tomlkit

from limekit.errors import RecordError
from limekit.records.kiln_keys import FORMER, RESULTS


def parse(name: str, raw: bytes) -> tuple[dict, tomlkit.TOMLDocument]:
    """Read TOML twice: strictly, for its values, and with its comments, to be written back."""
    try:
        text = raw.decode("utf-8-sig")
        return tomllib.loads(text), tomlkit.parse(text)
    except UnicodeDecodeError as fault:
        raise RecordError(name, ["it is not text in UTF-8; save it so in your editor"]) from fault
    except tomllib.TOMLDecodeError as fault:
        words = f'it is not valid TOML: {fault}. Text and units stand in quotation marks: largest_stone = "80 mm"'
        raise RecordError(name, [words]) from fault
    except Exception as fault:  # huge numbers, deep nests, and what tomlkit's parser lets through
        raise RecordError(name, [f"it could not be read safely ({str(fault)[:200]})"]) from fault


def same(one, other) -> bool:
    """Whether two readings of TOML say the same; not-a-number equals itself."""
    return json.dumps(one, sort_keys=True, default=repr) == json.dumps(other, sort_keys=True, default=repr)


def rename_former(own: dict, document: tomlkit.TOMLDocument) -> None:
    """Give answers of an older record the names they have now: a stone's ``moisture``, a kiln's ``kiln_efficiency``.

    They are read as they are and written back by today's names; where both names stand, the new one counts.
    """
    for section, names in FORMER.items():
        there = own.get(section)
        for old, new in names.items():
            if isinstance(there, dict) and old in there and new not in there:
                there[new] = there.pop(old)
                kept = document[section].item(old)
                document[section].remove(old)
                put_in(document, section, new, kept)


def take_results(own: dict, document: tomlkit.TOMLDocument) -> Iterator[tuple[str, object]]:
    """Take out of an older record what follows from its decisions, and yield it."""
    for section, names in RESULTS.items():
        there = own.get(section)
        for name in names:
            if isinstance(there, dict) and name in there:
                document[section].remove(name)
                yield f"{section}.{name}", there.pop(name)


def put_in(document: tomlkit.TOMLDocument, section: str, name: str, value) -> None:
    """Set a value in a section, which is made if it is not there."""
    if section not in document:
        document[section] = tomlkit.table()
    put(document[section], name, value)


def put(table, name: str, value: str | float) -> None:
    """Set a value, a new one right under the section's last, so that a comment over the next section stays there."""
    if name in table or not isinstance(table, tomlkit.items.Table):
        table[name] = value
        return
    body, after = table.value.body, []
    while body and body[-1][0] is None:
        after.append(body.pop()[1])
    table.append(name, value)
    for item in reversed(after):
        if not isinstance(item, tomlkit.items.Null):  # what is left of a key that was taken out
            table.add(item)
