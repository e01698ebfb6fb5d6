"""Count again what README counts: facts by how each is known, and published rows by topic.

After a new or changed row of facts.csv or data/published/, run ``python tests/notebooks/recount.py``. It puts
README's figures right and runs again the lesson that shows them. A new topic wants a row in README's
table first: what its figures lie beside is for a person to say.
"""

import re
import sys
from pathlib import Path

import execute

from limekit.course import published
from limekit.course.lessons.how_do_we_know import known_how

README = Path(__file__).parents[2] / "README.md"


def counted(cases):
    """Return the counts of a row of README's table, one a column."""
    return [sum(map(is_one, cases)) for is_one in published.COUNTED.values()]


def changed(text, pattern, change):
    """Return a text with the one passage of a pattern changed; none, or two, is an error."""
    text, found = re.subn(pattern, change, text, flags=re.MULTILINE)
    if found != 1:
        raise SystemExit(f"README has {found} passages, not one, like {pattern}")
    return text


def recounted(text):
    """Return README's text with every count as the rows have it, and all else as it was."""
    facts = iter(re.findall(r"\d+", known_how()))
    said = r"\s+".join(r"\d+" if word.isdigit() else re.escape(word) for word in known_how().split())
    text = changed(text, said, lambda found: re.sub(r"\d+", lambda _: next(facts), found[0]))
    rows = {rf"\[[^|]+/{topic}\.csv\) \|[^|]+": published.cases(topic) for topic in published.topics()}
    for start, cases in (rows | {r"all \| ": published.cases()}).items():
        row = " | ".join(map(str, counted(cases)))
        text = changed(text, rf"^(\| {start}\|) .*$", lambda found, row=row: f"{found[1]} {row} |")
    return text


def main():
    """Put README right, and what the lesson has stored."""
    README.write_text(recounted(README.read_text(encoding="utf-8")), encoding="utf-8")
    return execute.main(["how_do_we_know"])


if __name__ == "__main__":
    sys.exit(main())
