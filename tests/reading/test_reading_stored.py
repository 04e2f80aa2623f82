"""What a file stores: images, transparency, boxes, versions, properties. Clauses: ISO 32000-1.

For each kind of trouble a small file that has it, and one that looks like it but is proper.
"""

from __future__ import annotations

import io
import zlib
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name
from PIL import Image
from reportlab.lib.utils import ImageReader

from preflight.facts import Inside, Stored
from preflight.reading.structure import OpenPdf, read_structure
from preflight.reading.structure.stored import ALMOST
from preflight.reading.structure.versions import earlier_versions

MADE = Path(__file__).parent / "made"


@pytest.fixture
def inside_of(facts_of):
    def inside(data: bytes) -> Inside:
        facts = facts_of(data)
        assert facts.structure is not None, facts.unread
        return facts.structure.inside

    return inside


def saved(pdf: pikepdf.Pdf, **options: object) -> bytes:
    out = io.BytesIO()
    pdf.save(out, **options)
    return out.getvalue()


def built(content: bytes, make=None, **page_entries: object) -> bytes:
    """One page with this content; `make` gives its resources."""
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(300, 300))
    page.Contents = pdf.make_stream(content)
    page.Resources = make(pdf) if make else Dictionary()
    for key, value in page_entries.items():
        page.obj[f"/{key}"] = value
    return saved(pdf)


def image(pdf: pikepdf.Pdf, size: int = 2, **entries: object) -> pikepdf.Object:
    stream = pdf.make_stream(bytes(size * size))
    stream.Type, stream.Subtype, stream.Width, stream.Height = Name.XObject, Name.Image, size, size
    stream.ColorSpace, stream.BitsPerComponent = Name.DeviceGray, 8
    for key, value in entries.items():
        stream[f"/{key}"] = value
    return stream


def form(pdf: pikepdf.Pdf, content: bytes, **resources: object) -> pikepdf.Object:
    stream = pdf.make_stream(content)
    stream.Subtype, stream.BBox, stream.Resources = Name.Form, Array([0, 0, 300, 300]), Dictionary(**resources)
    return stream


# images, 8.9


def test_an_image_counts_once_a_page_and_only_where_it_is_shown(inside_of):
    pdf = pikepdf.new()
    shown, listed = image(pdf, 4), image(pdf, 9)
    for content in (b"/A Do /A Do", b"/A Do", b""):
        page = pdf.add_blank_page(page_size=(300, 300))
        page.Contents = pdf.make_stream(content)
        page.Resources = Dictionary(XObject=Dictionary(A=shown, B=listed))
    images = inside_of(saved(pdf)).images
    assert [(one.page, one.width, one.colours, one.bits) for one in images] == [
        (1, 4, "DeviceGray", 8),
        (2, 4, "DeviceGray", 8),
    ]


def test_images_in_forms_and_patterns_are_found(inside_of):
    def resources(pdf):
        tile = form(pdf, b"/A Do", XObject=Dictionary(A=image(pdf, 5)))
        tile.PatternType = 1
        del tile["/Subtype"]
        return Dictionary(
            XObject=Dictionary(X=form(pdf, b"/A Do", XObject=Dictionary(A=image(pdf, 4)))), Pattern=Dictionary(P=tile)
        )

    images = inside_of(built(b"/X Do /Pattern cs /P scn 0 0 9 9 re f", resources)).images
    assert sorted(one.width for one in images) == [4, 5]


def test_an_inline_image_is_one_with_its_abbreviations_spelled_out(inside_of):
    """8.9.7"""
    first = b"q 9 0 0 9 0 0 cm BI /W 2 /H 1 /CS /Odd /BPC 4 /F /AHx ID 0f>\nEI Q 1 0 0 rg 0 0 9 9 re f\n"
    content = first + b"BI /W 8 /H 1 /IM true ID \xff EI Q"
    images = inside_of(
        built(content, lambda _: Dictionary(ColorSpace=Dictionary(Odd=Array([Name.CalGray, Dictionary()]))))
    ).images
    assert images == (
        Stored(1, 2, 1, ("ASCIIHexDecode",), "CalGray", 4),
        Stored(1, 8, 1, (), "", 1),
    )


@pytest.mark.parametrize(
    ("entries", "masked", "alternates", "stacked"),
    [
        ({}, False, False, False),
        ({"SMask": "mask"}, True, False, False),
        ({"SMask": "masked mask"}, True, False, True),
        ({"Mask": Array([0, 1])}, False, False, False),
        ({"SMaskInData": 1}, True, False, False),
        ({"SMaskInData": 0}, False, False, False),
        ({"Alternates": Array([Dictionary(DefaultForPrinting=True)])}, False, True, False),
        ({"Alternates": Array([])}, False, False, False),
    ],
)
def test_masks_and_alternates(inside_of, entries: dict[str, object], masked, alternates, stacked):
    """11.6.5.3, 8.9.6, 8.9.5.4; an empty list of alternates is none."""

    def resources(pdf):
        made = dict(entries)
        if "SMask" in made:
            made["SMask"] = image(pdf, **({"SMask": image(pdf)} if made["SMask"] == "masked mask" else {}))
        return Dictionary(XObject=Dictionary(A=image(pdf, **made)))

    (found,) = inside_of(built(b"/A Do", resources)).images
    assert (found.masked, found.alternates, found.stacked) == (masked, alternates, stacked)


def test_pictures_as_programs_place_them(draw, inside_of):
    picture = Image.effect_noise((40, 30), 60)
    packed = io.BytesIO()
    picture.save(packed, "JPEG")
    clear = picture.convert("RGBA")
    clear.putalpha(picture)

    def page(canvas) -> None:
        canvas.drawImage(ImageReader(io.BytesIO(packed.getvalue())), 100, 100)
        canvas.drawImage(ImageReader(clear), 200, 200, mask="auto")

    one, two = sorted(inside_of(draw(page)).images, key=lambda i: i.masked)
    assert (one.filters[-1], one.colours, one.masked) == ("DCTDecode", "DeviceGray", False)
    assert (two.filters[-1], two.colours, two.masked) == ("FlateDecode", "DeviceRGB", True)


def test_a_broken_image_is_still_one(inside_of):
    def resources(pdf):
        return Dictionary(
            XObject=Dictionary(A=image(pdf, Width=Name.Wide, Filter=Array([5]), ColorSpace=Array([7]), Alternates=3))
        )

    (found,) = inside_of(built(b"/A Do", resources)).images
    assert (found.width, found.filters, found.colours, found.alternates) == (0, (), "", False)


# transparency and overprint


def states(**state: object):
    return lambda _: Dictionary(ExtGState=Dictionary(G=Dictionary(**state)))


@pytest.mark.parametrize(
    ("state", "effects"),
    [
        ({"ca": 0.5}, ["alpha"]),
        ({"CA": 0}, ["alpha"]),
        ({"ca": 1, "CA": 1.0}, []),
        ({"ca": Name.Half}, []),
        ({"BM": Name.Multiply}, ["blend mode"]),
        ({"BM": Array([Name.Darken, Name.Normal])}, ["blend mode"]),
        ({"BM": Name.Normal}, []),
        ({"BM": Name.Compatible}, []),
        ({"SMask": Dictionary(S=Name.Alpha)}, ["soft mask"]),
        ({"SMask": Name("/None")}, []),
        ({"ca": 0.5, "BM": Name.Multiply}, ["alpha", "blend mode"]),
    ],
)
def test_a_graphics_state_with_an_effect(inside_of, state: dict[str, object], effects: list[str]):
    """11.6.4.4, 11.6.3, 11.6.4.3"""
    assert [what for _, what in inside_of(built(b"/G gs 0 0 9 9 re B", states(**state))).see_through] == effects
    for content in (b"0 0 9 9 re B", b"/G gs", b"q /G gs Q 0 0 9 9 re B", b"/G gs 0 0 9 9 re W n"):
        assert inside_of(built(content, states(**state))).see_through == ()


@pytest.mark.parametrize(
    ("content", "seen"),
    [
        (b"0 0 9 9 re f", False),
        (b"0 0 9 9 re S", True),
        (b"BT (shown) Tj ET", False),
        (b"BT 1 Tr (shown) Tj ET", True),
        (b"BT 3 Tr (shown) Tj ET", False),
        (b"/X Do", True),
        (b"/A Do", False),
    ],
)
def test_lines_made_see_through_count_where_lines_are_drawn(inside_of, content: bytes, seen: bool):
    """11.6.4.4: CA is for strokes, ca for all else; plotting programs switch off strokes by CA 0."""

    def resources(pdf):
        forms = Dictionary(X=form(pdf, b"0 0 9 9 re s"), A=image(pdf))
        return Dictionary(ExtGState=Dictionary(G=Dictionary(CA=0, ca=1)), XObject=forms)

    assert bool(inside_of(built(b"/G gs " + content, resources)).see_through) is seen


def test_an_effect_within_a_pattern_is_found(inside_of):
    def resources(pdf):
        tile = form(pdf, b"/G gs 0 0 9 9 re f", ExtGState=Dictionary(G=Dictionary(ca=0.5)))
        tile.PatternType = 1
        return Dictionary(Pattern=Dictionary(P=tile))

    assert inside_of(built(b"/Pattern cs /P scn 0 0 9 9 re f", resources)).see_through == ((1, "alpha"),)


def test_forms_that_place_each_other_many_times_end_in_a_reason():
    """Not drawn here: PDFium would not end; the worker's time limit is for that."""

    def resources(pdf):
        inner = form(pdf, b"0 0 9 9 re f")
        for _ in range(8):
            inner = form(pdf, b"/X Do " * 8, XObject=Dictionary(X=inner))
        return Dictionary(XObject=Dictionary(X=inner), ExtGState=Dictionary(G=Dictionary(ca=0.5)))

    structure = read_structure(OpenPdf(built(b"/G gs /X Do", resources)), seconds=30)
    why = "the transparency of page 1 could not be told: it took too long"
    assert structure.inside.unread == {"see_through": why}
    assert structure.unread is None


def test_an_effect_within_a_form_belongs_to_each_page_that_shows_it(inside_of):
    pdf = pikepdf.new()
    half = form(pdf, b"/G gs 0 0 9 9 re f", ExtGState=Dictionary(G=Dictionary(ca=0.5)))
    for content in (b"/X Do", b"", b"/X Do"):
        page = pdf.add_blank_page(page_size=(300, 300))
        page.Contents, page.Resources = pdf.make_stream(content), Dictionary(XObject=Dictionary(X=half))
    assert inside_of(saved(pdf)).see_through == ((1, "alpha"), (3, "alpha"))


def test_a_transparency_group_that_leaves_everything_opaque_is_no_effect(inside_of):
    """11.6.6"""

    def resources(pdf):
        made = form(pdf, b"0 0 9 9 re f")
        made.Group = Dictionary(S=Name.Transparency, I=True, CS=Name.DeviceRGB)
        return Dictionary(XObject=Dictionary(X=made))

    data = built(b"/X Do", resources, Group=Dictionary(S=Name.Transparency, CS=Name.DeviceRGB))
    assert inside_of(data).see_through == ()


SPOT = Array([Name.Separation, Name.Gold, Name.DeviceCMYK, Dictionary()])
BLACK = Array([Name.Separation, Name.Black, Name.DeviceCMYK, Dictionary()])


@pytest.mark.parametrize(
    ("content", "state", "seen"),
    [
        (b"/G gs /S cs 1 scn 0 0 9 9 re f", {"OP": True}, True),
        (b"/G gs /S cs 1 scn 0 0 9 9 re f", {"OP": False, "op": False}, False),
        (b"/S cs 1 scn 0 0 9 9 re f", {"OP": True}, False),
        (b"/G gs /K cs 1 scn 0 0 9 9 re f", {"OP": True}, False),
        (b"/G gs 0 0 0 0 k 0 0 9 9 re f", {"op": True, "OPM": 1}, True),
        (b"/G gs /DeviceCMYK CS 1 0 0 0 SC 0 0 9 9 re S", {"OP": True, "OPM": 1}, True),
        (b"/G gs /DeviceCMYK CS 1 0 0 0 SC 0 0 9 9 re f", {"OP": True, "OPM": 1}, False),
        (b"/G gs /S cs 1 scn 0 g 0 0 9 9 re f", {"OP": True}, False),
        (b"/G gs 0 0 0 1 k 0 0 9 9 re f", {"op": True, "OPM": 1}, False),
        (b"/G gs 1 0 0 0 k 0 0 9 9 re f", {"op": True, "OPM": 0}, False),
        (b"/G gs 1 0 0 rg 0 g 0 0 9 9 re f", {"OP": True, "OPM": 1}, False),
    ],
    ids=[
        *(
            "spot colour",
            "switched off",
            "not used",
            "the black ink",
            "white",
            "cyan lines",
            "cyan unused",
            "grey after",
        ),
        "black",
        *("mode 0", "no inks"),
    ],
)
def test_overprint_counts_where_it_has_an_effect(inside_of, content: bytes, state: dict[str, object], seen: bool):
    """8.6.7, 11.7.4.5: black over anything is black; other colour spaces paint all inks."""

    def resources(pdf):
        return Dictionary(ExtGState=Dictionary(G=Dictionary(**state)), ColorSpace=Dictionary(S=SPOT, K=BLACK))

    assert inside_of(built(content, resources)).see_through == (((1, "overprint"),) if seen else ())


# boxes and thumbnails


@pytest.mark.parametrize(
    ("box", "uneven"),
    [
        ({"CropBox": Array([10, 10, 290, 290])}, True),
        ({"TrimBox": Array([0, 0, 300, 280])}, True),
        ({"ArtBox": Array([290, 300, 0, 0])}, True),
        ({"CropBox": Array([0, 0, 300, 300]), "TrimBox": Array([-5, 0, 305, 300])}, False),
        ({"CropBox": Array([ALMOST, 0, 300, 300])}, False),
        ({"BleedBox": Array([10, 10, 290, 290])}, False),
        ({"CropBox": Array([10, 10])}, False),
        ({"CropBox": Array([10, 10, Name.Wide, 290])}, False),
    ],
)
def test_boxes_that_cut_off_a_part_of_the_page(inside_of, box: dict[str, object], uneven: bool):
    """14.11.2"""
    assert inside_of(built(b"", **box)).uneven_boxes == ((1,) if uneven else ())


def test_boxes_that_pages_inherit(inside_of):
    """7.7.3.4"""
    pdf = pikepdf.open(io.BytesIO(built(b"")))
    del pdf.pages[0].obj["/MediaBox"]
    pdf.Root.Pages.MediaBox, pdf.Root.Pages.CropBox = Array([0, 0, 300, 300]), Array([50, 0, 300, 300])
    assert inside_of(saved(pdf)).uneven_boxes == (1,)


def test_thumbnails(inside_of):
    """12.3.4"""
    pdf = pikepdf.new()
    for _ in range(2):
        pdf.add_blank_page(page_size=(300, 300))
    pdf.pages[1].obj.Thumb = image(pdf)
    assert inside_of(saved(pdf)).thumbnails == (2,)


# versions, 7.5.6 and annex F


def updated(data: bytes) -> bytes:
    """The same file with one object saved over, as programs do that append."""
    start = data.rindex(b"startxref")
    last = int(data[start:].split()[1])
    body = b"\n900 0 obj\n<< >>\nendobj\n"
    at = len(data) + len(body)
    trailer = b"<< /Size 901 /Root 1 0 R /Prev %d >>" % last
    table = b"xref\n900 1\n%010d 00000 n \ntrailer\n%s\nstartxref\n%d\n%%%%EOF\n" % (len(data) + 1, trailer, at)
    return data + body + table


def test_each_update_leaves_an_earlier_version(inside_of):
    plain = built(b"0 0 9 9 re f")
    assert inside_of(plain).earlier_versions == 0
    assert inside_of(updated(plain)).earlier_versions == 1
    assert inside_of(updated(updated(plain))).earlier_versions == 2


def test_a_linearised_file_is_one_version():
    """Annex F: it has two cross-reference sections."""
    plain = built(b"0 0 9 9 re f")
    for streams in (pikepdf.ObjectStreamMode.disable, pikepdf.ObjectStreamMode.generate):
        linear = saved(pikepdf.open(io.BytesIO(plain)), linearize=True, object_stream_mode=streams)
        assert b"/Linearized" in linear
        assert b"/Prev" in linear
        assert earlier_versions(linear) == 0
        assert earlier_versions(updated(linear)) == 1


def test_streams_of_references_and_bytes_before_the_header():
    pdf = pikepdf.open(io.BytesIO(built(b"")))
    packed = saved(pdf, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    assert earlier_versions(updated(packed)) == 1
    assert earlier_versions(b"%%mail\n" + updated(packed), header_offset=7) == 1


def test_a_pdf_within_a_pdf_is_no_version(inside_of):
    pdf = pikepdf.open(io.BytesIO(built(b"0 0 9 9 re f")))
    pdf.Root.Kept = pdf.make_stream(updated(built(b"1 1 9 9 re f")))
    data = saved(pdf, compress_streams=False)
    assert data.count(b"startxref") == 3
    assert inside_of(data).earlier_versions == 0


def test_a_chain_that_loops_or_breaks_ends():
    loop = b"xref\n0 0\ntrailer\n<< /Prev 0 >>\nstartxref\n0\n%%EOF\nstartxref\n0\n%%EOF"
    assert earlier_versions(loop) == 0
    assert earlier_versions(b"startxref\n5\n%%EOF\nstartxref\n999999999999\n%%EOF") == 0


# properties, 14.3

RDF = 'xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"'
DC = 'xmlns:dc="http://purl.org/dc/elements/1.1/"'
PACKET = f"""<?xpacket begin="" id="W5M0MpCehiHzreSzNTczkc9d"?><x:xmpmeta xmlns:x="adobe:ns:meta/" x:xmptk="kit 1">
<rdf:RDF {RDF}><rdf:Description rdf:about="" {DC} xmlns:p="http://ns.adobe.com/pdf/1.3/" p:Producer="Maker 1">
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">HOSE
 GUIDE</rdf:li></rdf:Alt></dc:title>
<dc:creator><rdf:Seq><rdf:li>Pat Example</rdf:li><rdf:li>Ada Muster</rdf:li></rdf:Seq></dc:creator>
</rdf:Description><rdf:Description rdf:about="" xmlns:xmpMM="http://ns.adobe.com/xap/1.0/mm/"
 xmlns:stRef="http://ns.adobe.com/xap/1.0/sType/ResourceRef#" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/">
<xmpMM:DerivedFrom stRef:filePath="/Users/pat/hose.ai"/><pdfaid:part>2</pdfaid:part>
<pdfaid:conformance>B</pdfaid:conformance></rdf:Description></rdf:RDF></x:xmpmeta>{" " * 2000}<?xpacket end="w"?>"""


def with_packet(packet: bytes, **entries: object) -> bytes:
    pdf = pikepdf.new()
    pdf.add_blank_page(page_size=(300, 300))
    pdf.Root.Metadata = pdf.make_stream(packet)
    for key, value in entries.items():
        pdf.Root.Metadata[f"/{key}"] = value
    return saved(pdf, compress_streams=False, fix_metadata_version=False)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_a_packet_is_read_with_its_usual_names(inside_of, encoding: str):
    inside = inside_of(with_packet(PACKET.encode(encoding)))
    assert inside.metadata == {
        "pdf:Producer": "Maker 1",
        "dc:title": "HOSE GUIDE",
        "dc:creator": "Pat Example; Ada Muster",
        "xmpMM:DerivedFrom": "/Users/pat/hose.ai",
        "pdfaid:part": "2",
        "pdfaid:conformance": "B",
    }
    assert inside.archival == "2b"
    assert inside.unread == {}


def test_a_packed_packet(inside_of):
    data = with_packet(zlib.compress(PACKET.encode()), Filter=Name.FlateDecode)
    assert inside_of(data).metadata["dc:title"] == "HOSE GUIDE"


ENTITIES = '<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;&a;"><!ENTITY c SYSTEM "file:///etc/passwd">]>'


@pytest.mark.parametrize(
    ("packet", "why"),
    [
        ((ENTITIES + PACKET.replace("HOSE", "&b;&c;")).encode(), "declares entities"),
        ((ENTITIES + PACKET).encode("utf-16"), "declares entities"),
        (b"<x>" * 200, "nested too deep"),
        (PACKET[:500].encode(), "no well-formed XML"),
        (b"\x00\xff\x00", "no well-formed XML"),
        (b"<x>" + b" " * 5_000_000, "too long"),
    ],
)
def test_a_packet_that_cannot_be_read_is_said_and_leaves_fonts_alone(facts_of, packet: bytes, why: str):
    structure = facts_of(with_packet(packet)).structure
    assert why in structure.inside.unread["metadata"]
    assert structure.inside.metadata == {}
    assert structure.unread is None


def test_a_packet_that_unpacks_without_end_is_left(facts_of):
    data = with_packet(zlib.compress(b"<x>" + bytes(20_000_000)), Filter=Name.FlateDecode)
    assert "too long" in facts_of(data).structure.inside.unread["metadata"]


def test_without_a_packet_nothing_is_missing(inside_of):
    inside = inside_of(built(b""))
    assert (inside.metadata, inside.archival, inside.unread) == ({}, "", {})


# as programs write it: pages of a browser printed to PDF, one of them passed through Ghostscript


@pytest.mark.parametrize(
    ("name", "effects", "lacking", "linearised"),
    [
        ("chromium-half-opaque.pdf", ((1, "alpha"),), [], False),
        ("chromium-opaque.pdf", (), [], False),
        ("chromium-missing-character.pdf", (), [(1,)], False),
        ("ghostscript-linearised.pdf", (), [], True),
    ],
)
def test_files_of_programs(facts_of, name: str, effects, lacking, linearised: bool):
    """A browser names a graphics state on each page, opaque or not; U+E123 is in none of its fonts."""
    data = (MADE / name).read_bytes()
    structure = facts_of(data).structure
    assert structure.inside.see_through == effects
    assert [font.lacking for font in structure.fonts] == lacking
    assert (b"/Linearized" in data) is linearised
    assert structure.inside.earlier_versions == 0
    assert structure.inside.metadata.get("dc:title") == ("plain.html" if linearised else None)
