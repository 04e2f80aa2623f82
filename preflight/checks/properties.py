"""Whether the document properties name anybody or anything that the papers do not name themselves."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

import msgspec

from preflight.checks.api import NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.names import base_name
from preflight.checks.stored import unread_parts
from preflight.facts import FileFacts
from preflight.papers import (
    Filing,
    agreement,
    difference,
    dockets_said,
    flat_text,
    fold_docket,
    names_said,
    text_of,
    titles_said,
)

LONGEST = 60
"""Characters of a property that a message shows."""
TELLING = 3
"""A word has at least so many letters to tell a matter. House value."""

PROGRAMS = ("Producer", "Creator", "pdf:Producer", "xmp:CreatorTool")
KINDS = {
    "title": ("Title", "dc:title"),
    "author": ("Author", "dc:creator", "pdf:Author"),
    "company": ("Company", "Manager", "pdfx:Company", "pdfx:Manager"),
    "template": ("Template", "pdfx:Template"),
    "subject": ("Subject", "dc:description"),
    "keywords": ("Keywords", "dc:subject", "pdf:Keywords"),
}
"""Where each kind of property stands: document information (ISO 32000-1, 14.3.3) and XMP."""
_NOBODY = """
anonymous unspecified unknown unnamed un named name none no na your my user users windows microsoft office word admin
administrator author owner root guest default system scanner scan scanning ocr pc home computer laptop desktop test
paralegal secretary assistant attorney inventor legal patent patents dept department docketing uspto
"""
NOBODY = frozenset(_NOBODY.split())
"""What stands where nobody has told a name."""
_EVERYDAY = """
untitled unspecified anonymous document microsoft word powerpoint presentation excel visio slide book template normal
scan scanned image page pages sheet sheets drawing drawings figure figures fig figs draft final version rev revised
revision copy clean new old latest signed filed filing file files print printed form forms paper papers part
application patent provisional specification spec description disclosure invention claims claim abstract appendix cover
letter transmittal title uspto united states utility and for the with from none default export office model layout
view part parts assembly index about blank img edit edits edited redline comments changes marked review reviewed
working master backup temp test final
pdf docx doc dot dotx odt rtf txt html htm vsd vsdx pptx ppt dwg dxf svg png jpg tif tiff
january february march april may june july august september october november december
"""
EVERYDAY = frozenset(_EVERYDAY.split())
"""Words of everyday file names, which name no matter."""

_PROGRAM = re.compile(r"^microsoft (?:office )?(?:word|powerpoint|excel|visio)\b\s*(?:-\s*)?", re.IGNORECASE)
_PATH = re.compile(
    r"(?:^|[\s\"'(])(?:[A-Za-z]:[\\/](?!Program)\w|\\\\\w|file:/|/(?:home|Users|Volumes|mnt|media|srv|private|tmp|var)/)"
)
_PEOPLE = re.compile(r"\s*(?:[;&|]|\band\b)\s*")


@check("document-properties", of=Filing, takes=NoLimits, says=("found",))
def document_properties(filing: Filing, _: NoLimits) -> Outcomes:
    """Look in the document properties for paths, and for names and words that no paper of the filing says."""
    known = _known(filing)
    for file in filing.files:
        yield from unread_parts(file, "metadata")
        if file.structure is None or file.unread:
            continue
        values = {**file.structure.inside.metadata, **file.structure.info}
        if not values:
            continue
        paths = [f'path "{_short(value)}"' for value in dict.fromkeys(v for v in values.values() if _PATH.search(v))]
        strange = [f'{kind} "{_short(value)}"' for kind, value in _strange(values, known, file)]
        at = Place(file=file.name)
        if strange and not known.can_tell:
            why = f"no paper could be read to compare the document properties with ({', '.join(strange)})"
            yield Unread(why=why, at=at)
            strange = []
            if not paths:
                continue
        found = ", ".join((*paths, *strange))
        yield Seen(what="document properties", held=not found, measured=found, at=at, words={"found": found})


def _strange(values: Mapping[str, str], known: _Known, file: FileFacts) -> Iterator[tuple[str, str]]:
    """Kind and value of each property that names what the papers do not; paths apart."""
    program = _telling(" ".join(values.get(key, "") for key in PROGRAMS))
    for kind, names in KINDS.items():
        for value in dict.fromkeys(" ".join(values[name].split()) for name in names if values.get(name)):
            if _PATH.search(value) or not _telling(value) - program:
                continue
            if kind in ("author", "company"):
                people = [one for one in _PEOPLE.split(value) if one and not known.person(one)]
                if people:
                    yield kind, "; ".join(people)
            elif not known.says(value, _telling(base_name(file)) | program):
                yield kind, value


class _Known(msgspec.Struct, frozen=True):
    """What the papers of the filing say themselves."""

    text: str
    """Every word on the pages and in the fields, plain, with a space before and after."""
    words: frozenset[str]
    titles: tuple[str, ...]
    dockets: frozenset[str]
    another: tuple[re.Pattern[str], ...]
    """Numbers of the same make as ours."""
    people: tuple[str, ...]

    @property
    def can_tell(self) -> bool:
        """Whether there is anything to compare with."""
        return bool(self.words or self.titles)

    def says(self, value: str, besides: set[str]) -> bool:
        """Whether each telling word stands in a paper or is one of `besides`, and no number is another matter's."""
        bare = _PROGRAM.sub("", value)
        if f" {_plain(bare)} " in self.text or any(difference(bare, title) != "other" for title in self.titles):
            return True
        numbers = (found[0] for make in self.another for found in make.finditer(bare))
        if any(fold_docket(n) not in self.dockets and f" {_plain(n)} " not in self.text for n in numbers):
            return False
        return not _telling(bare) - self.words - besides

    def person(self, name: str) -> bool:
        """Whether a paper says this name, in any order, or it is short for an inventor's."""
        plain = _plain(name)
        parts = plain.split()
        telling = [part for part in parts if len(part.strip("0123456789")) >= TELLING]
        if all(part.strip("0123456789") in NOBODY for part in telling) or f" {plain} " in self.text:
            return True
        if len(parts) > 1 and all(f" {part} " in self.text for part in parts):
            return True
        return any(agreement(name, one) != "other" for one in self.people) or bool(_login(plain).search(self.text))


def _known(filing: Filing) -> _Known:
    fields = " ".join(f.value for paper in filing.papers for f in paper.fields if f.value)
    said = " ".join((*(text_of(paper) for paper in filing.papers), fields))
    declared = filing.declared
    dockets = {said.value for said in dockets_said(filing)}
    people = (*declared.inventors, *(said.value for names in names_said(filing) for said in names))
    text = " ".join((said, *people))
    return _Known(
        text=f" {_plain(text)} ",
        words=frozenset(_telling(text)),
        titles=tuple(dict.fromkeys(said.value for said in titles_said(filing))),
        dockets=frozenset(map(fold_docket, dockets)),
        another=tuple(_same_make(docket) for docket in sorted(dockets) if re.search("[A-Za-z]", docket)),
        people=tuple(dict.fromkeys(people)),
    )


def _same_make(docket: str) -> re.Pattern[str]:
    """Finds numbers that differ from this one in nothing but digits and separators."""
    parts = [r"\d" if c.isdigit() else re.escape(c) if c.isalpha() else r"[\W_]?" for c in docket]
    return re.compile(rf"(?<![^\W_]){''.join(parts)}(?!\d)", re.IGNORECASE)


def _plain(text: str) -> str:
    return " ".join(re.findall(r"[^\W_]+", flat_text(text).casefold()))


def _telling(text: str) -> set[str]:
    """Words that may tell a matter, without plural endings; "HoseGuide" is two."""
    whole = [word for word in re.findall(r"[^\W\d_]+", flat_text(text)) if word.casefold() not in EVERYDAY]
    found = {part.casefold() for word in whole for part in re.sub(r"(?<=[a-z])(?=[A-Z])", " ", word).split()}
    return {word.rstrip("s") for word in found if len(word) >= TELLING and word not in EVERYDAY}


def _login(name: str) -> re.Pattern[str]:
    """Finds the whole name for which one word is short: "jroe" or "roej" for "jane roe" or "jane mary roe"."""
    one = re.escape(name)
    given, family = (name[0], name[1:]), (name[-1], name[:-1])
    ways = (
        rf" {re.escape(i)}[^\W\d_]*(?: [^\W\d_]+)? {re.escape(f)} " for i, f in (given, family) if len(f) >= TELLING
    )
    return re.compile("|".join((f" {one} ", *ways)) if " " not in name else f" {one} ")


def _short(value: str) -> str:
    plain = " ".join(value.split())
    return plain if len(plain) <= LONGEST else f"{plain[: LONGEST - 3]}..."
