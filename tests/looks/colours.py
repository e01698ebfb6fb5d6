"""The colours and what each means, as every eye sees them: ``python tests/looks/colours.py`` draws images/colours.svg."""

from html import escape
from pathlib import Path

import numpy as np

from limekit.pictures import looks

PICTURE = Path(__file__).parents[2] / "images" / "colours.svg"
# Machado, Oliveira & Fernandes 2009, IEEE Trans. Vis. Comput. Graph. 15(6), severity 1.0, as read in open copies.
DEFICIENCY = {
    "protan": [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
    "deutan": [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]],
    "tritan": [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]],
}
ROW, NAME, SWATCH, WORDS = 34, 92, 70, 470
MEANS = {**looks.MEANS, "ink": (looks.INK, "a plan, a rule, a limit, what the reader chose")}


def seen(colour, eye):
    """Return a colour as an eye sees it that lacks one kind of cone."""
    return looks._hex(np.clip(np.array(DEFICIENCY[eye]) @ np.array(looks._light(colour)), 0, 1).tolist())


def drawn():
    """Return the picture's SVG."""
    wide, high = NAME + (1 + len(DEFICIENCY)) * SWATCH + WORDS, ROW * (len(MEANS) + 1) + 8
    said = [
        f'<text x="{NAME + (column + 0.5) * SWATCH}" y="22" text-anchor="middle">{eye}</text>'
        for column, eye in enumerate(("usual", *DEFICIENCY))
    ]
    for row, (name, (colour, meaning)) in enumerate(MEANS.items(), start=1):
        top = ROW * row
        said.append(f'<text x="8" y="{top + 20}" font-weight="bold">{name}</text>')
        for column, shown in enumerate((colour, *(seen(colour, eye) for eye in DEFICIENCY))):
            place = f'x="{NAME + column * SWATCH}" y="{top + 2}" width="{SWATCH - 6}" height="{ROW - 6}"'
            said.append(f'<rect {place} fill="{shown}"/>')
        said.append(f'<text x="{wide - WORDS + 8}" y="{top + 20}">{escape(meaning)}</text>')
    title = "What each colour of the kit's pictures means, and how eyes that lack a kind of cone see it"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" width="{wide}" height="{high}" role="img" '
        f'font-family="{looks.FONT}" font-size="{looks.FONT_SIZE}" fill="{looks.INK}"><title>{title}</title>'
        f'<rect width="{wide}" height="{high}" fill="{looks.PAPER}"/>\n' + "\n".join(said) + "\n</svg>\n"
    )


if __name__ == "__main__":
    PICTURE.write_text(drawn(), encoding="utf-8")
