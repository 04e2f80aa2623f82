"""A font counts where it shows text, not where it is listed."""

from __future__ import annotations

import io

import pikepdf
import pytest
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from preflight.reading.structure import OpenPdf
from preflight.reading.structure.fonts import read_fonts

HELVETICA = b"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>"


@pytest.fixture(scope="module", autouse=True)
def _vera() -> None:
    pdfmetrics.registerFont(TTFont("Vera", "Vera.ttf"))


@pytest.fixture
def fonts_of(facts_of):
    def fonts(data: bytes) -> dict[str, object]:
        structure = facts_of(data).structure
        assert structure.unread is None
        return {font.name: font for font in structure.fonts}

    return fonts


def _built(content: bytes, **resources: object) -> bytes:
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(300, 300))
    page.Contents = pdf.make_stream(content)
    font = pdf.make_indirect(pikepdf.Object.parse(HELVETICA))
    page.Resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(F=font))
    for kind, make in resources.items():
        page.Resources[f"/{kind}"] = make(pdf, font)
    out = io.BytesIO()
    pdf.save(out)
    return out.getvalue()


def _form(content: bytes):
    def make(pdf: pikepdf.Pdf, font: pikepdf.Object) -> pikepdf.Dictionary:
        stream = pdf.make_stream(content)
        stream.Subtype, stream.BBox = pikepdf.Name.Form, pikepdf.Array([0, 0, 300, 300])
        stream.Resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(F=font))
        return pikepdf.Dictionary(X=stream)

    return make


def test_standard_fonts_are_not_embedded_and_true_type_is(draw, fonts_of):
    def first(canvas) -> None:
        canvas.setFont("Times-Roman", 12)
        canvas.drawString(100, 700, "standard")

    def second(canvas) -> None:
        canvas.setFont("Vera", 12)
        canvas.drawString(100, 700, "embedded")
        first(canvas)

    fonts = fonts_of(draw(first, second))
    assert {name: (font.embedded, font.pages) for name, font in fonts.items()} == {
        "Times-Roman": (False, (1, 2)),
        "BitstreamVeraSans-Roman": (True, (2,)),
    }
    assert fonts["BitstreamVeraSans-Roman"].kind == "TrueType"


@pytest.mark.parametrize(
    ("content", "used"),
    [
        (b"BT /F 12 Tf (shown) Tj ET", True),
        (b"BT /F 12 Tf [(sh) -20 (own)] TJ ET", True),
        (b"BT /F 12 Tf (shown) ' ET", True),
        (b"BT /F 12 Tf ET", False),
        (b"BT /F 12 Tf () Tj [() 5] TJ ET", False),
        (b"BT (no font) Tj ET", False),
        (b"q BT /F 12 Tf ET Q BT (font is gone) Tj ET", False),
        (b"BT /G 12 Tf (font is not there) Tj ET", False),
        (b"Q Q Q gs Do Tf BT /F 12 Tf (shown) Tj ET", True),
    ],
)
def test_what_counts_as_used(facts_of, content: bytes, used: bool):
    fonts = facts_of(_built(content)).structure.fonts
    assert [font.name for font in fonts] == (["Helvetica"] if used else [])


def test_text_that_is_never_painted_makes_its_font_invisible(fonts_of):
    assert fonts_of(_built(b"BT /F 12 Tf 3 Tr (layer) Tj ET"))["Helvetica"].invisible
    assert not fonts_of(_built(b"BT /F 12 Tf 3 Tr (layer) Tj 0 Tr (ink) Tj ET"))["Helvetica"].invisible


def test_forms_patterns_and_masks_are_walked(fonts_of):
    text = b"BT /F 12 Tf (shown) Tj ET"
    assert "Helvetica" in fonts_of(_built(b"/X Do", XObject=_form(text)))
    assert not fonts_of(_built(b"", XObject=_form(text)))

    def pattern(pdf, font):
        made = _form(text)(pdf, font)
        made.X.PatternType = 1
        del made.X["/Subtype"]
        return made

    assert "Helvetica" in fonts_of(_built(b"/Pattern cs /X scn 0 0 9 9 re f", Pattern=pattern))

    def mask(pdf, font):
        return pikepdf.Dictionary(G=pikepdf.Dictionary(SMask=pikepdf.Dictionary(G=_form(text)(pdf, font).X)))

    assert "Helvetica" in fonts_of(_built(b"/G gs", ExtGState=mask))


def test_a_font_may_come_with_the_graphics_state(fonts_of):
    def state(pdf, font):
        return pikepdf.Dictionary(G=pikepdf.Dictionary(Font=pikepdf.Array([font, 12])))

    assert "Helvetica" in fonts_of(_built(b"/G gs BT (shown) Tj ET", ExtGState=state))


def test_a_form_that_shows_itself_ends(facts_of):
    def loop(pdf, font):
        made = _form(b"/X Do BT /F 12 Tf (shown) Tj ET")(pdf, font)
        made.X = pdf.make_indirect(made.X)
        made.X.Resources.XObject = made
        return made

    assert facts_of(_built(b"/X Do", XObject=loop)).structure.fonts


def test_a_font_of_a_field_only_is_marked(draw, fonts_of):
    def form(canvas) -> None:
        canvas.setFont("Times-Roman", 12)
        canvas.drawString(72, 700, "label")
        canvas.acroForm.textfield(name="t", value="filled", x=72, y=600, width=200, height=20, fontName="Courier")

    fonts = fonts_of(draw(form))
    assert (fonts["Times-Roman"].in_field, fonts["Courier"].in_field) == (False, True)


def test_type_three_counts_as_embedded(facts_of):
    font = (
        b"<< /Type /Font /Subtype /Type3 /FontBBox [0 0 1 1] /FontMatrix [1 0 0 1 0 0] /CharProcs << >> "
        b"/Encoding << /Differences [65 /A] >> /FirstChar 65 /LastChar 65 /Widths [1] >>"
    )

    def resources(pdf, _font):
        return pikepdf.Dictionary(T=pdf.make_indirect(pikepdf.Object.parse(font)))

    (found,) = facts_of(_built(b"BT /T 12 Tf (A) Tj ET", Font=resources)).structure.fonts
    assert (found.kind, found.embedded) == ("Type3", True)


@pytest.mark.parametrize("inside", [True, False])
def test_a_composite_font_is_embedded_where_its_descendant_is(facts_of, inside: bool):
    def resources(pdf, _font):
        descriptor = pikepdf.Dictionary(Type=pikepdf.Name.FontDescriptor, FontName=pikepdf.Name.Kana)
        if inside:
            descriptor.FontFile2 = pdf.make_stream(b"program")
        below = pikepdf.Dictionary(Subtype=pikepdf.Name.CIDFontType2, FontDescriptor=descriptor)
        whole = pikepdf.Dictionary(Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type0)
        whole.BaseFont, whole.DescendantFonts = pikepdf.Name("/ABCDEF+Kana"), pikepdf.Array([below])
        return pikepdf.Dictionary(T=whole)

    (found,) = facts_of(_built(b"BT /T 12 Tf <0001> Tj ET", Font=resources)).structure.fonts
    assert (found.name, found.kind, found.embedded) == ("Kana", "Type0", inside)


def test_a_stream_that_cannot_be_decoded_is_said_and_the_rest_is_known(facts_of):
    def broken(pdf, font):
        made = _form(b"")(pdf, font)
        made.X = pdf.make_indirect(made.X)
        made.X.write(b"no deflate at all", filter=pikepdf.Name.FlateDecode)
        return made

    structure = facts_of(_built(b"/X Do BT /F 12 Tf (shown) Tj ET", XObject=broken)).structure
    assert [font.name for font in structure.fonts] == ["Helvetica"]
    assert structure.unread.startswith("the fonts of page 1 could not all be read (qpdf: ")


def test_a_walk_that_takes_too_long_is_said(draw):
    opened = OpenPdf(draw(lambda c: c.drawString(9, 9, "shown")))
    assert read_fonts(opened, until=0.0) == (
        (),
        "the fonts from page 1 on were not looked at: it took too long",
    )
