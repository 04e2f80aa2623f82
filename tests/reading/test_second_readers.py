"""Facts held against what other programs read from the same files: poppler's tools, qpdf, pdfminer.six.

poppler and qpdf are Debian's packages poppler-utils, poppler-data and qpdf; where they are not installed these tests
are skipped and say so. `.ci/run` installs them where it can.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import time
import unicodedata
from functools import cache
from pathlib import Path

import pytest
from pdfminer.high_level import extract_pages
from pdfminer.layout import LTTextContainer, LTTextLine

from preflight.bundle import read_folder
from preflight.facts import CM_PER_PT, FileFacts, Structure
from preflight.reading import Cache, read_files
from preflight.reading.structure import NotOpened, OpenPdf, read_structure

BUNDLES = Path(__file__).parents[2] / "sample_bundles"
HOSTILE = Path(__file__).parents[3] / "shared" / "hostile_pdfs"
FILES = sorted(BUNDLES.glob("*/*.pdf"))
NAMES = [f"{path.parent.name}/{path.name}" for path in FILES]
every_file = pytest.mark.parametrize("path", FILES, ids=NAMES)
pytestmark = pytest.mark.reference


def needs(*programs: str) -> pytest.MarkDecorator:
    """Skips, visibly, where a program is not installed."""
    missing = [program for program in programs if shutil.which(program) is None]
    return pytest.mark.skipif(bool(missing), reason=f"{', '.join(missing)} is not installed here")


@cache
def facts(folder: Path) -> dict[str, FileFacts]:
    """The facts of every file of a bundle."""
    kept = Path(os.environ["PREFLIGHT_TESTS_KEEP"]) / "preflight-facts"  # where the program keeps it, too
    cache = Cache(kept, now=time.time(), say=str)
    return {file.name: file for file in read_files(folder, read_folder(folder).files, cache=cache)}


def facts_of(path: Path) -> FileFacts:
    """The facts of one file."""
    return facts(path.parent)[path.name]


def said_by(program: str, path: Path, *options: str, rest: tuple[str, ...] = ()) -> str:
    """What a program prints of a file."""
    done = subprocess.run([program, *options, str(path), *rest], capture_output=True, check=False, timeout=60)
    return done.stdout.decode("utf-8", "replace")


@needs("pdfinfo")
@every_file
def test_pdfinfo_sees_the_same_pages_sizes_and_security(path: Path) -> None:
    said = said_by("pdfinfo", path, "-f", "1", "-l", "999")
    mine = facts_of(path)
    sizes = re.findall(r"^Page +\d+ size: +([\d.]+) x ([\d.]+) pts", said, re.MULTILINE)
    turns = [int(turn) for turn in re.findall(r"^Page +\d+ rot: +(\d+)", said, re.MULTILINE)]
    assert len(sizes) == len(mine.pages)
    for page, (width, height), turn in zip(mine.pages, sizes, turns, strict=True):
        sides = [float(width) * CM_PER_PT, float(height) * CM_PER_PT]
        assert [page.width, page.height] == pytest.approx(sides[::-1] if turn in (90, 270) else sides, abs=0.01)
        assert page.rotate == turn
    assert mine.structure is not None
    assert mine.structure.encrypted == ("Encrypted:       yes" in said)
    assert f"PDF version:     {mine.structure.version}" in said


def poppler_fonts(path: Path) -> set[tuple[str, bool, bool]]:
    """Name, whether embedded, whether a subset, as pdffonts lists the fonts that the resources hold.

    Without Debian's package poppler-data it leaves out fonts of East Asian scripts, and says so.
    """
    done = subprocess.run(["pdffonts", str(path)], capture_output=True, check=False, timeout=60)
    if b"Missing language pack" in done.stderr:
        pytest.skip("poppler-data is not installed here")
    rows = done.stdout.decode("utf-8", "replace").splitlines()[2:]
    found = (
        re.match(r"^(.+?) +(?:Type|CID|TrueType|unknown).* (yes|no) +(yes|no) +(?:yes|no) +\d+ +\d+$", r) for r in rows
    )
    return {(bare(m[1].strip().replace("[none]", ""))[:29], m[2] == "yes", m[3] == "yes") for m in found if m}


def shown_fonts(structure: Structure) -> set[tuple[str, bool, bool]]:
    """The same of the fonts that show text."""
    return {(font.name[:29], font.embedded, font.subset) for font in structure.fonts}


def plain(text: str) -> str:
    """Ligatures taken apart."""
    return unicodedata.normalize("NFKC", text)


def bare(name: str) -> str:
    """A font's name without the mark of a subset (ISO 32000-1, 9.6.4)."""
    return re.sub(r"^[A-Z]{6}\+", "", name)


@needs("pdffonts")
@every_file
def test_pdffonts_sees_the_same_fonts(path: Path) -> None:
    structure = facts_of(path).structure
    assert structure is not None
    assert shown_fonts(structure) == poppler_fonts(path)


LISTED_ONLY = "the resources list it and nothing shows text in it (PDFium agrees)"
STANDARD = {"Helvetica", "Helvetica-Oblique", "Times-Roman", "Times-Bold", "Times-Italic", "Times-BoldItalic"}
OTHERWISE: dict[str, tuple[set[str], set[str], str]] = {
    "pdfium__testing__resources__bug_487928.pdf": (set(), {"Helvetica"}, LISTED_ONLY),
    "pdfium__testing__resources__pixel__bug_1308.pdf": (set(), {"Ryumin-Light-90ms-RKSJ-H"}, LISTED_ONLY),
    "pdfium__testing__resources__split_streams.pdf": (set(), {"Helvetica", "Times-Roman"}, LISTED_ONLY),
    "pdfminer.six__samples__contrib__2b.pdf": (
        {"F00000020", "F00000054"},
        {""},
        "Type 3 fonts have no BaseFont; we take their Name",
    ),
    "pdfminer.six__samples__scancode__patchelf.pdf": (
        set(),
        {"TimesNewRoman"},
        "the page's content cannot be unpacked, which is said; PDFium finds no text either",
    ),
    "pypdf__resources__indirect-rotation.pdf": (set(), STANDARD, LISTED_ONLY),
    "qpdf__qpdf__qtest__qpdf__button-set-out.pdf": (set(), {"DejaVuSans", "LiberationSans"}, LISTED_ONLY),
    "qpdf__qpdf__qtest__qpdf__direct-dr-out.pdf": (set(), {"ZapfDingbats"}, LISTED_ONLY),
    "qpdf__qpdf__qtest__qpdf__direct-pages.pdf": ({"Helvetica"}, set(), "poppler does not take a page that is direct"),
    "qpdf__qpdf__qtest__qpdf__form-filled-with-atril.pdf": (set(), {"LiberationSans"}, LISTED_ONLY),
    "qpdf__qpdf__qtest__qpdf__need-appearances-more-out.pdf": (set(), {"DejaVuSans", "LiberationSans"}, LISTED_ONLY),
    "qpdf__qpdf__qtest__qpdf__need-appearances.pdf": (set(), {"DejaVuSans", "LiberationSans"}, LISTED_ONLY),
    "qpdf__qpdf__qtest__qpdf__need-appearances2.pdf": (set(), {"DejaVuSans", "LiberationSans"}, LISTED_ONLY),
    "qpdf__qpdf__qtest__qpdf__numeric-and-string-1.pdf": (set(), {"Courier"}, LISTED_ONLY),
    "qpdf__qpdf__qtest__qpdf__overlay-copy-annotations-p2.pdf": (set(), {"ZapfDingbats"}, LISTED_ONLY),
    "qpdf__qpdf__qtest__qpdf__resource-from-dr.pdf": (set(), {"DejaVuSans", "LiberationSans"}, LISTED_ONLY),
    "qpdf__qpdf__qtest__qpdf__terminate-parsing.pdf": (set(), {"Helvetica"}, "the page's content ends before it"),
    "qpdf__qpdf__qtest__qpdf__test79.pdf": (set(), {"Helvetica"}, "the page's content is no content"),
}
"""Awkward files of which the two say different things: fonts that only we see, that only poppler sees, and why."""


@needs("pdffonts")
@pytest.mark.hostile
@pytest.mark.skipif(not HOSTILE.is_dir(), reason="the awkward PDFs are not beside this checkout")
@pytest.mark.parametrize("path", sorted(HOSTILE.glob("*.pdf")), ids=lambda path: path.name)
def test_pdffonts_sees_the_same_fonts_in_awkward_files(path: Path) -> None:
    try:
        structure = read_structure(OpenPdf(path.read_bytes()), seconds=30)
    except NotOpened:
        pytest.skip("it does not open")
    mine, theirs = shown_fonts(structure), poppler_fonts(path)
    only_we, only_they, _why = OTHERWISE.get(path.name, (set(), set(), ""))
    assert {name for name, *_ in mine - theirs} == only_we
    assert {name for name, *_ in theirs - mine} == only_they


@needs("pdfimages")
@every_file
def test_pdfimages_sees_the_same_pictures(path: Path) -> None:
    rows = [row.split() for row in said_by("pdfimages", path, "-list").splitlines()[2:]]
    theirs = sorted((int(r[0]), int(r[3]), int(r[4]), min(int(r[12]), int(r[13]))) for r in rows if r[2] == "image")
    mine = sorted((p.number, i.width, i.height, round(i.dpi)) for p in facts_of(path).pages for i in p.pictures)
    assert [one[:3] for one in mine] == [one[:3] for one in theirs]
    assert [one[3] for one in mine] == pytest.approx([one[3] for one in theirs], abs=2)


@needs("pdftotext")
@every_file
def test_pdftotext_sees_the_same_words_at_the_same_places(path: Path) -> None:
    """Each word of four letters or more lies within a line of ours that holds it. Boxes of poppler are font boxes."""
    mine = facts_of(path)
    if mine.structure and mine.structure.encrypted:
        pytest.skip("pdftotext heeds what the owner forbids")
    pages = said_by("pdftotext", path, "-bbox", rest=("-",)).split("<page ")[1:]
    word = re.compile(r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([A-Za-z]{4,})</word>')
    for page, text in zip(mine.pages, pages, strict=True):
        if page.rotate:  # the tool gives places before the page is turned
            continue
        for left, top, right, bottom, letters in word.findall(text):
            across = (float(left) + float(right)) / 2 * CM_PER_PT
            down = (float(top) + float(bottom)) / 2 * CM_PER_PT
            near = [ln for ln in page.lines if ln.box.grown(0.25).left <= across <= ln.box.grown(0.25).right]
            assert any(letters in plain(ln.text) and abs(ln.box.middle[1] - down) < 0.35 for ln in near), (
                page.number,
                letters,
            )


@every_file
def test_pdfminer_sees_the_same_text_at_the_same_height(path: Path) -> None:
    """Every upright line that pdfminer.six finds begins and ends where one of ours does."""
    mine = facts_of(path)
    for page, layout in zip(mine.pages, extract_pages(str(path)), strict=True):
        for line in (
            one for box in layout if isinstance(box, LTTextContainer) for one in box if isinstance(one, LTTextLine)
        ):
            words = plain(line.get_text()).split()
            if len(words) < 4 or page.rotate:
                continue
            down = page.height - (line.y0 + line.y1) / 2 * CM_PER_PT
            assert any(words[0] in plain(ln.text) and abs(ln.box.middle[1] - down) < 0.35 for ln in page.lines), words


@needs("qpdf")
@every_file
def test_qpdf_finds_no_fault_where_we_find_none(path: Path) -> None:
    done = subprocess.run(["qpdf", "--check", str(path)], capture_output=True, check=False, timeout=60)
    structure = facts_of(path).structure
    assert structure is not None
    assert (done.returncode == 0) == (not structure.repairs), done.stderr.decode()
