"""What a cover sheet says, and which papers of a filing serve as one."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import zip_longest
from typing import Literal

import msgspec

from preflight.facts import Box, Line
from preflight.papers.forms import form_words as label
from preflight.papers.forms.inventors import inventors
from preflight.papers.forms.labels import said, value_at
from preflight.papers.forms.letters import count_said, entities_said, fee_said, inventors_said, paid_said, title_said
from preflight.papers.forms.persons import Inventor
from preflight.papers.forms.pictured import pictured
from preflight.papers.forms.signatures import Signing, signing
from preflight.papers.forms.ticks import BESIDE, Choice, choices
from preflight.papers.model import Filing, Paper, Said
from preflight.papers.words.lettering import Row, flat, keyed, rows
from preflight.papers.words.printed import below, lines_on
from preflight.papers.words.remembered import remembered

ENTITY_WORDS = 8
"""What is written after "Entity status" has at most so many words. House value."""

_PROVISIONAL = re.compile(r"(?<!non )\bprovisional")
_PROVISIONAL_APPLICATION = re.compile(r"(?<!non )\bprovisional (?:patent )?(?:application|filing)s?\b")
_OTHER_CASE = re.compile(r"\b(?:benefit|priority|claims|converted?|nonprovisional)\b")
_EDITION = re.compile(r"PTO/\S+\s*\((\d{1,2}-\d{2,4})\)", re.IGNORECASE)
_COUNT = r"\W{0,12}(\d{1,4})\b"
_PAGES = re.compile(
    rf"specification\b(?:(?!drawing).){{0,70}}?(?:pages?|page count)\)?{_COUNT}"
    r"|(?:specification|description)\s*[:(]\s*(\d{1,4}) pages?"
    rf"|(\d{{1,4}}) pages? of (?:the )?(?:specification|description)|pages? of (?:the )?specification{_COUNT}",
    re.IGNORECASE,
)
_SHEETS = re.compile(
    rf"drawings?\b(?:(?!specification).){{0,50}}?(?:sheets?|sheet count)\)?{_COUNT}"
    r"|drawings?(?:\(s\))?\s*[:(]\s*(\d{1,4}) sheets?"
    rf"|(\d{{1,4}}) sheets? of (?:the )?drawings?|(?:drawing sheets|sheets of drawings?){_COUNT}",
    re.IGNORECASE,
)
_MONEY = re.compile(r"(?:USD|US\$|\$)?\s*(\d{1,3}(?:,\d{3})+|\d{1,6})(?:\.(\d{2}))?(?![\d,])")
_GOVERNMENT = re.compile(
    r"\bgovernment\b.*\b(?:agency|contract|interest|rights|support)\b|\b(?:agency|contract)\b.*\bgovernment\b"
)
_NOT_MADE = re.compile(r"\b(?:was|were|is|has been) not (?:\w+ )?made\b|\bnot made (?:by|under|with)\b")
"""A sentence of a letter that denies it."""
_LEADS_ON = re.compile(r"\b(?:an? |the )?(?:agency of the|United States|U\.?S\.?|by|of|the|with|under|or|and)$")
ROW_GAP = 0.4
"""A question goes on in a row this close (cm) below. House value."""
_CLAIMED = (
    r"^(?:(?:the |an )?(?:applicants?|patentee|inventors?|status) )?(?:(?:hereby )?(?:asserts?|certif(?:y|ies)|claims?"
    r"|qualif(?:y|ies) (?:as|for)|is|are|entitled to) )?(?:status )?(?:as )?(?:an? )?"
)
ENTITY_CHOICES = {
    "small": rf"{_CLAIMED}small(?: ?entity\b(?! fees?)|$)",
    "micro": rf"{_CLAIMED}micro(?: ?entity\b(?! fees?)|$)",
    "undiscounted": r"\b(?:undiscounted|large entity|regular undiscounted|no discount|full fee|not (?:a )?small)\b",
}


class Amount(msgspec.Struct, frozen=True):
    """An amount as printed; `dollars` is None if it is not a whole number of dollars."""

    dollars: int | None
    place: Said


class Answer(msgspec.Struct, frozen=True):
    """The answer to a question of yes or no, and where."""

    value: Literal["yes", "no", "unanswered", "unreadable"]
    place: Said


class Count(msgspec.Struct, frozen=True):
    """A number of pages or sheets as printed."""

    number: int
    place: Said


class CoverSheet(msgspec.Struct, frozen=True):
    """What a cover sheet says. None and empty mean that it was not found there; see `unread` first."""

    paper: Paper
    unread: str | None = None
    """Why its words could not be read; then nothing below is known."""
    seems: CoverSheet | None = None
    """What its picture seems to say, where only that was read: never to be asserted."""
    provisional: Said | None = None
    title: Said | None = None
    docket: Said | None = None
    inventors: tuple[Inventor, ...] = ()
    small: Choice = Choice("not there")
    micro: Choice = Choice("not there")
    undiscounted: Choice = Choice("not there")
    fee: Amount | None = None
    applicant: Said | None = None
    """Who applies, where that is said apart from the inventors."""
    pages: Count | None = None
    """The pages of the specification that it states."""
    sheets: Count | None = None
    """The sheets of drawings that it states."""
    address: Said | None = None
    customer_number: Said | None = None
    practitioner: Said | None = None
    practitioner_number: Said | None = None
    government: Answer | None = None
    """The answer to the question about a contract with the US Government; None if it is not asked."""
    agency: Said | None = None
    contract: Said | None = None
    edition: str | None = None
    """The edition of the office's form, e.g. "12-22"."""
    signing: Signing | None = None


def serves_as_cover_sheet(filing: Filing) -> tuple[Paper, ...]:
    """The papers any one of which is a cover sheet, the proper one first.

    A cover sheet; an application data sheet whose type is provisional; a letter or fee transmittal that
    speaks of the provisional application that it brings.
    """
    sheets = filing.with_role("cover-sheet")
    data_sheets = [paper for paper in filing.with_role("application-data-sheet") if says_provisional(paper)]
    letters = [paper for paper in filing.with_role("letter") if says_provisional(paper)]
    return (*sheets, *data_sheets, *letters)


def says_provisional(paper: Paper) -> Said | None:
    """Where a paper says that it brings a provisional application; a mere mention of another one does not count."""
    if paper.role == "application-data-sheet":
        return _type_provisional(paper)
    wanted = _PROVISIONAL if paper.role == "cover-sheet" else _PROVISIONAL_APPLICATION
    for page in paper.pages:
        for row in rows(lines_on(paper, page)):
            folded = keyed(row.text)
            other = _OTHER_CASE.search(folded) and paper.role != "cover-sheet"
            if wanted.search(folded) and not other:
                return Said(row.text, paper.file, paper.role, page.number, row.box)
    return None


def _type_provisional(paper: Paper) -> Said | None:
    value = value_at(paper, r"(?:application )?type(?: of application)?")
    if value and _PROVISIONAL.search(keyed(value.text)):
        return said(paper, value)
    ticked = choices(paper, {"provisional": r"^(?:non)?provisional\b"})["provisional"]
    if ticked.tick == "ticked" and ticked.place and _PROVISIONAL.search(keyed(ticked.place.value)):
        return ticked.place
    for page in paper.pages:
        for row in rows(lines_on(paper, page)):
            if re.search(r"\bapplication type\b.*(?<!non )\bprovisional\b", keyed(row.text)):
                return Said(row.text, paper.file, paper.role, page.number, row.box)
    return None


@remembered
def cover_sheet(source: Filing | Paper) -> CoverSheet | None:
    """What the cover sheet of a filing says, or what this paper says as one; None if the filing has none."""
    if isinstance(source, Filing):
        papers = serves_as_cover_sheet(source)
        return cover_sheet(papers[0]) if papers else None
    if source.unread:
        seen = pictured(source)
        return CoverSheet(source, unread=source.unread, seems=cover_sheet(seen.paper) if seen else None)
    entity = _entity(source)
    return CoverSheet(
        source,
        provisional=says_provisional(source),
        title=said(source, value_at(source, label.TITLE)) or _of_letter(source, title_said),
        docket=said(source, value_at(source, label.DOCKET)),
        inventors=inventors(source) or (inventors_said(source) if source.kind == "letter" else ()),
        small=entity["small"],
        micro=entity["micro"],
        undiscounted=entity["undiscounted"],
        fee=total_fee(source),
        applicant=said(source, value_at(source, label.APPLICANT)),
        pages=_count(source, "pages"),
        sheets=_count(source, "sheets"),
        address=said(source, value_at(source, label.ADDRESS)),
        customer_number=_digits(source, label.CUSTOMER),
        practitioner=said(source, value_at(source, label.PRACTITIONER)),
        practitioner_number=_digits(source, label.REGISTRATION),
        government=_government(source),
        agency=said(source, value_at(source, label.AGENCY)),
        contract=said(source, value_at(source, label.CONTRACT)),
        edition=_edition(source),
        signing=signing(source),
    )


def _of_letter(paper: Paper, find: Callable[[Paper], Said | None]) -> Said | None:
    return find(paper) if paper.kind == "letter" else None


def _digits(paper: Paper, wanted: str) -> Said | None:
    """The number alone where other words follow it."""
    value = value_at(paper, wanted)
    number = re.match(r"\D{0,4}(\d[\d,]*)", value.text) if value else None
    return said(paper, msgspec.structs.replace(value, text=number.group(1))) if value and number else None


def _entity(paper: Paper) -> dict[str, Choice]:
    """Ticks; else the words after "Entity status"; else a sentence that claims it, where no choice is printed."""
    found = choices(paper, ENTITY_CHOICES)
    if any(choice.tick in ("ticked", "empty") for choice in found.values()):
        return found
    written = value_at(paper, label.ENTITY)
    text = _affirmed(written.text) if written else ""
    for name in ("micro", "small", "undiscounted"):
        pattern = {"micro": r"\bmicro\b", "small": r"\bsmall\b"}.get(name, r"\b(?:undiscounted|large|regular)\b")
        if written and re.search(pattern, keyed(text)) and len(text.split()) <= ENTITY_WORDS:
            return found | {name: Choice("ticked", said(paper, written))}
    several = sum(1 for choice in found.values() if choice.tick == "unreadable") > 1
    if not several:
        for name, place in entities_said(paper):
            found[name] = Choice("ticked", place)
    return found


def _affirmed(text: str) -> str:
    """What is said of the entity without what is denied: "undiscounted (other than small or micro entity)"."""
    plain = re.sub(r"\((?=[^)]*\b(?:not|other|neither|no|nor)\b)[^)]*\)", " ", text)
    parts = re.split(r"[.;](?=\s|$)|,\s*(?=not\b|other than\b|neither\b)", plain)
    said = " ".join(part for part in parts if not re.search(r"\b(?:not|other than|neither|no)\b", part.casefold()))
    return said if said.strip() else "undiscounted"


def total_fee(paper: Paper) -> Amount | None:
    """The total fee that a paper states: by a label for the total, else for the fee; in a letter by a sentence."""
    for wanted in (label.TOTAL, label.FEE):
        value = value_at(paper, wanted)
        if value and value.text and len(_MONEY.findall(value.text)) == 1:
            found = _MONEY.search(value.text)
            place = Said(value.text, paper.file, paper.role, value.page, value.box)
            return Amount(dollars(found.group(0)) if found else None, place)
    spoken = _of_letter(paper, fee_said) or paid_said(paper)
    return Amount(dollars(spoken.value), spoken) if spoken else None


def dollars(text: str) -> int | None:
    """Whole dollars out of "$325.00", "1,234", "USD 65"; None if there are cents or no number."""
    found = _MONEY.search(text)
    if not found or (found.group(2) or "00") != "00":
        return None
    return int(found.group(1).replace(",", ""))


def _count(paper: Paper, what: Literal["pages", "sheets"]) -> Count | None:
    pattern, wanted = (_PAGES, label.PAGES) if what == "pages" else (_SHEETS, label.SHEETS)
    value = value_at(paper, wanted)
    digits = re.match(r"\D{0,3}(\d{1,4})\b", value.text) if value else None
    if value and digits:
        return Count(int(digits.group(1)), Said(value.text, paper.file, paper.role, value.page, value.box))
    for page in paper.pages:
        for row in rows(lines_on(paper, page)):
            found = pattern.search(row.text)
            if found:
                number = next(group for group in found.groups() if group)
                return Count(int(number), Said(row.text, paper.file, paper.role, page.number, row.box))
    spoken = count_said(paper, what) if paper.kind == "letter" else None
    return Count(*spoken) if spoken else None


def _government(paper: Paper) -> Answer | None:
    """The answer, where the question is asked: written out, or marks on the rows from the question on."""
    asked = _asked(paper)
    if asked is None:
        return None
    number, row = asked
    place = Said(row.text, paper.file, paper.role, number, row.box)
    if paper.kind == "letter" and _NOT_MADE.search(keyed(row.text)):
        return Answer("no", place)
    written = re.search(r"\b(yes|no)\W*$", row.text, re.IGNORECASE)
    offered = {"yes", "no"} <= set(keyed(row.text).split())
    if written and not offered:
        return Answer("yes" if written.group(1).casefold() == "yes" else "no", place)
    under = _under_the_question(paper, number, row)
    if under:
        return Answer("yes" if keyed(under.text) == "yes" else "no", place)
    marked = choices(_from_here(paper, number, row.box), {"yes": r"^yes\b", "no": r"^no\b"})
    if marked["yes"].tick == "ticked":
        return Answer("yes", marked["yes"].place or place)
    if marked["no"].tick == "ticked":
        return Answer("no", marked["no"].place or place)
    blank = "empty" in (marked["yes"].tick, marked["no"].tick)
    return Answer("unanswered" if blank else "unreadable", place)


def _asked(paper: Paper) -> tuple[int, Row] | None:
    """The page and the row of the question, or the two rows over which it runs."""
    for page in paper.pages:
        every = rows(lines_on(paper, page))
        for row, following in zip_longest(every, every[1:]):
            if _GOVERNMENT.search(keyed(row.text)):
                return page.number, row
            close = following is not None and 0 <= following.box.top - row.box.bottom <= ROW_GAP
            if following is not None and close and _LEADS_ON.search(row.text):
                both = f"{row.text} {following.text}"
                if _GOVERNMENT.search(keyed(both)) and not _GOVERNMENT.search(keyed(following.text)):
                    return page.number, Row(
                        (*row.lines, *following.lines), both, Box.around([row.box, following.box]) or row.box
                    )
    return None


def _under_the_question(paper: Paper, number: int, row: Row) -> Line | None:
    """The answer that stands alone under the question, in one box with it."""
    page = next(page for page in paper.pages if page.number == number)
    every = lines_on(paper, page)
    asked = next((line for line in row.lines if _GOVERNMENT.search(keyed(line.text))), None)
    under = below(every, asked) if asked else None
    if under is None or keyed(under.text) not in ("yes", "no"):
        return None
    other = any(line is not under and keyed(line.text).split(" ")[0] in ("yes", "no", "x") for line in every)
    boxed = any(square.box.grown(BESIDE).touches(under.box) for square in page.squares)
    return None if other or boxed else under


def _from_here(paper: Paper, number: int, box: Box) -> Paper:
    """The paper with only what stands at or below a place."""
    pages = []
    for page in paper.pages:
        if page.number == number:
            page = msgspec.structs.replace(page, lines=tuple(ln for ln in page.lines if ln.box.bottom >= box.top - 0.1))
        if page.number >= number:
            pages.append(page)
    return msgspec.structs.replace(paper, pages=tuple(pages))


def _edition(paper: Paper) -> str | None:
    found = (_EDITION.search(flat(line.text)) for page in paper.pages for line in page.lines)
    return next((match.group(1) for match in found if match), None)
