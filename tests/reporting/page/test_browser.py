"""The page in a real browser: quiet, by itself, its marks on the ink; on narrow screens, on paper, by keyboard."""

from __future__ import annotations

import datetime as dt
import hashlib
import time
import unicodedata
from pathlib import Path
from typing import Any

import cv2
import msgspec
import numpy as np
import numpy.typing as npt
import pikepdf
import pypdfium2
import pytest
from reportlab.pdfgen.canvas import Canvas

from preflight.engine import Request, check_folder
from preflight.facts import PT_PER_CM, Box, Entry, FileFacts, Page
from preflight.plugging import built_in, registry_of
from preflight.reading import clip
from preflight.reporting import page as page_module
from preflight.reporting.page import to_page
from preflight.reporting.page.pictures import ROOM
from preflight.reporting.pictured import with_pictures
from preflight.reporting.report import Place, Report

pytestmark = [pytest.mark.browser, pytest.mark.xdist_group("browser")]

REPORTS = Path(__file__).parents[1] / "reports"
NOON = dt.datetime(2026, 11, 25, 17, tzinfo=dt.UTC)
A4 = (21.0, 29.7)
SQUARES = {1: [Box(4, 6, 5, 7), Box(15, 25, 16.5, 25.4)], 2: [Box(20, 3, 21, 5)]}
"""What is drawn on which page, in cm of the page as displayed: page 2 is shown turned by 90 degrees."""
TRICKS = '<script>document.title="taken"</script><img src=x onerror="document.title=1">\u202egnp.exe\x07'


def made(report: Report, folder: Path, name: str) -> Path:
    page = folder / f"{name}.html"
    page.write_text(to_page(report), encoding="utf-8")
    return page


@pytest.fixture(scope="session")
def everything() -> Report:
    return msgspec.json.decode((REPORTS / "everything.json").read_bytes(), type=Report)


@pytest.fixture(scope="session")
def plain(everything: Report, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of a report with one of everything."""
    return made(everything, tmp_path_factory.mktemp("plain"), "everything")


@pytest.fixture(scope="session")
def reloading(everything: Report, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same while the folder is watched."""
    page = tmp_path_factory.mktemp("reloading") / "watched.html"
    page.write_text(to_page(everything, reloading=True), encoding="utf-8")
    return page


@pytest.fixture(scope="session")
def squares(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A PDF with filled squares at known places."""
    path = tmp_path_factory.mktemp("squares") / "squares.pdf"
    canvas = Canvas(str(path), pagesize=(A4[0] * PT_PER_CM, A4[1] * PT_PER_CM))
    for box in SQUARES[1]:
        fill(canvas, box)
    canvas.showPage()
    for box in SQUARES[2]:  # turned back: what is x from the left as displayed is x from the foot of the sheet
        fill(canvas, Box(box.top, A4[1] - box.right, box.bottom, A4[1] - box.left))
    canvas.save()
    with pikepdf.open(path, allow_overwriting_input=True) as pdf:
        pdf.pages[1].Rotate = 90
        pdf.save(path)
    return path


def fill(canvas: Canvas, box: Box) -> None:
    corner = (box.left * PT_PER_CM, (A4[1] - box.bottom) * PT_PER_CM)
    canvas.rect(*corner, box.width * PT_PER_CM, box.height * PT_PER_CM, stroke=0, fill=1)


@pytest.fixture(scope="session")
def marked(everything: Report, squares: Path) -> Path:
    """The page of a report that names each square, with pictures made by the reader of this project."""
    data = squares.read_bytes()
    entry = Entry(squares.name, len(data), hashlib.sha256(data).hexdigest())
    facts = FileFacts(squares.name, len(data), entry.sha256, pages=(Page(1, *A4), Page(2, *reversed(A4))))
    places = tuple(
        Place(squares.name, entry.sha256, "drawings", page, box) for page, boxes in SQUARES.items() for box in boxes
    )
    found = msgspec.structs.replace(everything.findings[0], places=places)
    report = msgspec.structs.replace(everything, findings=(found,), by_hand=())
    shown = with_pictures(report, [facts], lambda cuts: clip(squares.parent, [entry], cuts), "findings")
    return made(shown, squares.parent, "marked")


@pytest.fixture(scope="session")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of a bundle whose names, title, text, fields and properties try to become markup."""
    folder = tmp_path_factory.mktemp("hostile") / "<b onclick=x>bundle"
    folder.mkdir()
    path = folder / "<img src=x onerror=alert(1)>\u202efdp.pdf"
    canvas = Canvas(str(path), pagesize=(612, 792))
    canvas.setTitle(TRICKS)
    canvas.setAuthor('"><script>alert(2)</script>')
    lines = (
        "SPECIFICATION",
        f"TITLE: {TRICKS[:60]}",
        "FIELD",
        "A <script>lever</script> 12 shown in FIG. 1.",
        "TODO </style>",
    )
    for line, text in enumerate(lines):
        canvas.drawString(72, 720 - 24 * line, text)
    canvas.acroForm.textfield(name='"><b onmouseover=x>', value="x", x=72, y=500, tooltip="</title><script>")
    canvas.save()
    with pikepdf.open(path, allow_overwriting_input=True) as pdf:
        pdf.Root.AcroForm.Fields[0].V = pikepdf.String(TRICKS)
        pdf.save(path)
    (folder / "<script>alert(3)<").write_text(TRICKS, encoding="utf-8")
    registry = registry_of(built_in())
    report = check_folder(folder, Request(), now=NOON, registry=registry, pictures="findings")
    assert report.findings
    return made(report, folder.parent, "hostile")


@pytest.mark.parametrize("name", ["plain", "marked", "hostile", "reloading"])
def test_it_is_quiet_and_asks_nobody_for_anything(browser: Any, name: str, request: pytest.FixtureRequest) -> None:
    page = request.getfixturevalue(name)
    browser.open(page)
    assert browser.complaints() == []
    assert {url.split(",")[0] if url.startswith("data:") else url for url in browser.requests()} <= {
        page.as_uri(),
        *("data:image/webp;base64", "data:image/png;base64"),
    }


def test_its_policy_is_obeyed(browser: Any, plain: Path) -> None:
    """The browser refuses what the page may not do: without this the tests above would prove nothing."""
    browser.open(plain)
    forbidden = '<img src="https://example.org/a.png"><p style="top: 1px">'
    browser.run("document.body.insertAdjacentHTML('beforeend', arguments[0])", forbidden)
    said = " ".join(browser.complaints())
    assert "img-src" in said
    assert "style-src" in said


def test_a_hostile_bundle_shows_as_harmless_text(browser: Any, hostile: Path) -> None:
    browser.open(hostile)
    assert browser.run("return document.title").endswith("(<b onclick=x>bundle)")
    assert (
        browser.run("return document.querySelectorAll('script, img, iframe, object, form, input, [onclick]').length")
        == 0
    )
    said = browser.run("return document.body.innerText")
    assert r"<img src=x onerror=alert(1)>\u202efdp.pdf" in said
    assert "<script>alert(3)<" in said
    assert not {"\u202e", "\x07"} & set(said)


FIGURES = """
return [...document.querySelectorAll('article svg')].map(svg => {
  const at = r => { const b = r.getBoundingClientRect();
    return [b.left + scrollX, b.top + scrollY, b.width, b.height]; };
  const origin = svg.createSVGPoint().matrixTransform(svg.getScreenCTM());
  const cm = svg.getScreenCTM().a;
  return {said: svg.getAttribute('aria-label'), cm, left: origin.x + scrollX, top: origin.y + scrollY,
          view: svg.getAttribute('viewBox').split(' ').map(Number), marks: [...svg.querySelectorAll('.mark')].map(at)};
});
"""
"""The pictures of the findings: pixels in a cm, where the corner of the sheet lies, and where each mark is painted."""


def test_the_marks_lie_on_the_ink_that_they_name(browser: Any, marked: Path) -> None:
    browser.open(marked)
    figures = browser.run(FIGURES)
    assert len(figures) == 2 + sum(map(len, SQUARES.values())), "each page, and each square enlarged"
    for figure in figures:
        page = int(figure["said"].split("page ")[1].split(",")[0])
        named = [box for box in SQUARES[page] if inside(box, figure["view"])]
        assert len(figure["marks"]) == len(named)
        near = 1 / figure["cm"] + 0.04  # a pixel of the screen and one of the picture
        for mark in figure["marks"]:
            ink = ink_in(browser.picture(*mark, 4)) / 4 / figure["cm"]
            at = (np.array(mark[:2]) - corner(figure)) / figure["cm"]
            framed = Box(*(ink[:2] + at), *(ink[2:] + at))
            assert min(apart(framed, box) for box in named) < near, figure["said"]
            assert ink[:2].tolist() == pytest.approx([ROOM, ROOM], abs=near), "the mark stands off, and close by"


def inside(box: Box, view: list[float]) -> bool:
    left, top, width, height = view
    return left <= box.left and top <= box.top and box.right <= left + width and box.bottom <= top + height


def corner(figure: dict[str, Any]) -> npt.NDArray[np.float64]:
    return np.array([figure["left"], figure["top"]])


def apart(one: Box, other: Box) -> float:
    """The largest distance of two sides, in cm."""
    return max(abs(getattr(one, side) - getattr(other, side)) for side in ("left", "top", "right", "bottom"))


def ink_in(picture: npt.NDArray[np.uint8]) -> npt.NDArray[np.float64]:
    """Left, top, right and bottom of what is black in it; the pencil is blue."""
    rows, columns = np.nonzero(picture.max(axis=2) < 100)
    return np.array([columns.min(), rows.min(), columns.max() + 1, rows.max() + 1], dtype=np.float64)


def test_a_page_is_shown_as_it_is(browser: Any, marked: Path, squares: Path) -> None:
    """Held against the page as PDFium draws it, apart from the marks."""
    browser.open(marked)
    document = pypdfium2.PdfDocument(squares)
    for figure in browser.run(FIGURES):
        if "enlarged" in figure["said"]:
            continue
        page = int(figure["said"].split("page ")[1].split(",")[0])
        size = [side * figure["cm"] for side in figure["view"][2:]]
        shown = cv2.cvtColor(browser.picture(*corner(figure), *size, 1), cv2.COLOR_BGR2GRAY)
        drawn = cv2.cvtColor(np.asarray(document[page - 1].render(scale=2).to_numpy())[:, :, :3], cv2.COLOR_BGR2GRAY)
        same = cv2.resize(drawn, shown.shape[::-1], interpolation=cv2.INTER_AREA)
        apart = np.abs(shown.astype(int) - same) > 80
        apart[:, [0, -1]] = apart[[0, -1], :] = False  # the frame of the picture
        for left, top, width, height in figure["marks"]:
            x, y = round(left - figure["left"]), round(top - figure["top"])
            apart[max(0, y - 3) : y + round(height) + 3, max(0, x - 3) : x + round(width) + 3] = False
        assert apart.sum() == 0


BEYOND = """
return [...document.querySelectorAll('main *, header *')].filter(e => !e.closest('.wide') && !e.closest('svg')
  && e.getBoundingClientRect().right > 321).map(e => e.outerHTML.slice(0, 80));
"""
SMALL = """
return [...document.querySelectorAll('p, dd, dt, li, td')]
  .filter(e => parseFloat(getComputedStyle(e).fontSize) < 12).length;
"""


def test_a_watched_page_shows_what_is_written_over_it_but_not_while_it_is_read(
    browser: Any, everything: Report, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    beside = page_module._beside
    monkeypatch.setattr(page_module, "_beside", lambda name: beside(name).replace("3000", "200"))
    page = tmp_path / "watched.html"

    def write(folder: str, *, reloading: bool) -> None:
        bundle = msgspec.structs.replace(everything.bundle, folder=folder)
        page.write_text(to_page(msgspec.structs.replace(everything, bundle=bundle), reloading=reloading), "utf-8")

    def shows(folder: str, seconds: float) -> bool:
        until = time.monotonic() + seconds
        while not (seen := browser.run("return document.title").endswith(f"({folder})")) and time.monotonic() < until:
            time.sleep(0.1)
        return bool(seen)

    write("first", reloading=True)
    browser.open(page)
    browser.run("scrollTo(0, 700)")
    write("second", reloading=True)
    assert shows("second", 10)
    assert browser.run("return scrollY") == pytest.approx(700, abs=2), "the eye finds its place again"
    browser.run("document.getElementById('hold').click()")
    write("third", reloading=True)
    assert not shows("third", 1)
    browser.run("document.getElementById('hold').click(); document.querySelector('details').open = true")
    assert not shows("third", 1)
    browser.run("document.querySelector('details').open = false")
    assert shows("third", 10)
    write("last", reloading=False)
    assert shows("last", 10)
    assert browser.run("return document.querySelectorAll('script, input').length") == 0
    assert browser.complaints() == []


def test_a_narrow_screen_needs_no_scrolling_sideways(browser: Any, plain: Path, marked: Path, hostile: Path) -> None:
    """320 px: WCAG 2.2, success criterion 1.4.10; tables may scroll by themselves."""
    for page in (plain, marked, hostile):
        browser.open(page, width=320)
        assert browser.run("return document.documentElement.scrollWidth") <= 320
        assert browser.run(BEYOND) == []
        assert browser.run(SMALL) == 0


def test_the_print_holds_every_finding_and_question(browser: Any, plain: Path, everything: Report) -> None:
    browser.open(plain)
    sheets = pypdfium2.PdfDocument(browser.printed())
    printed = "\n".join(sheet.get_textpage().get_text_bounded() for sheet in sheets)
    said = " ".join(unicodedata.normalize("NFKC", printed).split())
    for finding in everything.findings:
        assert finding.id in said
    for question in everything.by_hand:
        assert question.question[:40] in said
    assert said.count("initials") == sum(question.answer is None for question in everything.by_hand)
    assert all(word in said for word in ("refusal", "notice", "advice", "not read"))


def test_the_print_in_black_and_white_keeps_the_marks(browser: Any, marked: Path) -> None:
    browser.open(marked)
    document = pypdfium2.PdfDocument(browser.printed())
    sheets = [np.asarray(page.render(scale=2, grayscale=True).to_numpy()).squeeze() for page in document]
    (found,) = [sheet for sheet in sheets if has_frame(sheet)]
    assert found.size


def has_frame(sheet: npt.NDArray[np.uint8]) -> bool:
    """Whether a filled square stands in a thin dark frame with white between."""
    dark = (sheet < 110).astype(np.uint8)
    parts = [tuple(map(int, part)) for part in cv2.connectedComponentsWithStats(dark, connectivity=8)[2][1:]]
    solid = [part for part in parts if part[4] > 0.8 * part[2] * part[3] and min(part[2:4]) >= 8]
    frames = [part for part in parts if part[4] < 0.6 * part[2] * part[3] and min(part[2:4]) >= 12]
    return any(frame[2] < 3 * square[2] and surrounds(frame, square) for square in solid for frame in frames)


def surrounds(outer: tuple[int, ...], inner: tuple[int, ...]) -> bool:
    """Left, top, width and height of both."""
    starts = all(outer[n] < inner[n] for n in (0, 1))
    return starts and all(outer[n] + outer[n + 2] > inner[n] + inner[n + 2] for n in (0, 1))


def test_the_keyboard_reaches_everything_in_the_order_of_reading(browser: Any, plain: Path) -> None:
    browser.open(plain)
    browser.press("Tab")
    assert browser.run("return document.activeElement.className") == "skip"
    browser.press("Enter")
    assert browser.run("return location.hash") == "#first"
    browser.open(plain)
    stops = "const all = [...document.querySelectorAll('a[href], summary, [tabindex]')]; return all"
    number = browser.run(f"{stops}.length")
    reached = []
    for _ in range(number):
        browser.press("Tab")
        reached.append(browser.run(f"{stops}.indexOf(document.activeElement)"))
    assert reached == list(range(number))


@pytest.mark.parametrize("name", ["plain", "marked", "hostile", "reloading"])
def test_it_keeps_nobody_out(browser: Any, axe: str, name: str, request: pytest.FixtureRequest) -> None:
    """axe-core finds no serious fault: names of parts, order of headings, contrast, tables."""
    browser.open(request.getfixturevalue(name))
    browser.run("document.getElementById('hold')?.click()")
    browser.run(axe)
    found = browser.wait("axe.run().then(r => arguments[arguments.length - 1](r.violations))")
    told = [(one["id"], one["impact"], [node["html"][:120] for node in one["nodes"][:3]]) for one in found]
    assert [one for one in told if one[1] in {"serious", "critical"}] == []
