"""Whether an embedded TrueType or OpenType font says that it must not be embedded.

The table OS/2 holds the word fsType 8 bytes from its beginning (OpenType specification, "OS/2", fsType): bit 1 alone
among bits 1 to 3 forbids embedding; where several are set the mildest counts. Subsets often leave the table out.
"""

from __future__ import annotations

import struct
import zlib

import pikepdf

from preflight.reading.structure.opening import TROUBLES

FARTHEST = 8_000_000
"""A table beyond so many bytes of a font program is not looked for."""
MOST_TABLES = 128

_KINDS = (b"\0\1\0\0", b"OTTO", b"true")
_EMBEDDING = 0b1110
_FORBIDDEN = 0b0010
_FS_TYPE = 8


def forbids_embedding(program: pikepdf.Object) -> bool:
    """False where it allows it or says nothing, also where it cannot be read: then other readers fail as well."""
    try:
        flags = _fs_type(_Program(program))
    except (*TROUBLES, zlib.error, struct.error):
        return False
    return flags is not None and flags & _EMBEDDING == _FORBIDDEN


def _fs_type(program: _Program) -> int | None:
    head = program.first(12)
    if head[:4] not in _KINDS:
        return None
    (count,) = struct.unpack(">H", head[4:6])
    count = min(count, MOST_TABLES)
    tables = program.first(12 + 16 * count)
    for at in range(12, 12 + 16 * count, 16):
        tag, _sum, offset, _length = struct.unpack(">4sIII", tables[at : at + 16])
        if tag == b"OS/2" and offset <= FARTHEST:
            (flags,) = struct.unpack(">H", program.first(offset + _FS_TYPE + 2)[offset + _FS_TYPE :])
            return int(flags)
    return None


class _Program:
    """The beginning of a font program, unpacked only as far as it is asked for."""

    def __init__(self, stream: pikepdf.Object) -> None:
        filters = stream.get("/Filter")
        if isinstance(filters, pikepdf.Array) and len(filters) == 1:
            filters = filters[0]
        packed = filters == "/FlateDecode" and stream.get("/DecodeParms") is None
        self._unpack = zlib.decompressobj() if packed else None
        self._rest = stream.read_raw_bytes() if packed or filters is None else b""
        self._known = b"" if packed else bytes(self._rest)

    def first(self, number: int) -> bytes:
        """So many bytes, or as many as there are."""
        if self._unpack and len(self._known) < number:
            self._known += self._unpack.decompress(self._rest, number - len(self._known))
            self._rest = self._unpack.unconsumed_tail
        return self._known[:number]
