"""Files that break off, lie about lengths and places, or whose tables lead in circles."""

from __future__ import annotations

import struct

from evil_files.raw import Paper, evil, stream


@evil
def a_header_only() -> bytes:
    return b"%PDF-1.7\n"


@evil
def zeros() -> bytes:
    return bytes(100_000)


@evil
def a_header_and_zeros() -> bytes:
    return b"%PDF-1.7\n" + bytes(1_000_000)


@evil
def cut_in_half() -> bytes:
    whole = Paper(b"9 9 99 99 re f " * 500).bytes()
    return whole[: len(whole) // 2]


@evil
def half_a_megabyte_of_open_brackets() -> bytes:
    return b"%PDF-1.7\n1 0 obj\n" + b"[<<" * 160_000 + b"\ntrailer\n<< /Root 1 0 R >>\n%%EOF"


@evil
def lengths_that_lie() -> bytes:
    paper = Paper(b"/X Do", resources="/XObject << /A 5 0 R /B 6 0 R /C 7 0 R /D 8 0 R /E 9 0 R /X 5 0 R >>")
    form = "/Type /XObject /Subtype /Form /BBox [0 0 9 9]"
    for length in ("0", "-1", "99999999999", "9 0 R", "9 0 R"):
        paper.stream(form, b"0 0 9 9 re f", length)
    return paper.bytes()


@evil
def length_is_the_stream_itself() -> bytes:
    paper = Paper()
    paper.contents = f"{paper.stream('', b'q Q', '5 0 R')} 0 R"
    return paper.bytes()


def _after(change: bytes) -> bytes:
    """A sound file with another ending."""
    whole = Paper(b"9 9 99 99 re f").bytes()
    start = whole.rindex(b"trailer")
    return whole[:start] + change.replace(b"HERE", str(whole.rindex(b"xref\n0 ")).encode())


@evil
def earlier_table_is_this_table() -> bytes:
    return _after(b"trailer\n<< /Size 5 /Root 1 0 R /Prev HERE >>\nstartxref\nHERE\n%%EOF\n")


@evil
def hybrid_table_is_this_table() -> bytes:
    return _after(b"trailer\n<< /Size 5 /Root 1 0 R /XRefStm HERE /Prev HERE >>\nstartxref\nHERE\n%%EOF\n")


@evil
def two_tables_name_each_other() -> bytes:
    first = _after(b"trailer\n<< /Size 5 /Root 1 0 R /Prev 9999999999 >>\nstartxref\nHERE\n%%EOF\n")
    place = first.rindex(b"xref\n0 ")
    second = len(first)
    more = b"xref\n0 0\ntrailer\n<< /Size 5 /Root 1 0 R /Prev %d >>\nstartxref\n%d\n%%%%EOF\n" % (place, second)
    return first.replace(b"9999999999", b"%010d" % second) + more


@evil
def table_of_two_billion_entries() -> bytes:
    whole = Paper().bytes()
    return whole.replace(b"xref\n0 5", b"xref\n0 2147483647").replace(b"/Size 5", b"/Size 2147483647")


@evil
def table_stream_of_two_billion_entries() -> bytes:
    whole = Paper().bytes()
    whole = whole[: whole.rindex(b"xref\n0 ")]
    lies = "/Type /XRef /Size 2147483647 /Index [0 2147483647] /W [1 8 8] /Root 1 0 R"
    table = stream(lies, struct.pack(">BQQ", 1, 9, 0))
    return whole + b"6 0 obj\n" + table + b"\nendobj\nstartxref\n%d\n%%%%EOF\n" % len(whole)


@evil
def start_far_outside() -> bytes:
    whole = Paper().bytes()
    return whole[: whole.rindex(b"startxref")] + b"startxref\n99999999999999999999\n%%EOF\n"


@evil
def a_thousand_versions() -> bytes:
    whole = bytearray(Paper(b"9 9 99 99 re f").bytes())
    before = whole.rindex(b"xref\n0 ")
    for _ in range(1000):
        start = len(whole)
        whole += b"xref\n0 0\ntrailer\n<< /Size 5 /Root 1 0 R /Prev %d >>\nstartxref\n%d\n%%%%EOF\n" % (before, start)
        before = start
    return bytes(whole)


@evil
def encryption_that_lies() -> bytes:
    paper = Paper()
    paper.trailer = "/Encrypt 5 0 R /ID [<00> <00>]"
    paper.add(
        "<< /Filter /Standard /V 5 /R 6 /Length 2147483647 /O (x) /U (x) /OE () /UE () /P -1 /CF << /A 5 0 R >> >>"
    )
    return paper.bytes()


@evil
def encryption_of_an_unknown_kind() -> bytes:
    paper = Paper()
    paper.trailer = "/Encrypt << /Filter /Unheard#0aof /V 99 >> /ID [<00> <00>]"
    return paper.bytes()


@evil
def catalogue_that_is_none() -> bytes:
    return Paper().bytes().replace(b"/Root 1 0 R", b"/Root 4 0 R")


@evil
def numbers_beyond_measure() -> bytes:
    digits = "9" * 100_000
    return Paper(b"%s 0 m 1 1 l S" % digits.encode(), page=f"/Rotate {digits} /UserUnit -{digits}.{digits}").bytes()


@evil
def a_name_of_half_a_megabyte() -> bytes:
    name = "N" * 500_000
    return Paper(
        b"BT /F 12 Tf (x) Tj ET", resources=f"/Font << /F << /Type /Font /Subtype /Type1 /BaseFont /{name} >> >>"
    ).bytes()


@evil
def another_kind_of_file_in_front() -> bytes:
    return b"GIF89a" + b"\x01" * 900 + Paper().bytes()
