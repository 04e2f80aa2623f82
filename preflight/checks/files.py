"""The PDF as a file: is it one, does it open, may it be opened, how large, which version, which fonts."""

from __future__ import annotations

from pathlib import PurePosixPath

import msgspec

from preflight.checks.api import Measured, NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.names import base_name
from preflight.facts import FileFacts, Font
from preflight.facts.kinds import PDF, kind_of
from preflight.papers import Filing

REBUILT = ("reconstruct", "damaged", "recover", "can't find startxref", "xref not found")
"""Words of qpdf that tell of a file whose table of contents had to be made anew."""


class Types(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Media type by extension, lower case with the dot."""

    types: dict[str, str]


@check(
    "real-type",
    of=FileFacts,
    takes=Types,
    sorts=("mismatch", "empty", "unreadable", "damaged", "warned"),
    says=("trouble",),
)
def real_type(file: FileFacts, expected: Types) -> Outcomes:
    """Compare what the bytes are with what the extension says, and see whether a PDF opens without repair."""
    extension = PurePosixPath(base_name(file)).suffix.lower()
    wanted = expected.types.get(extension)
    if wanted is None:
        return
    at, asked = Place(file=file.name), kind_of(wanted)
    if file.size == 0 and not file.reader_failed:
        yield Seen(what="file", held=False, measured="empty", required=asked, sort="empty", at=at)
    elif file.media_type and file.media_type != wanted and not file.pages:
        seen = kind_of(file.media_type)
        yield Seen(what="file", held=False, measured=seen, required=asked, sort="mismatch", at=at)
    elif needs_password(file):
        return  # spoken by the check of encryption
    elif file.reader_failed:
        yield Unread(why=file.unread or "the reader failed on it", at=at)
    elif file.unread or file.structure is None:
        why = file.unread or "it was not opened"
        yield Seen(
            what="file", held=False, measured=why, required=asked, sort="unreadable", at=at, words={"trouble": why}
        )
    else:
        yield _repaired(file, at)


def _repaired(file: FileFacts, at: Place) -> Seen:
    repairs = file.structure.repairs if file.structure else ()
    if file.structure and file.structure.header_offset:
        repairs = (*repairs, f"{file.structure.header_offset} bytes stand before the mark that begins a PDF")
    rebuilt = [r for r in repairs if any(word in r.lower() for word in REBUILT)]
    first = (rebuilt or list(repairs) or [""])[0]
    return Seen(
        what="file",
        held=not repairs,
        measured=first,
        sort="damaged" if rebuilt else "warned",
        at=at,
        words={"trouble": first},
    )


@check("encrypted", of=FileFacts, takes=NoLimits, sorts=("password", "restricted"), says=("forbids",))
def encrypted(file: FileFacts, _: NoLimits) -> Outcomes:
    """See whether the file is encrypted, and whether it opens without a password."""
    structure = file.structure
    if structure is None:
        if is_pdf(file):
            yield Unread(why=file.unread or "it was not opened", at=Place(file=file.name))
        return
    yield Seen(
        what="file",
        held=not structure.encrypted,
        measured="encrypted",
        required="not encrypted",
        sort="restricted" if structure.opens_without_password else "password",
        at=Place(file=file.name),
        words={"forbids": ", ".join(structure.restrictions) or "nothing"},
    )


class Versions(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The range of PDF versions, and those outside it that practice accepts."""

    oldest: str
    newest: str
    tolerated: tuple[str, ...] = ()


@check("pdf-version", of=FileFacts, takes=Versions, sorts=("tolerated", "outside"))
def pdf_version(file: FileFacts, range_: Versions) -> Outcomes:
    """Compare the later of header and catalogue version with the range."""
    if (structure := file.structure) is None:
        return
    version = structure.version
    yield Seen(
        what="PDF version",
        held=_number(range_.oldest) <= _number(version) <= _number(range_.newest),
        measured=version,
        required=f"{range_.oldest} to {range_.newest}",
        sort="tolerated" if version in range_.tolerated else "outside",
        at=Place(file=file.name),
    )


def _number(version: str) -> tuple[int, ...]:
    return tuple(int(part) for part in version.split(".") if part.isdigit())


class Size(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The greatest number of bytes of one file."""

    most: int


@check("file-size", of=FileFacts, takes=Size)
def file_size(file: FileFacts, limit: Size) -> Outcomes:
    """Count the bytes of a PDF."""
    if is_pdf(file):
        yield Measured(what="file", value=file.size, unit="bytes", most=limit.most, at=Place(file=file.name))


class Number(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The greatest number of files."""

    most: int


@check("number-of-files", of=Filing, takes=Number)
def number_of_files(filing: Filing, limit: Number) -> Outcomes:
    """Count the PDFs in the folder."""
    number = sum(is_pdf(file) for file in filing.files)
    if number:
        yield Measured(what="PDFs", value=number, unit="files", most=limit.most)


class Kinds(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Media types that do not belong among the papers."""

    types: tuple[str, ...]


@check("kind-absent", of=FileFacts, takes=Kinds)
def kind_absent(file: FileFacts, unwanted: Kinds) -> Outcomes:
    """See whether a file is of one of these kinds by its bytes."""
    at = Place(file=file.name)
    if file.media_type:
        yield Seen(what="file", held=file.media_type not in unwanted.types, measured=kind_of(file.media_type), at=at)
    elif file.unread and file.reader_failed:
        yield Unread(why=file.unread, at=at)


@check("fonts", of=FileFacts, takes=NoLimits, sorts=("in-field", "invisible", "bare"), says=("fonts",))
def fonts(file: FileFacts, _: NoLimits) -> Outcomes:
    """See whether every font that shows text is embedded. Fonts that are never used do not count."""
    if (structure := file.structure) is None or file.unread:
        if is_pdf(file) and not needs_password(file):
            yield Unread(why=file.unread or "it was not opened", at=Place(file=file.name))
        return
    if structure.unread:
        yield Unread(why=structure.unread, at=Place(file=file.name))
    bare = [font for font in structure.fonts if not font.embedded]
    if structure.fonts and not bare:
        yield Seen(what="fonts", held=True, measured=f"{len(structure.fonts)} embedded", at=Place(file=file.name))
    for sort in ("bare", "in-field", "invisible"):
        if group := [font for font in bare if _sort(font) == sort]:
            pages = sorted({page for font in group for page in font.pages})
            names = ", ".join(sorted({plain_name(font) for font in group}))
            yield Seen(
                what="fonts",
                held=False,
                measured=f"{names} not embedded",
                required="all embedded",
                sort=sort,
                at=Place(file=file.name, page=pages[0] if pages else None),
                also=tuple(Place(file=file.name, page=page) for page in pages[1:]),
                words={"fonts": names},
            )


def _sort(font: Font) -> str:
    if font.invisible:
        return "invisible"
    return "in-field" if font.in_field else "bare"


def plain_name(font: Font) -> str:
    """The font's name without the tag of a subset."""
    name = font.name.lstrip("/")
    return name[7:] if name[6:7] == "+" else name


def is_pdf(file: FileFacts) -> bool:
    """A PDF by its bytes, or by its name where the bytes could not be read."""
    return (
        file.structure is not None
        or file.media_type == PDF
        or (not file.media_type and file.name.lower().endswith(".pdf"))
    )


def needs_password(file: FileFacts) -> bool:
    """Whether it cannot be opened without a password."""
    return file.structure is not None and file.structure.encrypted and not file.structure.opens_without_password
