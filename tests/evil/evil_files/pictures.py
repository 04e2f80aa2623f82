"""Images that claim to be enormous, and data that do not keep what they claim."""

from __future__ import annotations

import struct
import zlib

from evil_files.raw import Paper, evil, heavy
from evil_files.streams import PLACED

XIMAGE = "/Type /XObject /Subtype /Image"


def _shown(entries: str, data: bytes = b"\x00") -> bytes:
    paper = Paper(PLACED, resources="/XObject << /X 5 0 R >>")
    paper.stream(f"{XIMAGE} {entries}", data)
    return paper.bytes()


GREY = "/ColorSpace /DeviceGray /BitsPerComponent 8"


@evil
def image_of_a_hundred_thousand_pixels_a_side() -> bytes:
    return _shown(f"{GREY} /Width 100000 /Height 100000")


@evil
def image_as_wide_as_a_number_can_be() -> bytes:
    return _shown(f"{GREY} /Width 2147483647 /Height 2147483647")


@evil
def image_of_negative_size() -> bytes:
    return _shown(f"{GREY} /Width -5 /Height 0")


@heavy
def one_bit_image_of_ten_gigapixels() -> bytes:
    return _shown(
        "/ImageMask true /BitsPerComponent 1 /Width 100000 /Height 100000 /Filter /FlateDecode", zlib.compress(b"")
    )


@heavy
def fax_without_end() -> bytes:
    lies = "/DecodeParms << /K -1 /Columns 65000 /Rows 2000000000 >>"
    return _shown(
        f"/ColorSpace /DeviceGray /BitsPerComponent 1 /Width 65000 /Height 65000 /Filter /CCITTFaxDecode {lies}",
        b"\x00\x10",
    )


@evil
def jpeg_of_four_gigapixels() -> bytes:
    frame = struct.pack(">BHHB", 8, 65500, 65500, 3) + b"\x01\x11\x00\x02\x11\x00\x03\x11\x00"
    data = (
        b"\xff\xd8\xff\xc0"
        + struct.pack(">H", len(frame) + 2)
        + frame
        + b"\xff\xda\x00\x0c\x03\x01\x00\x02\x11\x03\x11\x00\x3f\x00\xff\xd9"
    )
    return _shown("/ColorSpace /DeviceRGB /BitsPerComponent 8 /Width 65500 /Height 65500 /Filter /DCTDecode", data)


@evil
def jpeg_2000_of_four_gigapixels() -> bytes:
    size = struct.pack(">HHIIIIIIIIH", 41, 0, 65500, 65500, 0, 0, 65500, 65500, 0, 0, 1) + b"\x07\x01\x01"
    data = (
        b"\xff\x4f\xff\x51"
        + size
        + b"\xff\x52\x00\x0c\x00\x00\x00\x01\x00\x05\x04\x04\x00\x01\xff\x5c\x00\x04\x40\x40\xff\x90"
    )
    return _shown("/Width 65500 /Height 65500 /Filter /JPXDecode", data)


@heavy
def jbig2_of_four_gigapixels() -> bytes:
    page = b"\x00\x00\x00\x00\x30\x00\x01\x00\x00\x00\x13" + struct.pack(">IIIIBH", 65000, 65000, 0, 0, 0, 0)
    return _shown("/ColorSpace /DeviceGray /BitsPerComponent 1 /Width 65000 /Height 65000 /Filter /JBIG2Decode", page)


@evil
def image_masked_by_itself() -> bytes:
    return _shown(f"{GREY} /Width 2 /Height 2 /SMask 5 0 R /Mask 5 0 R /Alternates [<< /Image 5 0 R >>]", b"abcd")


@evil
def images_within_the_content() -> bytes:
    return Paper(
        b"q 99 0 0 99 9 9 cm BI /W 99999 /H 99999 /CS /G /BPC 8 ID x EI Q "
        b"q 99 0 0 99 9 9 cm BI /W 4 /H 4 /CS /G /BPC 8 /F [/Fl /Fl /AHx] ID " + b"\xff" * 5000
    ).bytes()


@heavy
def ten_thousand_images() -> bytes:
    paper = Paper(b"q 9 0 0 9 99 99 cm /X Do Q " * 10_000, resources="/XObject << /X 5 0 R >>")
    paper.stream(f"{XIMAGE} {GREY} /Width 300 /Height 300 /Filter /FlateDecode", zlib.compress(bytes(range(256)) * 352))
    return paper.bytes()
