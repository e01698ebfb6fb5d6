"""Number the lessons as limekit/data/lessons.csv has them, and put right whatever names or counts them.

To put a lesson between two others: write its row between theirs, lay its notebook in notebooks/ under its slug (or any
number and its slug), and run ``python tests/notebooks/renumber.py``. It renames notebooks and pictures; rewrites links, the
number in ``[lesson N](...)``, the map, README's table, the minutes on the cards and the last link of each
lesson; and runs again the lessons that show numbers. Read then the last words of the lesson before
the new one: they were written for another.
"""

import re
import sys
from pathlib import Path

import execute
import nbformat

from limekit.course.ladder import ladder
from limekit.course.routes import routes

ROOT = Path(__file__).parents[2]
MAP_HEAD = "| | lesson | the question | minutes |\n|---|---|---|---|\n"
TABLE_ROWS = re.compile(r"(?:^\| \[\d+ [^\n]*\]\(notebooks/\w+\.ipynb\) \|[^\n]*\n)+", re.MULTILINE)
MINUTES = re.compile(r"(?<=^- \*\*Time:\*\* )\d+", re.MULTILINE)
LAST_LINK = re.compile(r"\[[^\]]+\]\(\w+\.ipynb\)(?!.*\]\(\w+\.ipynb\))", re.DOTALL)
SHOWS_NUMBERS = re.compile(r"\blesson \d+\b|\b\d\d_\w+\.ipynb|\b\d\d · ")


def notebooks(root, lessons):
    """Return the notebook of every lesson by its slug; one with no row, or a row with none, is an error."""
    found = {re.sub(r"^\d+_", "", path.stem): path for path in sorted((root / "notebooks").glob("*.ipynb"))}
    if found.keys() != lessons.keys():
        odd = ", ".join(sorted(found.keys() ^ lessons.keys()))
        raise SystemExit(f"Every lesson has one row in lessons.csv and one notebook; not so {odd}.")
    return {slug: found[slug] for slug in lessons}


def renames(root, lessons):
    """Return the new place of every notebook and picture whose number has changed."""
    pictures = {path: re.sub(r"^\d+_", "", path.stem) for path in (root / "images").glob("*.png")}
    files = {path: slug for slug, path in notebooks(root, lessons).items()} | pictures
    places = {path: path.with_stem(lessons[slug].notebook) for path, slug in files.items() if slug in lessons}
    return {path: place for path, place in places.items() if path != place}


def rewrites(root, lessons):
    """Return the new text of every page that is not as the rows have it, by where it lies now."""
    read = {slug: nbformat.read(path, as_version=4) for slug, path in notebooks(root, lessons).items()}
    questions = {slug: one.cells[0].source.splitlines()[0].removeprefix("# ") for slug, one in read.items()}
    onward = dict(zip(lessons, list(lessons)[1:], strict=False))
    for slug, one in read.items():
        one.cells[0].source = MINUTES.sub(str(lessons[slug].minutes), one.cells[0].source)
        if slug in onward:
            link = f"[{questions[onward[slug]]}]({lessons[onward[slug]].file})"
            one.cells[-1].source = LAST_LINK.sub(lambda _, link=link: link, one.cells[-1].source)
        for cell in one.cells:
            if MAP_HEAD in cell.source:
                before, _, after = cell.source.partition(MAP_HEAD)
                cell.source = (
                    before + MAP_HEAD + course_map(slug, lessons, questions) + "\n" + after.partition("\n\n")[2]
                )
    table = "".join(f"| [{one.name}](notebooks/{one.file}) | {questions[slug]} |\n" for slug, one in lessons.items())
    texts = {path: nbformat.writes(read[slug]) + "\n" for slug, path in notebooks(root, lessons).items()}
    readme = root / "README.md"
    texts[readme] = TABLE_ROWS.sub(lambda _: table, readme.read_text(encoding="utf-8"))
    texts = {path: numbered(text, lessons) for path, text in texts.items()}
    return {path: text for path, text in texts.items() if text != path.read_text(encoding="utf-8")}


def course_map(here, lessons, questions):
    """Return the rows of the map, as seen from one lesson."""
    weekend = {leg.lesson.slug for leg in routes()["weekend"]}
    rows = []
    for slug, one in lessons.items():
        told = f"[{one.title}]({one.file}) | {questions[slug]}"
        number, told = (
            (f"→ {one.number}", f"**{one.title}** | **you are here**") if slug == here else (one.number, told)
        )
        rows.append(f"| {number}{' ●' if slug in weekend else ''} | {told} | {one.minutes} |\n")
    return "".join(rows)


def numbered(text, lessons):
    """Return a text with every lesson's file, and the number in words that link to it, as the rows have them."""
    slugs = "|".join(lessons)
    text = re.sub(rf"\b\d\d_({slugs})\b", lambda found: lessons[found[1]].notebook, text)
    link = re.compile(rf"(\[(?:[Ll]esson )?)\d+(?=\]\(\d\d_({slugs})\.ipynb\))")
    return link.sub(lambda found: f"{found[1]}{lessons[found[2]].number}", text)


def renumber(root, lessons):
    """Rewrite and rename; return how many pages and files that changed."""
    written, moved = rewrites(root, lessons), renames(root, lessons)
    for path, text in written.items():
        path.write_text(text, encoding="utf-8")
    for path in moved:
        path.rename(path.with_suffix(".moving"))
    for path, place in moved.items():
        path.with_suffix(".moving").rename(place)
    return len(written), len(moved)


def shows_numbers(path):
    """Return whether what a notebook has shown names other lessons by number."""
    outputs = [cell.outputs for cell in nbformat.read(path, as_version=4).cells if cell.cell_type == "code"]
    return bool(SHOWS_NUMBERS.search(str(outputs)))


def main():
    """Put all right; run again what shows numbers, if any has changed."""
    pages, files = renumber(ROOT, ladder())
    print(f"{pages} pages rewritten, {files} files renamed")
    if files:
        return execute.main([path.stem for path in notebooks(ROOT, ladder()).values() if shows_numbers(path)])
    return 0


if __name__ == "__main__":
    sys.exit(main())
