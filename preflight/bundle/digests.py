"""The bytes of files as numbers that a receipt may print: nothing is opened as a document here."""

from __future__ import annotations

import hashlib
from pathlib import Path

from preflight.facts import Digests

_PIECE = 1 << 20


def digests_of(folder: Path, name: str) -> Digests:
    """All digests of one file in one reading. Raises OSError."""
    sha256, sha512 = hashlib.sha256(), hashlib.sha512()
    sha1 = hashlib.sha1(usedforsecurity=False)  # an older receipt may print it; alone it proves nothing
    size = 0
    with (folder / name).open("rb") as stream:
        while piece := stream.read(_PIECE):
            size += len(piece)
            for digest in (sha256, sha512, sha1):
                digest.update(piece)
    return Digests(name, size, sha256.hexdigest(), sha512.hexdigest(), sha1.hexdigest())
