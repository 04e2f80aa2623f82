"""Invented forms of a filing, drawn by code in four shapes, each with the truth about what is filled in.

Lay-out and wording are ours and follow no form of any office or house; people, firms and numbers are invented. Shapes:
fields to fill in, a flattened print with values beside labels above rules, one of boxes with small labels over their
values and ticks after their words, a scan of 300 dpi that lies askew with noise
and is signed by hand, and a letter of the filer's own.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import numpy as np
import pypdfium2
from PIL import Image, ImageDraw, ImageFilter
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

LETTER = (612.0, 792.0)
CM = 72 / 2.54
LEFT, VALUE, RIGHT = 2.2 * CM, 9.0 * CM, 19.2 * CM
SHAPES = ("fillable", "flattened", "boxed", "scanned", "letter")

Truth = dict[str, str]


@dataclass(frozen=True)
class Form:
    """A form by what it asks: rows of fields, a table of people, choices, a block for the signature."""

    role: str
    heading: str
    salutation: str
    fields: tuple[tuple[str, str], ...] = ()
    """Name in the truth and label, in their order."""
    people: bool = False
    choices: tuple[tuple[str, str], ...] = ()
    question: str = ""
    prose: tuple[str, ...] = ()
    truth: Truth = field(default_factory=dict)


ADA = {"inventor 1": "Ada Example", "residence 1": "Exampleville, Vermont"}
BO = {"inventor 2": "Bo Muster", "residence 2": "Musterstadt, Germany"}
TITLE = {"title": "Hose guide with a tilting roller", "docket number": "DEMO-0417"}
SIGNED = {"name of signer": "Ada Example", "date": "2026-11-20", "signature": "Ada Example"}
ENTITIES = (("undiscounted", "Undiscounted fees"), ("small", "Small entity"), ("micro", "Micro entity"))

COVER = Form(
    "cover-sheet",
    "Provisional Application: Cover Sheet of the Filer",
    "This is a provisional application for patent.",
    (
        ("title", "Title of the invention"),
        ("docket number", "Docket number"),
        ("practitioner", "Practitioner"),
        ("registration number", "Registration number"),
        ("correspondence address", "Correspondence address"),
        ("pages", "Specification, number of pages"),
        ("sheets", "Drawings, number of sheets"),
        ("total fee", "Total fee (USD)"),
    ),
    people=True,
    choices=ENTITIES,
    question="Made under a contract with an agency of the US Government",
    truth={
        **TITLE,
        **ADA,
        **BO,
        "practitioner": "Cleo Sampleton",
        "registration number": "99,999",
        "correspondence address": "Cleo Sampleton, 1 Sample Lane, Exampleville, Vermont 05000",
        "pages": "12",
        "sheets": "3",
        "total fee": "65",
        "undiscounted": "not ticked",
        "small": "not ticked",
        "micro": "ticked",
        "government": "no",
        **SIGNED,
    },
)
DATA_SHEET = Form(
    "application-data-sheet",
    "Application Data Sheet",
    "The data of this provisional application are these.",
    (
        ("title", "Title of the invention"),
        ("docket number", "Docket number"),
        ("customer number", "Customer number"),
        ("practitioner", "Representative"),
        ("registration number", "Registration number"),
    ),
    people=True,
    choices=(("small", "Small entity"),),
    truth={
        **TITLE,
        **ADA,
        **BO,
        "customer number": "98765",
        "practitioner": "Cleo Sampleton",
        "registration number": "99,999",
        "small": "ticked",
        **SIGNED,
    },
)
MICRO_INCOME = Form(
    "entity-certification",
    "Certification of Micro Entity Status (Gross Income)",
    "The signer certifies this for the application named here.",
    (
        ("first inventor", "First named inventor"),
        ("title", "Title of the invention"),
        ("docket number", "Docket number"),
    ),
    prose=(
        "The applicant is small, is named on no more than four earlier applications, and had last year",
        "no gross income above the limit of 37 CFR 1.29(a)(3); nobody above it has rights in this matter.",
    ),
    truth={**TITLE, "first inventor": "Ada Example", "basis": "income", **SIGNED},
)
MICRO_INSTITUTION = Form(
    "entity-certification",
    "Certification of Micro Entity Status (Institution of Higher Education)",
    "The signer certifies this for the application named here.",
    (
        ("first inventor", "First named inventor"),
        ("title", "Title of the invention"),
        ("docket number", "Docket number"),
    ),
    prose=("The employer who pays most of the income of the applicant is a university of the United States.",),
    truth={**TITLE, "first inventor": "Ada Example", "basis": "institution", **SIGNED},
)
FEES = Form(
    "fee-sheet",
    "Fee Sheet for a Provisional Application",
    "The fees of this application are paid herewith.",
    (("title", "Title of the invention"), ("docket number", "Docket number"), ("total fee", "Total fee (USD)")),
    choices=ENTITIES,
    truth={**TITLE, "total fee": "65", "undiscounted": "not ticked", "small": "not ticked", "micro": "ticked"},
)
SMALL = Form(
    "letter",
    "Statement of Small Entity Status",
    "The status of the applicant is stated here.",
    (("title", "Title of the invention"), ("docket number", "Docket number")),
    choices=(("small", "Small entity"),),
    truth={**TITLE, "small": "ticked", **SIGNED},
)
FORMS: Mapping[str, Form] = {
    "cover": COVER,
    "data-sheet": DATA_SHEET,
    "micro-income": MICRO_INCOME,
    "micro-institution": MICRO_INSTITUTION,
    "fees": FEES,
    "small": SMALL,
}


def made(form: Form, shape: str, *, askew: float = 0.7, damage: str = "", **other: str) -> bytes:
    """The PDF of a form in one of the shapes; `other` replaces what is filled in ("" leaves the place empty).

    `damage` is what befell a scan besides lying askew: one of DAMAGES.
    """
    truth = {**form.truth, **{key.replace("_", " "): value for key, value in other.items()}}
    if shape == "letter":
        return _drawn(lambda canvas: _Pen(canvas).letter(form, truth))
    if shape == "boxed":
        return _drawn(lambda canvas: _Pen(canvas).boxes(form, truth))
    if shape == "scanned":
        signed, unsigned = truth.get("signature", ""), {"signature": ""} if "signature" in truth else {}
        printed = _drawn(lambda canvas: _Pen(canvas).sheet(form, {**truth, **unsigned}))
        return _scanned(printed, askew, damage, signed=bool(signed))
    return _drawn(lambda canvas: _Pen(canvas, fillable=shape == "fillable").sheet(form, truth))


def _drawn(draw: Callable[[Canvas], object]) -> bytes:
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=LETTER, invariant=True)
    draw(canvas)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


class _Pen:
    """Draws rows from the top down."""

    def __init__(self, canvas: Canvas, *, fillable: bool = False) -> None:
        self.canvas, self.fillable, self.down = canvas, fillable, LETTER[1] - 2.2 * CM

    def text(
        self, words: str, *, left: float = LEFT, size: float = 10, font: str = "Helvetica", go: bool = True
    ) -> None:
        self.canvas.setFont(font, size)
        self.canvas.drawString(left, self.down, words)
        if go:
            self.down -= 0.75 * CM

    def value(self, key: str, text: str, left: float, width: float) -> None:
        """What is filled in: the field of a form, or characters over a rule."""
        if self.fillable:
            self.canvas.acroForm.textfield(
                name=key, value=text, x=left, y=self.down - 3, width=width, height=15, fontSize=9, borderWidth=0.5
            )
        else:
            self.canvas.setFont("Courier", 10)
            self.canvas.drawString(left, self.down, text)
            self.canvas.setLineWidth(0.4)
            self.canvas.line(left, self.down - 4, left + width, self.down - 4)

    def sheet(self, form: Form, truth: Truth) -> None:
        """A form with fields, or as it is printed."""
        self.text(form.heading, size=14, font="Helvetica-Bold")
        self.text(form.salutation)
        if form.people:
            self._table(truth)
        for key, words in form.fields:
            self.text(words, go=False)
            self.value(words if self.fillable else key, truth[key], VALUE, RIGHT - VALUE)
            self.down -= 0.75 * CM
        if form.question:
            self._question(form.question, truth)
        for words in form.prose:
            self.text(words, size=9)
        for key, words in form.choices:
            self._box(words, LEFT, ticked=truth[key] == "ticked")
            self.text(words, left=LEFT + 18)
        if "signature" in truth:
            self._signature(truth)

    def _table(self, truth: Truth) -> None:
        columns = (
            ("Given name", LEFT),
            ("Family name", LEFT + 4 * CM),
            ("City", LEFT + 8 * CM),
            ("State or country", LEFT + 12 * CM),
        )
        for words, left in columns:
            self.text(words, left=left, size=9, go=False)
        self.down -= 0.7 * CM
        for number in range(1, 5):
            name = truth.get(f"inventor {number}")
            if name is None:
                break
            cells = [*name.split(" ", 1), *truth[f"residence {number}"].split(", ", 1), "", ""]
            for (words, left), text in zip(columns, cells, strict=False):
                self.value(f"{words} {number}", text, left, 3.7 * CM)
            self.down -= 0.75 * CM

    def _question(self, words: str, truth: Truth) -> None:
        self.text(words, size=9, go=False)
        for answer, left in (("Yes", LEFT + 11 * CM), ("No", LEFT + 13 * CM)):
            self._box(f"{words} {answer}", left, ticked=truth["government"] == answer.lower())
            self.text(answer, left=left + 18, go=False)
        self.down -= 0.75 * CM

    def _box(self, name: str, left: float, *, ticked: bool) -> None:
        side = 0.4 * CM
        if self.fillable:
            self.canvas.acroForm.checkbox(
                name=name, checked=ticked, x=left, y=self.down - 2, size=11, buttonStyle="cross"
            )
            return
        self.canvas.setLineWidth(0.8)
        self.canvas.rect(left, self.down - 2, side, side)
        if ticked:
            self.canvas.setLineWidth(1.4)
            self.canvas.line(left + 3, self.down + 1, left + side - 3, self.down - 5 + side)
            self.canvas.line(left + 3, self.down - 5 + side, left + side - 3, self.down + 1)

    def _signature(self, truth: Truth) -> None:
        self.down -= 0.9 * CM
        written = f"/{truth['signature']}/" if truth["signature"] else ""
        rows = (("Signature", written), ("Name of the signer", truth["name of signer"]), ("Date", truth["date"]))
        for words, text in rows:
            self.text(words, go=False)
            self.value(words, text, VALUE, RIGHT - VALUE)
            self.down -= 0.75 * CM

    def boxes(self, form: Form, truth: Truth) -> None:
        """A form of boxes, two in a row, each with its small label over the value; ticks stand after their words."""
        self.text(form.heading, size=14, font="Helvetica-Bold")
        self.text(form.salutation)
        if form.people:
            self._table(truth)
        said = [(words, truth[key]) for key, words in form.fields]
        said += [(form.question, truth["government"].capitalize())] if form.question else []
        if "signature" in truth:
            written = f"/{truth['signature']}/" if truth["signature"] else ""
            said += [("Signature", written), ("Name of the signer", truth["name of signer"]), ("Date", truth["date"])]
        self.down -= 0.6 * CM
        for number, (words, text) in enumerate(said):
            left = LEFT if number % 2 == 0 else LEFT + 8.6 * CM
            self.canvas.setLineWidth(0.6)
            self.canvas.rect(left, self.down - 0.25 * CM, 8.4 * CM, 1.2 * CM)
            self.canvas.setFont("Helvetica", 7)
            self.canvas.drawString(left + 4, self.down + 0.6 * CM, words)
            self.canvas.setFont("Courier", 9 if len(text) < 40 else 5.5)
            self.canvas.drawString(left + 4, self.down, text)
            if number % 2:
                self.down -= 1.4 * CM
        self.down -= 1.4 * CM
        for words in form.prose:
            self.text(words, size=9)
        for number, (key, words) in enumerate(form.choices):
            left = LEFT + 5.5 * CM * number
            self.text(words, left=left, go=False)
            self._box(words, left + 3.6 * CM, ticked=truth[key] == "ticked")

    def letter(self, form: Form, truth: Truth) -> None:
        """The same said in a letter, each thing after its label."""
        self.text("Commissioner for Patents")
        self.text(form.heading, font="Times-Bold", size=12)
        self.text("Dear Sir or Madam,", font="Times-Roman", size=11)
        self.text(form.salutation, font="Times-Roman", size=11)
        said = [(words, truth[key]) for key, words in form.fields]
        people = [key for key in truth if key.startswith("inventor ")] if form.people else []
        said += [(f"Inventor {n}", f"{truth[key]}, {truth[f'residence {n}']}") for n, key in enumerate(people, 1)]
        said += [(form.question, truth["government"].capitalize())] if form.question else []
        for words, text in said:
            self.text(f"{words}: {text}", font="Times-Roman", size=11)
        for words in form.prose:
            self.text(words, font="Times-Roman", size=11)
        for key, words in form.choices:
            self.text(f"[{'X' if truth[key] == 'ticked' else ' '}] {words}", font="Times-Roman", size=11)
        if "signature" in truth:
            self.text("Respectfully submitted,", font="Times-Roman", size=11)
            self.text(f"Signature: /{truth['signature']}/", font="Times-Roman", size=11)
            self.text(f"Name of the signer: {truth['name of signer']}", font="Times-Roman", size=11)
            self.text(f"Date: {truth['date']}", font="Times-Roman", size=11)


DAMAGES = ("", "fax", "faint", "blurred", "dirty")
"""Nothing; two tones at 200 dpi; grey on grey; out of focus; much noise."""
SCRAWL = ((0, 20), (30, -40), (45, 35), (70, -20), (95, 25), (130, -35), (150, 30), (190, -10), (240, 20), (330, -5))
"""A signature that nobody has: corners of a stroke, in pixels."""


def _scanned(printed: bytes, askew: float, damage: str, *, signed: bool) -> bytes:
    """Drawn at 300 dpi, signed beside the word Signature, turned on the glass, with the noise of a scanner."""
    page = pypdfium2.PdfDocument(printed)[0]
    grey = page.render(scale=300 / 72, grayscale=True).to_pil().convert("L")
    words = page.get_textpage()
    found = words.search("Signature", match_case=True).get_next()
    if signed and found:
        _, low, _, _ = words.get_charbox(found[0])
        across, down = int(VALUE * 300 / 72) + 60, int((LETTER[1] - low) * 300 / 72) - 20
        ImageDraw.Draw(grey).line([(across + x, down + y) for x, y in SCRAWL], fill=20, width=7, joint="curve")
    turned = grey.rotate(-askew, resample=Image.Resampling.BICUBIC, fillcolor=255)
    if damage == "blurred":
        turned = turned.filter(ImageFilter.GaussianBlur(2.5))
    if damage == "faint":
        turned = turned.point(lambda tone: 150 + tone * 90 // 255)
    noise = np.random.default_rng(417).normal(0, 28 if damage == "dirty" else 9, (turned.height, turned.width))
    noisy = Image.fromarray(np.clip(np.asarray(turned) + noise, 0, 255).astype(np.uint8))
    if damage == "fax":
        noisy = noisy.resize((noisy.width * 2 // 3, noisy.height * 2 // 3)).point(lambda tone: 255 * (tone > 150))
    return _drawn(lambda canvas: canvas.drawImage(ImageReader(noisy), 0, 0, *LETTER))
