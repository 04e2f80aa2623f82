"""The planted faults, one function each; `planted.toml` lists them with their measures."""

from pathlib import Path
from typing import Final

import matter as m
import pikepdf
from drawings import build_drawings, identification
from forms import BARE_HEADING, BARE_STATEMENT, Cover, print_cover
from normalising import save
from photograph import draw_photograph_label, place_photograph

MISSING_PAGE: Final = 4
WRONG_TOTAL: Final = 4
SHIFT_CM: Final = 1.9 - 3.616
"""Moves the left end of the ground line of FIG. 2 from 3.616 to 1.9 cm from the left edge."""
OLDER_SMALL_FEE: Final = "120.00"
LEGAL_HEIGHT_IN: Final = 14.0
LEGAL_ZOOM: Final = 1.15
"""Larger letters on the longer sheet, so that the page size is the only fault of its lay-out."""
OWNER_WORD: Final = "demonstration"
"""Owner password of an invented paper; it guards nothing and stands here on purpose."""

OLDER_WORDINGS: Final = (
    (
        "For low borders, a distance from the foot plate 16 to the axle 26 of about 250 mm has "
        "been found convenient. For taller plants, the stake 12 is made longer above the foot "
        "plate 16.",
        "For low borders, a distance from the foot plate 16 to the axle 26 of about 400 mm is "
        "used. Taller plants are not considered here, and the stake 12 has one length.",
    ),
    (
        "2. The hose guide of claim 1, further comprising a spring (32) that presses the latch "
        "(30) into one of several notches of the tilt bracket (20).",
        "2. The hose guide of claim 1, wherein a spring (32) holds the latch (30) in a single "
        "notch of the tilt bracket (20).",
    ),
)
"""What the older version of the specification says: one paragraph and one claim."""


def older_text(text: str) -> str:
    """The older version of the specification's text."""
    for newer, older in OLDER_WORDINGS:
        if text.count(newer) != 1:
            raise ValueError(f"expected once in the specification: {newer}")
        text = text.replace(newer, older)
    return text


def remove_page(source: Path, target: Path, page: int = MISSING_PAGE) -> None:
    """Copy the PDF without one page, counted from 1."""
    with pikepdf.open(source, allow_overwriting_input=True) as pdf:
        del pdf.pages[page - 1]
        save(pdf, target)


def restrict(path: Path) -> None:
    """Encrypt in place: an owner password, no printing, and an empty user password."""
    allowed = pikepdf.Permissions(print_lowres=False, print_highres=False, modify_other=False)
    encryption = pikepdf.Encryption(owner=OWNER_WORD, user="", R=4, aes=False, metadata=False, allow=allowed)
    with pikepdf.open(path, allow_overwriting_input=True) as pdf:
        pdf.save(path, encryption=encryption, static_id=True)


def drawings_with_shift_and_total(target: Path) -> None:
    """Sheet 2 too far to the left, and sheet numbers that promise a fourth sheet."""
    build_drawings(target, total=WRONG_TOTAL, shifts=(0, SHIFT_CM, 0))


def drawings_of_another_matter(target: Path) -> None:
    """The identification of another matter on all sheets, and a photograph on sheet 2."""
    line = identification(m.OTHER_TITLE, m.OTHER_DOCKET)
    build_drawings(target, line=line, second=draw_photograph_label)
    place_photograph(target)


def bare_cover(specification_pages: int, target: Path) -> None:
    """A cover sheet on Legal paper that does not say what kind of application it is."""
    cover = Cover(
        specification_pages,
        entity="small",
        fee=OLDER_SMALL_FEE,
        heading=BARE_HEADING,
        statement=BARE_STATEMENT,
    )
    print_cover(cover, target, height_in=LEGAL_HEIGHT_IN, zoom=LEGAL_ZOOM)
