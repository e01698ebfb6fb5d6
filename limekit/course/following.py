"""A file that a person goes on writing, followed while its lesson is open."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from pathlib import Path

EVERY = 5.0  # s, between two looks
_followed: dict[Path, asyncio.Task] = {}


def follow(path, tell: Callable[[], None], every: float = EVERY) -> asyncio.Task | None:
    """Call a function whenever a file has changed, looking every so many s between the cells that the notebook runs.

    A file followed anew is followed for the last asker alone; what `tell` raises is its own affair and ends nothing.
    None comes back where nothing runs that could look, as in a script.
    """
    path = Path(path).resolve()
    try:
        loop = asyncio.get_running_loop()
    except RuntimeError:
        return None
    if path in _followed:
        _followed[path].cancel()

    async def look() -> None:
        seen = _stamp(path)
        while True:
            await asyncio.sleep(every)
            found = _stamp(path)
            if found is not None and found != seen:
                seen = found
                tell()

    _followed[path] = loop.create_task(look())
    return _followed[path]


def _stamp(path: Path) -> tuple[int, int] | None:
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size
