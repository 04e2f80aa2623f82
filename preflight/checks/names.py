"""File names: characters, length, extension, names that a system keeps for itself."""

from __future__ import annotations

import re
import unicodedata
from pathlib import PurePosixPath

import msgspec

from preflight.checks.api import Measured, Outcomes, Place, Seen, check
from preflight.facts import FileFacts


class Characters(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Patterns of one character: the one that may begin a name, and those that may stand in it."""

    first: str = "."
    inside: str = "."


@check("name-characters", of=FileFacts, takes=Characters, says=("offending", "proposal"))
def name_characters(file: FileFacts, allowed: Characters) -> Outcomes:
    """Compare each character of the file's name with those that are allowed."""
    name = base_name(file)
    first, inside = re.compile(allowed.first, re.DOTALL), re.compile(allowed.inside, re.DOTALL)
    wrong = [name[0]] if not first.fullmatch(name[0]) else []
    wrong += [c for c in name if not inside.fullmatch(c)]
    yield Seen(
        what="file name",
        held=not wrong,
        measured=f'"{shown(name)}"',
        at=Place(file=file.name),
        words={"offending": " ".join(dict.fromkeys(map(_one, wrong))), "proposal": proposal(name)},
    )


class Length(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The greatest number of characters of a name with its extension."""

    most: int


@check("name-length", of=FileFacts, takes=Length)
def name_length(file: FileFacts, limit: Length) -> Outcomes:
    """Count the characters of the file's name with its extension, without folders."""
    length = len(base_name(file))
    yield Measured(what="file name", value=length, unit="characters", most=limit.most, at=Place(file=file.name))


class Extensions(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The extensions as they must be written, with the dot."""

    allowed: tuple[str, ...]


@check("name-extension", of=FileFacts, takes=Extensions, says=("proposal",))
def name_extension(file: FileFacts, extensions: Extensions) -> Outcomes:
    """See whether a known extension is written as it must be, and whether a PDF has one; others it leaves alone."""
    name = PurePosixPath(base_name(file))
    wanted = name.suffix.lower() if name.suffix.lower() in extensions.allowed else ""
    if not wanted and file.structure is not None:
        wanted = ".pdf"
    if wanted:
        yield Seen(
            what="extension",
            held=name.suffix in extensions.allowed,
            measured=f'"{name.suffix}"',
            required=f'"{wanted}"',
            at=Place(file=file.name),
            words={"proposal": name.stem.strip() + wanted},
        )


class Reserved(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Names that an operating system keeps for its devices, in capitals."""

    names: tuple[str, ...]


@check("name-reserved", of=FileFacts, takes=Reserved, sorts=("equal", "starts"), says=("device",))
def name_reserved(file: FileFacts, reserved: Reserved) -> Outcomes:
    """Compare the stem of the file's name with the reserved names."""
    stem = base_name(file).split(".")[0].upper()
    device = next((n for n in reserved.names if stem == n), None)
    starts = next((n for n in reserved.names if stem.startswith(n)), None)
    yield Seen(
        what="file name",
        held=starts is None,
        measured=f'"{shown(base_name(file))}"',
        sort="equal" if device else "starts",
        at=Place(file=file.name),
        words={"device": device or starts or ""},
    )


def base_name(file: FileFacts) -> str:
    """The name without folders."""
    return file.name.rsplit("/", 1)[-1]


def _one(character: str) -> str:
    """One character alone; a blank would not be seen."""
    return "<SPACE>" if character == " " else shown(character)


def shown(text: str) -> str:
    """Characters that cannot be seen, or that change how others are shown, by their Unicode name."""
    return "".join(c if _plain(c) else f"<{unicodedata.name(c, f'U+{ord(c):04X}')}>" for c in text)


def _plain(character: str) -> bool:
    return character == " " or unicodedata.category(character)[0] in "LNPS"


def proposal(name: str) -> str:
    """A name made of plain letters, digits and hyphens that keeps as much of the old one as possible."""
    path = PurePosixPath(name)
    hyphened = "".join("-" if unicodedata.category(c) == "Pd" else c for c in path.stem)
    folded = unicodedata.normalize("NFKD", hyphened).encode("ascii", "ignore").decode()
    stem = re.sub(r"[^A-Za-z0-9_]+", "-", folded).strip("-_")
    return f"{stem or 'paper'}{path.suffix.lower()}"
