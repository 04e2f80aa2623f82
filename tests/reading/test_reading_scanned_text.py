"""A specification printed and scanned, held against what was printed: one scan of three pages for all tests here."""

from __future__ import annotations

import difflib
import io

import msgspec
import numpy as np
import pytest
from PIL import Image
from reportlab.lib.pagesizes import LETTER
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from preflight.checks import Unread
from preflight.checks.built_in import CHECKS
from preflight.facts import Entry, Page
from preflight.judging import examine
from preflight.judging.judgement import state
from preflight.papers import BUILT_IN_ROLES, Declared, as_read, described, find_papers, named_figures, page_numbers
from preflight.papers.specification.structure import specification
from preflight.reading import Limits, document, images
from preflight.reading.frames import Opened, PageRead
from preflight.reading.images.looker import Look
from preflight.reading.pages import Document
from preflight.reading.progress import Reading as Progress
from preflight.testing import filing, requirements

pytestmark = [
    pytest.mark.xdist_group("pictures"),  # the models are loaded once
    pytest.mark.timeout(300),  # the first test waits for the reading: 15 s, or many times that beside other work
    pytest.mark.skipif(not images.installed(), reason="the reader of pictures is not installed"),
]

KNOWN = {check.name: check for check in CHECKS}

FIRST = """FIELD
     This disclosure relates to gates for garden paths, and in particular to gates that
close by themselves after a cart has been pushed through.
BACKGROUND
     A gate that is left open lets animals in. Springs close a gate with a bang, and they
grow weak after some winters. A weight on a rope closes it softly, but the rope wears.
BRIEF DESCRIPTION OF THE DRAWINGS
     FIG. 1 is a side view of a gate with a closing weight.
     FIG. 2 is a top view of its hinge.
DETAILED DESCRIPTION
     Referring to FIG. 1, a gate 10 hangs on a post 12 by a hinge 14. A rope 16 runs from
the gate 10 over a pulley 18 to a weight 20. When the gate 10 is pushed open, the rope 16
lifts the weight 20, and the weight 20 draws the gate 10 back as soon as it is let go. The
pulley 18 turns on a pin 22 in the post 12. A sleeve 24 keeps the rope 16 from rubbing."""
SECOND = """     In FIG. 2 the hinge 14 is shown from above. It has two leaves 26 and a bolt 28. The bolt
28 is set aslant, so that the gate 10 rises by 15 mm while it opens, and its own weight helps
to close it. The angle of the bolt 28 is between 5 and 10 degrees; 7 degrees have been found
to do well. Either of the leaves 26 may be cast in one piece with the post 12.
     The sleeve 24 is made of nylon, or of brass where the gate 10 is near the sea. It is 40 mm
long and fits the rope 16 loosely. The pin 22 is pressed into the post 12 and needs no nut.
     In another form the weight 20 is a bag of sand, which takes the shape of the tube in
which it hangs. The tube stands beside the post 12 and keeps children from the weight 20.
     The rope 16 may be replaced by a chain, and the pulley 18 by a wheel with teeth. Then
the gate 10 stays at any angle at which it is let go if the wheel is held by a catch 30. The
catch 30 is released by a pedal, so that a person with full hands can walk on. The catch 30
does not touch the rope 16 or the weight 20 while the gate 10 swings free.
     A gate 10 of wood should be hung so that rain runs off its upper edge, and so that its
lower edge clears the path by some 50 mm. The post 12 is set in gravel, not in concrete, so
that it stays dry. Grease on the bolt 28 lasts for about two years, and a drop of oil on the
pin 22 for one. None of the parts has to be adjusted after the first week, in which the rope
16 may stretch by 20 mm."""
THIRD = """CLAIMS
     1. A gate comprising a post, a hinge, and a weight on a rope that closes the gate.
     2. The gate of claim 1, wherein the rope runs over a pulley."""
PAGES = [FIRST, SECOND, THIRD]


def _printed(canvas: Canvas, number: int) -> None:
    canvas.setFont("Times-Roman", 12)
    if number == 1:
        canvas.drawCentredString(306, 720, "GATE WITH A CLOSING WEIGHT")
    for at, line in enumerate(PAGES[number - 1].splitlines()):
        indent = 36 if line.startswith(" ") else 0
        if line.isupper():
            canvas.drawCentredString(306, 690 - 24 * at, line)
        else:
            canvas.drawString(72 + indent, 690 - 24 * at, line.strip())
    canvas.drawCentredString(306, 40, str(number))


def _scanned(data: bytes, dpi: int = 300, skew: float = 0.4) -> bytes:
    printed, out = Document(data), io.BytesIO()
    canvas = Canvas(out, pagesize=LETTER, invariant=True)
    for number in range(1, len(printed) + 1):
        with printed.page(number) as page:
            raster = page.raster(round(8.5 * dpi), 11 * dpi)[:, :, 0]
        askew = Image.fromarray(np.ascontiguousarray(raster)).rotate(skew, Image.Resampling.BICUBIC, fillcolor=255)
        canvas.drawImage(ImageReader(askew.convert("1")), 0, 0, *LETTER)
        canvas.showPage()
    printed.close()
    canvas.save()
    return out.getvalue()


@pytest.fixture(scope="module")
def scan(draw, tmp_path_factory):
    """The facts of the scan."""
    data = _scanned(draw(*(lambda canvas, n=n: _printed(canvas, n) for n in (1, 2, 3)), size=LETTER))
    path = tmp_path_factory.mktemp("scan") / "specification.pdf"
    path.write_bytes(data)
    progress = Progress(Entry(path.name, len(data), ""), Limits())
    for answer in document.read(document.Job(str(path))):
        progress.take(answer)
    return progress.facts()


@pytest.fixture(scope="module")
def papers(scan):
    """The scan as papers, of which nothing can be read for sure."""
    found = find_papers([scan], BUILT_IN_ROLES, Declared())
    assert all(paper.text_unread for paper in found)
    return found


@pytest.fixture(scope="module")
def read(papers):
    """The filing with what the scan seems to say."""
    return as_read(msgspec.structs.replace(filing({"papers": []}), papers=papers))


def _words(text: str) -> str:
    return " ".join(text.split())


def test_lines_say_what_was_printed(read):
    """Of 2,400 characters at most one in two hundred is another one; spaces count."""
    (paper,) = read.papers
    for page, printed in zip(paper.pages, PAGES, strict=True):
        lines = sorted(page.lines, key=lambda line: (round(line.box.middle[1], 1), line.box.left))
        seen = _words(" ".join(line.text for line in lines))
        kept = difflib.SequenceMatcher(None, _words(printed), seen, autojunk=False).get_matching_blocks()
        assert sum(block.size for block in kept) >= 0.995 * len(_words(printed))


def test_title_parts_figures_and_claims_are_found(read):
    found = specification(read)
    assert found.title.value == "GATE WITH A CLOSING WEIGHT"
    parts = [section.part for section in found.sections if section.heading]
    assert parts == ["field", "background", "figures", "description", "claims"]
    assert [view.figures for view in found.views] == [("1",), ("2",)]
    assert [claim.number for claim in found.claims] == [1, 2]


def test_reference_characters_are_paired_and_quantities_are_not(read):
    names = {(one.text, one.head) for one in described(read.papers).mentions}
    printed = (
        "10 gate, 12 post, 14 hinge, 16 rope, 18 pulley, 20 weight, 22 pin, 24 sleeve, 26 leaves, 28 bolt, 30 catch"
    )
    assert names == {tuple(pair.split()) for pair in printed.split(", ")}


@pytest.mark.parametrize("more", [[], ["32"]], ids=["as described", "one character more"])
def test_drawings_are_held_against_it(papers, more):
    """What agrees is met; the character that the scan does not name is asked about and nothing else is."""
    upper, lower = ["10", "12", "14", "16", "18", "20", "22", "24", "30"], ["14", "26", "28", *more]
    drawn = [
        {"text": [{"text": text, "at": [4, 4 + 1.5 * at]} for at, text in enumerate([f"FIG. {number}", *some])]}
        for number, some in ((1, upper), (2, lower))
    ]
    sheets = filing({"papers": [{"role": "drawings", "pages": drawn}]})
    whole = msgspec.structs.replace(sheets, papers=(*papers, *sheets.papers))
    ids = {f"us.drawing.{name}" for name in ("figures-described", "figures-present", "orphan-in-text")}
    rules = [one for one in requirements(office="us") if one.id in {*ids, "us.drawing.orphan-in-drawing"}]
    states = {one.requirement.id: one for one in examine(whole, rules, KNOWN, None, {})}
    assert {state(states[name]) for name in ids} == {"met"}
    asked = [one for one in states["us.drawing.orphan-in-drawing"].outcomes if isinstance(one, Unread)]
    assert [(one.doubt, one.at.page) for one in asked] == [(True, 2) for _ in more]
    assert all("32" in one.why for one in asked)


def test_figures_and_page_numbers_are_read(read):
    (paper,) = read.papers
    assert {one.name for one in named_figures([paper])} == {"1", "2"}
    assert [one.value for one in page_numbers(paper)] == [1, 2, 3]


def test_places_are_those_of_the_print(read):
    """The title stands 72 pt below the upper edge; the page lies 0.4 degrees askew."""
    title = specification(read).title.box
    assert title.bottom == pytest.approx(72 / 72 * 2.54, abs=0.15)
    assert title.middle[0] == pytest.approx(21.59 / 2, abs=0.15)


def test_what_was_read_keeps_apart_from_lines_and_readings(scan):
    _, full, short = scan.pages
    assert full.lines == short.lines == ()
    assert full.readings is None
    assert full.readings_unread == images.TEXT
    assert all(one.columns == () for one in full.writing)
    assert short.writing is None  # so few lines may also be those of a sheet
    assert short.readings


def test_a_file_with_more_pages_is_not_read_for_its_text(scan):
    """A reader of thousands of pages would not end before midnight."""
    asked = []

    class Double:
        def look(self, number: int, _width: float, _height: float, *, text: bool) -> Look:
            asked.append((number, text))
            return Look(None)

    pages = {page.number: page for page in scan.pages}
    for most in (3, 2):
        asked.clear()
        list(document._looks(Double(), pages, {}, text=len(pages) <= Limits(text_pages=most).text_pages))
        assert asked == [(1, most == 3), (2, most == 3), (3, most == 3)]


def test_what_is_late_is_unread_as_before(scan):
    """A look that is stopped costs the words of that page, and so those of the paper."""
    progress = Progress(Entry("scan.pdf", 1, ""), Limits())
    progress.take(Opened(None, 1))
    page = scan.pages[0]
    progress.take(PageRead(Page(page.number, page.width, page.height, pictures=page.pictures)))
    progress.take(document.Looking((1,)))
    progress.stopped("reading it took too long")
    (stopped,) = progress.facts().pages
    assert stopped.writing is None
    assert stopped.readings_unread == "reading it took too long"
