"""What a letter says in sentences: title, inventors, entity, fee and numbers of pages."""

from __future__ import annotations

import re
from collections.abc import Iterator

import msgspec

from preflight.facts import Box
from preflight.papers.forms.persons import Inventor, person, residence
from preflight.papers.model import Paper, Said
from preflight.papers.words.lettering import rows
from preflight.papers.words.printed import lines_on

_QUOTED_TITLE = re.compile(
    r"\b(?:entitled|titled|title[:,]?|for|invention)\b\s*[:,]?\s*\"([^\"]{3,600})\"", re.IGNORECASE
)
_PLAIN_TITLE = re.compile(
    r"\b(?:entitled|titled)\s*[:,]?\s*([A-Z][^\".;]{3,300}?)(?=[.;]|,\s|\s+(?:Our|Docket|Inventor|Attorney)\b|$)"
)
_INVENTORS = re.compile(
    r"\binventors?(?:\(s\))?(?:\s+(?:of|in|for)\s+(?:this|the)\s+(?:application|invention))?\s+(?:is|are)\s*:?\s*"
    r"(.{4,400}?)(?=(?<!\b[A-Z])\.\s+[A-Z]|\.$|$)"
)
_ENTITY = re.compile(
    r"(?P<not>\bnot\b\s+)?\b(?:assert|claim|certif|qualif|entitled|request|pay)\w*\b[^.;]{0,40}?"
    r"\b(?P<kind>small|micro)[ -]?entity"
    r"|\b(?:is|are|being|as)\s+an?\s+(?P<kind3>small|micro)[ -]?entity\b"
    r"|\b(?P<kind2>small|micro)[ -]?entity\s+status\s+is\s+(?:hereby\s+)?(?:claimed|asserted|requested|certified)",
    re.IGNORECASE,
)
_FEE = re.compile(
    r"\bfees?\b[^.;$]{0,60}?(?P<amount>(?:USD|US\$|\$)\s*[\d,]+(?:\.\d{2})?)|(?P<amount2>(?:USD|US\$|\$)\s*[\d,]+(?:\.\d{2})?)"
    r"[^.;$]{0,40}?\bfees?\b",
    re.IGNORECASE,
)
_PAYS = re.compile(r"\b(?:paid|herewith|enclosed|authori[sz]ed to charge|charge the|submitted with)\b", re.IGNORECASE)
_NUMBER = r"(\d{1,4})"
_PAGES = re.compile(
    rf"{_NUMBER}\s*[\- ]?pages?\s+(?:of\s+)?(?:the\s+)?(?:specification|description)"
    rf"|\b(?:specification|description)\b[^.;]{{0,25}}?{_NUMBER}\s*pages?",
    re.IGNORECASE,
)
_SHEETS = re.compile(
    rf"{_NUMBER}\s*(?:sheets?|pages?)\s+(?:of\s+)?(?:the\s+)?(?:formal\s+|informal\s+)?drawings?"
    rf"|\bdrawings?\b[^.;]{{0,25}}?{_NUMBER}\s*(?:sheets?|pages?)",
    re.IGNORECASE,
)


class Sentences(msgspec.Struct, frozen=True):
    """The words of a paper in one string, with the place of each row."""

    paper: Paper
    text: str
    starts: tuple[tuple[int, int, Box], ...]
    """Where each row begins in the text, its page and its box."""

    def row_before(self, at: int) -> str:
        """What stands before an offset in its row and sentence: rows of a form are no sentences of one text."""
        start = max(row[0] for row in self.starts if row[0] <= at)
        return re.split(r"[.;]\s", self.text[start:at])[-1]

    def place(self, at: int, value: str) -> Said:
        """What stands at an offset, as something that the paper says."""
        _, page, box = max((row for row in self.starts if row[0] <= at), key=lambda row: row[0])
        return Said(value, self.paper.file, self.paper.role, page, box)


def sentences(paper: Paper) -> Sentences | None:
    """The visible rows of a paper joined; None if there are none."""
    text, starts = "", []
    for page in paper.pages:
        for row in rows(lines_on(paper, page)):
            starts.append((len(text), page.number, row.box))
            text += row.text + " "
    return Sentences(paper, text.strip(), tuple(starts)) if starts else None


def _first(paper: Paper, *patterns: re.Pattern[str]) -> tuple[Sentences, re.Match[str]] | None:
    said = sentences(paper)
    found = (pattern.search(said.text) for pattern in patterns) if said else iter(())
    match = next((one for one in found if one), None)
    return (said, match) if said and match else None


def title_said(paper: Paper) -> Said | None:
    """The title, in quotation marks or after "entitled"."""
    found = _first(paper, _QUOTED_TITLE, _PLAIN_TITLE)
    return found[0].place(found[1].start(1), found[1].group(1).strip(" ,.")) if found else None


def fee_said(paper: Paper) -> Said | None:
    """The amount that a sentence about a fee names."""
    found = _first(paper, _FEE)
    if not found:
        return None
    amount = found[1].group("amount") or found[1].group("amount2")
    return found[0].place(found[1].start(), amount)


def paid_said(paper: Paper) -> Said | None:
    """The amount of a sentence by which a fee is paid, enclosed or charged; the print of a form pays nothing."""
    said = sentences(paper)
    for found in _FEE.finditer(said.text) if said else ():
        around = said.text[max(0, found.start() - 80) : found.end() + 60] if said else ""
        if said and _PAYS.search(around):
            return said.place(found.start(), found.group("amount") or found.group("amount2"))
    return None


def entities_said(paper: Paper) -> Iterator[tuple[str, Said]]:
    """Each entity status ("small", "micro") that a sentence claims."""
    said = sentences(paper)
    for found in _ENTITY.finditer(said.text) if said else ():
        kind = found.group("kind") or found.group("kind2") or found.group("kind3")
        before = said.row_before(found.start()) if said else ""
        denied = found.group("not") or re.search(r"\b(?:no|not|neither|nor|without)\b", before + found.group(0), re.I)
        if said and not denied:
            yield kind.casefold(), said.place(found.start(), found.group(0))


def count_said(paper: Paper, what: str) -> tuple[int, Said] | None:
    """The number of "pages" of the specification or "sheets" of drawings in a sentence."""
    found = _first(paper, _PAGES if what == "pages" else _SHEETS)
    if not found:
        return None
    number = next(group for group in found[1].groups() if group)
    return int(number), found[0].place(found[1].start(), found[1].group(0))


def inventors_said(paper: Paper) -> tuple[Inventor, ...]:
    """The people of "The inventors are A, residing at X, and B, residing at Y"."""
    found = _first(paper, _INVENTORS)
    if not found:
        return ()
    said, match = found
    place = said.place(match.start(1), match.group(1))
    parts = re.split(r"\s*;\s*(?:and\s+)?|,?\s+and\s+(?=[A-Z])", match.group(1).strip())
    people = [person(part, place) for part in parts if part.strip()]
    return tuple(_resided(one) for one in people if one)


def _resided(one: Inventor) -> Inventor:
    at = residence(one.residence or "")
    return msgspec.structs.replace(one, city=at.city, region=at.region)
