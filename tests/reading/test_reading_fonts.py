"""A font counts where it shows text, not where it is listed; and what it says of itself. Clauses: ISO 32000-1."""

from __future__ import annotations

import io

import pikepdf
import pytest
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from preflight.reading.structure import OpenPdf
from preflight.reading.structure.walk import walk_pages

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
    assert structure.unread.startswith("the fonts and pictures of page 1 could not all be read (qpdf: ")


def test_a_walk_that_takes_too_long_is_said(draw):
    opened = OpenPdf(draw(lambda c: c.drawString(9, 9, "shown")))
    walked = walk_pages(opened, until=0.0)
    assert (walked.faces, walked.images) == ({}, [])
    assert walked.trouble == "the fonts and pictures from page 1 on were not looked at: it took too long"


def _without_font(content: bytes):
    """A form that sets no font of its own."""

    def make(pdf: pikepdf.Pdf, font: pikepdf.Object) -> pikepdf.Dictionary:
        made = _form(content)(pdf, font)
        made.X.Resources = pikepdf.Dictionary()
        return made

    return make


@pytest.mark.parametrize(
    ("page", "form", "seen"),
    [
        (b"BT /F 12 Tf ET /X Do", b"BT (shown) Tj ET", "painted"),
        (b"BT /F 12 Tf 3 Tr ET /X Do", b"BT (shown) Tj ET", "invisible"),
        (b"BT /F 12 Tf 3 Tr ET /X Do", b"BT 0 Tr (shown) Tj ET", "painted"),
        (b"q BT /F 12 Tf ET Q /X Do", b"BT (shown) Tj ET", "not"),
        (b"/X Do", b"BT (shown) Tj ET", "not"),
        (b"BT /F 12 Tf ET /X Do", b"BT /Absent 12 Tf (shown) Tj ET", "not"),
    ],
)
def test_a_form_begins_with_the_font_of_its_place(facts_of, page: bytes, form: bytes, seen: str):
    """8.10.1: the graphics state at the time of Do is that in which the form begins."""
    fonts = facts_of(_built(page, XObject=_without_font(form))).structure.fonts
    assert [("invisible" if font.invisible else "painted") for font in fonts] == ([seen] if seen != "not" else [])


def test_one_form_in_two_places_shows_two_fonts(facts_of):
    def resources(pdf, font):
        times = pikepdf.Object.parse(HELVETICA.replace(b"Helvetica", b"Times-Roman"))
        return pikepdf.Dictionary(F=font, T=pdf.make_indirect(times))

    content = b"BT /F 12 Tf ET /X Do BT /T 12 Tf ET /X Do"
    data = _built(content, XObject=_without_font(b"BT (shown) Tj ET"), Font=resources)
    assert [font.name for font in facts_of(data).structure.fonts] == ["Helvetica", "Times-Roman"]


@pytest.mark.parametrize(("program", "used"), [(b"9 0 d0 BT /F 1 Tf (x) Tj ET", True), (b"9 0 d0 0 0 5 5 re f", False)])
def test_glyph_programs_may_show_another_font(facts_of, program: bytes, used: bool):
    """9.6.5: a glyph of a Type 3 font is a content stream with resources of its own."""

    def resources(pdf, font):
        type3 = pikepdf.Object.parse(
            b"<< /Type /Font /Subtype /Type3 /FontBBox [0 0 9 9] /FontMatrix [1 0 0 1 0 0] /FirstChar 65 /LastChar 65 "
            b"/Widths [9] /Encoding << /Differences [65 /A] >> >>"
        )
        type3.CharProcs = pikepdf.Dictionary(A=pdf.make_stream(program))
        type3.Resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(F=font))
        return pikepdf.Dictionary(T=pdf.make_indirect(type3))

    fonts = facts_of(_built(b"BT /T 12 Tf (A) Tj ET", Font=resources)).structure.fonts
    assert sorted(font.kind for font in fonts) == (["Type1", "Type3"] if used else ["Type3"])


def _true_type(flags: int | None, tables: int = 1):
    """A font file of which only the table OS/2 is there, or none; its word fsType is at 8."""
    head = b"\0\1\0\0" + tables.to_bytes(2, "big") + bytes(6)
    os2 = b"OS/2" if flags is not None else b"head"
    head += os2 + bytes(4) + (12 + 16).to_bytes(4, "big") + (96).to_bytes(4, "big")
    data = head + bytes(8) + (flags or 0).to_bytes(2, "big") + bytes(86)

    def make(pdf: pikepdf.Pdf, _font: pikepdf.Object) -> pikepdf.Dictionary:
        font = pikepdf.Object.parse(b"<< /Type /Font /Subtype /TrueType /BaseFont /ABCDEF+House >>")
        font.FontDescriptor = pikepdf.Dictionary(Flags=4, FontFile2=pdf.make_stream(data))
        return pikepdf.Dictionary(F=pdf.make_indirect(font))

    return make


@pytest.mark.parametrize(
    ("flags", "restricted"),
    [(0x0002, True), (0x0102, True), (0x0000, False), (0x0004, False), (0x0008, False), (0x0006, False), (None, False)],
)
def test_licence_bits_are_read_from_the_font_itself(facts_of, flags: int | None, restricted: bool):
    """OpenType, OS/2, fsType: bit 1 alone; with bit 2 or 3 beside it the milder one counts."""
    (font,) = facts_of(_built(b"BT /F 12 Tf (A) Tj ET", Font=_true_type(flags))).structure.fonts
    assert (font.restricted, font.subset, font.named) == (restricted, True, False)


def test_a_font_program_with_too_few_bytes_says_nothing(facts_of):
    (font,) = facts_of(_built(b"BT /F 12 Tf (A) Tj ET", Font=_true_type(2, tables=60000))).structure.fonts
    assert font.restricted  # the table comes first: what else is announced does not matter
    (font,) = facts_of(_built(b"BT /F 12 Tf (A) Tj ET", Font=_true_type(None, tables=60000))).structure.fonts
    assert not font.restricted


@pytest.mark.parametrize(
    ("entries", "named"),
    [
        (b"/Encoding /WinAnsiEncoding", True),
        (b"/Encoding << /Differences [65 /Alpha] >>", True),
        (b"/Encoding << /Differences [65 /g12 /g13] >>", False),
        (b"/Encoding << /Differences [65 /c65] /BaseEncoding /WinAnsiEncoding >>", False),
        (b"", True),
        (b"/FontDescriptor << /Flags 4 >>", False),
    ],
)
def test_whether_a_font_tells_its_characters(facts_of, entries: bytes, named: bool):
    """9.10.2"""

    def resources(pdf, _font):
        font = HELVETICA.replace(b">>", entries + b">>")
        return pikepdf.Dictionary(F=pdf.make_indirect(pikepdf.Object.parse(font)))

    (font,) = facts_of(_built(b"BT /F 12 Tf (A) Tj ET", Font=resources)).structure.fonts
    assert font.named is named


def _composite(to_unicode: bytes | None, **below: object):
    def make(pdf: pikepdf.Pdf, _font: pikepdf.Object) -> pikepdf.Dictionary:
        descriptor = pikepdf.Dictionary(Type=pikepdf.Name.FontDescriptor, FontFile2=pdf.make_stream(b"program"))
        descendant = pikepdf.Dictionary(Subtype=pikepdf.Name.CIDFontType2, FontDescriptor=descriptor, **below)
        if below.get("CIDToGIDMap") == "stream":
            descendant.CIDToGIDMap = pdf.make_stream(bytes(2))
        font = pikepdf.Dictionary(Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type0, BaseFont=pikepdf.Name.Kana)
        font.Encoding, font.DescendantFonts = pikepdf.Name("/Identity-H"), pikepdf.Array([descendant])
        if to_unicode is not None:
            font.ToUnicode = pdf.make_stream(b"1 beginbfchar\n" + to_unicode + b"\nendbfchar")
        return pikepdf.Dictionary(F=pdf.make_indirect(font))

    return make


@pytest.mark.parametrize(
    ("content", "font", "lacking"),
    [
        (b"BT /F 12 Tf <00120000> Tj ET", _composite(None), (1,)),
        (b"BT /F 12 Tf [<0012> 5 <0000>] TJ ET", _composite(b"<0000> <03A9>"), (1,)),
        (b"BT /F 12 Tf <00000012> Tj ET", _composite(b"<0000> <FFFD>"), (1,)),
        (b"BT /F 12 Tf <00120000> Tj ET", _composite(b"<0000> <0020>"), ()),
        (b"BT /F 12 Tf <12000012> Tj ET", _composite(None), ()),
        (b"BT /F 12 Tf 3 Tr <00120000> Tj ET", _composite(None), ()),
        (b"BT /F 12 Tf <00120000> Tj ET", _composite(None, CIDToGIDMap="stream"), ()),
        (b"BT /F 12 Tf (\\000\\000) Tj ET", None, ()),
    ],
    ids=["no map", "Omega", "unknown", "a space", "between two glyphs", "not painted", "other glyphs", "simple font"],
)
def test_the_sign_for_a_missing_character_is_seen(facts_of, content: bytes, font: object, lacking: tuple[int, ...]):
    """9.7.4.2, 9.7.6.3: glyph 0 stands for every character that the font does not have."""
    data = _built(content, **({"Font": font} if font else {}))
    (found,) = facts_of(data).structure.fonts
    assert found.lacking == lacking
