"""A bar in the notebook while something long is worked out; it goes when the work is done."""

from __future__ import annotations

import contextlib
import html
from collections.abc import Callable, Iterator

from limekit.pictures.shown import Shown

STEPS = 50


class _Bar(Shown):
    """What stands in the notebook: a native progress element tied to its words, or nothing; always the same as text."""

    def __init__(self, label: str, share: float | None) -> None:
        self.label, self.share = label, share

    def __repr__(self) -> str:
        return self.label

    def _html(self) -> str:
        if self.share is None:
            return ""
        return (
            f'<label style="font-size:16px">{html.escape(self.label)} '
            f'<progress max="1" value="{self.share:.2f}" style="width:16em;vertical-align:middle"></progress> '
            f"{100 * self.share:.0f} %</label>"
        )


@contextlib.contextmanager
def progress(label: str) -> Iterator[Callable[[float], None]]:
    """Show a bar while the block under it runs.

    Parameters
    ----------
    label : str
        What is being done.

    Yields
    ------
    callable
        To be told the share of the work that is done, 0 to 1, as often as one likes. Outside a
        notebook it shows nothing.

    Examples
    --------
    >>> with progress("Counting") as tell:
    ...     for number in range(3):
    ...         tell(number / 3)
    """
    from IPython import get_ipython
    from IPython.display import display

    if not hasattr(get_ipython(), "kernel"):
        yield lambda share: None
        return
    handle, last = display(_Bar(label, 0.0), display_id=True), 0

    def tell(share: float) -> None:
        nonlocal last
        step = int(STEPS * min(max(share, 0.0), 1.0))
        if step != last:
            last = step
            handle.update(_Bar(label, step / STEPS))

    try:
        yield tell
    finally:
        handle.update(_Bar(label, None))
