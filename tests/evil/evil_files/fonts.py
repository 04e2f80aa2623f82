"""Fonts whose tables break off or lie, glyphs that show themselves, character maps that loop or multiply."""

from __future__ import annotations

import struct

from evil_files.raw import Paper, evil, heavy

TEXT = b"BT /F 12 Tf 99 700 Td (Title of the invention) Tj ET"


def _set(font: str, *streams: tuple[str, bytes], content: bytes = TEXT) -> bytes:
    """A page in this font; the given streams are the objects 5, 6 and so on."""
    paper = Paper(content, resources=f"/Font << /F << /Type /Font {font} >> >>")
    for entries, data in streams:
        paper.stream(entries, data)
    return paper.bytes()


def _truetype(tables: dict[bytes, bytes], *, claimed: int | None = None, shift: int = 0) -> bytes:
    """A TrueType font file of these tables; `shift` moves what the directory says."""
    head = struct.pack(">IHHHH", 0x00010000, claimed or len(tables), 16, 0, 0)
    place, directory, body = 12 + 16 * len(tables), b"", b""
    for tag, data in tables.items():
        directory += tag + struct.pack(">III", 0, place + len(body) + shift, len(data) + shift)
        body += data
    return head + directory + body


HEAD = struct.pack(
    ">IIIIHHQQhhhhHHhhh", 0x10000, 0x10000, 0, 0x5F0F3CF5, 0, 1000, 0, 0, 0, 0, 9999, 9999, 0, 1, 2, 1, 0
)
SELF = struct.pack(">hhhhhHHbb", -1, 0, 0, 500, 500, 0x0020, 0, 0, 0)
"""A compound glyph made of glyph 0, which it is itself."""
TABLES = {
    b"cmap": struct.pack(">HHHHIHHH", 0, 1, 3, 1, 12, 4, 65535, 0) + b"\xff" * 40,
    b"glyf": SELF,
    b"head": HEAD,
    b"hhea": struct.pack(">IhhhHhhhhhhhhhhhH", 0x10000, 800, -200, 0, 500, 0, 0, 500, 1, 0, 0, 0, 0, 0, 0, 0, 65535),
    b"hmtx": struct.pack(">Hh", 500, 0),
    b"loca": struct.pack(">II", 0, len(SELF)),
    b"maxp": struct.pack(">IH", 0x10000, 65535) + b"\xff" * 26,
}
PROGRAM = "/FontDescriptor << /Type /FontDescriptor /FontName /Evil /Flags 32 /FontFile2 5 0 R >>"
TRUETYPE = f"/Subtype /TrueType /BaseFont /Evil /FirstChar 0 /LastChar 255 {PROGRAM}"


@evil
def truetype_glyph_made_of_itself() -> bytes:
    return _set(TRUETYPE, ("", _truetype(TABLES)))


@evil
def truetype_tables_past_the_end() -> bytes:
    return _set(TRUETYPE, ("", _truetype(TABLES, claimed=65535, shift=0x7FFF0000)))


@evil
def font_programs_of_noise() -> bytes:
    noise = bytes((n * 7919 + n // 251) % 256 for n in range(50_000))
    return _set(TRUETYPE, ("", b"\x00\x01\x00\x00" + noise))


@evil
def type1_that_breaks_off() -> bytes:
    font = "/Subtype /Type1 /BaseFont /Evil /FontDescriptor << /FontName /Evil /FontFile 5 0 R >>"
    return _set(
        font,
        (
            "/Length1 99999999 /Length2 -5",
            b"%!PS-AdobeFont-1.0: Evil\n/Private 999999999 dict dup begin eexec " + b"\x80" * 99,
        ),
    )


@evil
def type3_glyph_shows_itself() -> bytes:
    font = (
        "/Subtype /Type3 /FontBBox [0 0 9 9] /FontMatrix [1 0 0 1 0 0] /FirstChar 84 /LastChar 84 /Widths [9]"
        " /Encoding << /Differences [84 /T] >> /CharProcs << /T 5 0 R >> /Resources << /Font << /F 6 0 R >> >>"
    )
    paper = Paper(TEXT, resources="/Font << /F 6 0 R >>")
    paper.stream("", b"9 0 d0 BT /F 1 Tf (TTTTTTTTTT) Tj ET 0 0 9 9 re f")
    paper.add(f"<< /Type /Font {font} >>")
    return paper.bytes()


@evil
def composite_font_made_of_itself() -> bytes:
    paper = Paper(TEXT, resources="/Font << /F 5 0 R >>")
    paper.add("<< /Type /Font /Subtype /Type0 /BaseFont /Evil /Encoding 6 0 R /DescendantFonts [5 0 R 5 0 R] >>")
    paper.stream("/Type /CMap /CMapName /Loop /UseCMap 6 0 R", b"/Loop usecmap begincmap endcmap")
    return paper.bytes()


def _mapped(cmap: bytes, content: bytes = TEXT) -> bytes:
    return _set("/Subtype /Type1 /BaseFont /Helvetica /ToUnicode 5 0 R", ("/UseCMap 5 0 R", cmap), content=content)


@evil
def character_map_of_four_billion_codes() -> bytes:
    return _mapped(b"begincmap 1 begincodespacerange <00> <FFFFFFFF> endcodespacerange 2 beginbfrange"
                   b" <00000000> <FFFFFFFF> <0041> <00> <FFFFFFFF> [<0041>] endbfrange endcmap")  # fmt: skip


@heavy
def character_map_to_a_long_string() -> bytes:
    return _mapped(b"begincmap 1 beginbfchar <54> <" + b"0041" * 200_000 + b"> endbfchar endcmap")


@evil
def composite_character_map_of_four_billion_codes() -> bytes:
    paper = Paper(TEXT, resources="/Font << /F 5 0 R >>")
    paper.add("<< /Type /Font /Subtype /Type0 /BaseFont /Evil /Encoding 6 0 R /DescendantFonts [7 0 R] >>")
    paper.stream(
        "/Type /CMap /CMapName /Loop",
        b"begincmap 1 begincodespacerange <00000000> <FFFFFFFF> endcodespacerange"
        b" 1 begincidrange <00000000> <FFFFFFFF> 0 endcidrange endcmap",
    )
    paper.add("<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Evil /W [0 2147483647 500] /DW 1e30 >>")
    return paper.bytes()


@evil
def widths_and_encoding_that_lie() -> bytes:
    lies = "/FirstChar -2147483648 /LastChar 2147483647 /Widths [1e38 -1e38 null (x)]"
    return _set(f"/Subtype /Type1 /BaseFont /Helvetica {lies} /Encoding << /Differences [-9 /a 99999999 /b /c] >>")


@evil
def type_sizes_beyond_measure() -> bytes:
    sizes = (b"0", b"-12", b"1e30", b"99999999", b"0.0000001", b"340282350000000000000000000000000000000")
    lines = (b"BT /F %s Tf 1 0 0 1 99 %d Tm (Title) Tj ET" % (size, 700 - 20 * n) for n, size in enumerate(sizes))
    return _set("/Subtype /Type1 /BaseFont /Helvetica", content=b" ".join(lines))


@evil
def matrices_beyond_measure() -> bytes:
    matrices = (b"1e30 0 0 1e30 0 0", b"0 0 0 0 0 0", b"1e-30 0 0 1e-30 0 0", b"1 1 1 1 0 0", b"1 0 0 1 1e38 -1e38")
    lines = (b"q %s cm BT /F 12 Tf 9 9 Td (Title) Tj ET Q" % matrix for matrix in matrices)
    return _set("/Subtype /Type1 /BaseFont /Helvetica", content=b" ".join(lines))


@heavy
def a_hundred_thousand_characters_far_apart() -> bytes:
    line = b" ".join(b"1 0 0 1 %d %d Tm (a) Tj" % (x, y) for x in range(9, 600, 30) for y in range(9, 780, 8))
    return _set("/Subtype /Type1 /BaseFont /Helvetica", content=b"BT /F 1 Tf " + line * 25 + b" ET")
