"""PDFs written object by object, so that anything can stand in them, and Flate data that inflates without end."""

from __future__ import annotations

import zlib
from collections.abc import Callable

Maker = Callable[[], bytes]

EVIL: dict[str, Maker] = {}
"""Every evil file by its name, without ".pdf"."""
HEAVY: set[str] = set()
"""Those that run into a limit of time or memory, or nearly."""

MEGABYTE = 1 << 20
GIGABYTE = 1 << 30
_MODULUS = 65521
"""Of the check sum of zlib data (RFC 1950)."""


def evil(maker: Maker) -> Maker:
    """Enter a function under its own name, with hyphens."""
    EVIL[maker.__name__.replace("_", "-")] = maker
    return maker


def heavy(maker: Maker) -> Maker:
    """The same for one that takes long."""
    HEAVY.add(maker.__name__.replace("_", "-"))
    return evil(maker)


class Paper:
    """A PDF of one page. Objects 1 to 4 are catalogue, pages, page and content; `add` makes further ones."""

    def __init__(self, content: bytes = b"", *, resources: str = "", page: str = "", root: str = "") -> None:
        self.content, self.resources, self.page, self.root = content, resources, page, root
        self.pages = "/Type /Pages /Kids [3 0 R] /Count 1"
        self.media = "/MediaBox [0 0 612 792]"
        self.contents = "4 0 R"
        self.trailer = ""
        self.objects: dict[int, bytes] = {}
        self._next = 5

    def add(self, body: str | bytes) -> int:
        """A further object; its number."""
        number, self._next = self._next, self._next + 1
        self.objects[number] = body.encode("latin-1") if isinstance(body, str) else body
        return number

    def stream(self, entries: str, data: bytes, length: str | None = None) -> int:
        """A further stream; its number. `length` lies about it."""
        return self.add(stream(entries, data, length))

    def bytes(self) -> bytes:
        """The whole file with a proper table."""
        whole = {
            1: f"<< /Type /Catalog /Pages 2 0 R {self.root} >>".encode("latin-1"),
            2: f"<< {self.pages} >>".encode("latin-1"),
            3: (
                f"<< /Type /Page /Parent 2 0 R {self.media} /Contents {self.contents}"
                f" /Resources << {self.resources} >> {self.page} >>"
            ).encode("latin-1"),
            4: stream("", self.content),
        } | self.objects
        return written(whole, f"/Root 1 0 R {self.trailer}")


def stream(entries: str, data: bytes, length: str | None = None) -> bytes:
    """The body of a stream object."""
    said = str(len(data)) if length is None else length
    return f"<< {entries} /Length {said} >>\nstream\n".encode("latin-1") + data + b"\nendstream"


def written(objects: dict[int, bytes], trailer: str, head: bytes = b"%PDF-1.7\n") -> bytes:
    """A file of these objects with a table of one section."""
    out, places = bytearray(head), {}
    for number, body in sorted(objects.items()):
        places[number] = len(out)
        out += b"%d 0 obj\n" % number + body + b"\nendobj\n"
    size = max(objects) + 1
    table = b"".join(b"%010d 00000 n \n" % places[n] if n in places else b"0000000000 65535 f \n" for n in range(size))
    start = len(out)
    out += b"xref\n0 %d\n" % size + table
    out += f"trailer\n<< /Size {size} {trailer} >>\nstartxref\n{start}\n%%EOF\n".encode("latin-1")
    return bytes(out)


def bomb(size: int, byte: int = 0, layers: int = 1, around: tuple[bytes, bytes] = (b"", b"")) -> bytes:
    """Flate data of `layers` layers; the innermost holds so many times the same byte, between two given pieces.

    The data are put together from one packed megabyte, so that nobody has to pack gigabytes.
    """
    packer = zlib.compressobj(9, wbits=-15)
    block = bytes([byte]) * MEGABYTE
    packer.compress(block)
    packer.flush(zlib.Z_FULL_FLUSH)
    once = packer.compress(block) + packer.flush(zlib.Z_FULL_FLUSH)
    times = size // MEGABYTE
    before, after = around
    packed = b"\x78\xda" + _stored(before) + once * times + _stored(after) + b"\x03\x00"
    data = packed + _check_sum(before, byte, times * MEGABYTE, after).to_bytes(4, "big")
    for _ in range(layers - 1):
        data = zlib.compress(data, 9)
    return data


def _stored(piece: bytes) -> bytes:
    packer = zlib.compressobj(9, wbits=-15)
    return packer.compress(piece) + packer.flush(zlib.Z_FULL_FLUSH) if piece else b""


def _check_sum(before: bytes, byte: int, times: int, after: bytes) -> int:
    whole = zlib.adler32(before)
    low, high = whole & 0xFFFF, whole >> 16
    high = (high + low * times + byte * times * (times + 1) // 2) % _MODULUS
    low = (low + byte * times) % _MODULUS
    return zlib.adler32(after, high << 16 | low)
