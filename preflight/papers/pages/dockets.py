"""Docket numbers that a paper says: labelled anywhere, or of docket shape in a running header or footer."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from preflight.facts import CM_PER_PT, Box, Line, Page
from preflight.papers.model import Paper, Said
from preflight.papers.words.headings import EDGE
from preflight.papers.words.lettering import PROSE_LINE_WORDS, flat, level, upright, words
from preflight.papers.words.printed import below, beside, lines_on

ZONE = 3.2
"""Headers and footers stand within so many cm of the upper and lower edge. House value."""
HEADER_WORDS = 14
"""A running header has at most so many words. House value."""
SIGHT = 2.5
"""The identification of a drawing sheet stands above this depth (cm), in the top margin."""
APART = 1.3
"""A header stands at least so many of its own type sizes away from the next line. House value."""
SAME_HEIGHT = 0.3
"""A header keeps its height from page to page within so many cm. House value."""
MIN_CHARACTERS = 5
"""An unlabelled token needs at least so many letters and digits to be taken for a docket number. House value."""

_VALUE = (
    r"([A-Za-z0-9][A-Za-z0-9\-/.\\_:#&]*(?: ?[\-/.&] ?[A-Za-z0-9][A-Za-z0-9\-/._]*)*"
    r"(?: (?=\d)[\d\-/.]{3,12}(?=$|\s|[,;]))?"
    r"(?: (?-i:PROV?|PRV|PCT|P\d?|US\d?|[A-Z]\d)\b)?)"
)
_NUMBER = r"(?:nos?\b\.?|numbers?\b|num\b\.?|#|id\b)"
_WHOSE = r"(?:(?:attorney|atty|attny|agent|client|our|your|practitioner|filer|applicant)(?:['`]?s)?\b\.?\s*/?\s*)"
_REF = r"ref(?:erence)?\b\.?"
_LABEL = (
    rf"\b(?:{_WHOSE}*(?:docket|dkt)\b\.?(?:\s*{_REF})?(?:\s*{_NUMBER})?"
    rf"|{_WHOSE}*(?:file|matter|case)\b\.?(?:\s*{_REF})?\s*{_NUMBER}"
    rf"|{_WHOSE}+{_REF}(?:\s*{_NUMBER})?"
    rf"|{_REF}\s*{_NUMBER}|{_REF}(?=\s*:))"
)
_LABELLED = re.compile(_LABEL + r"\s*(?:\([^)]*\)\s*)?[:.#\-]{0,2}\s*" + _VALUE + r"?", re.IGNORECASE)
_SHAPED = re.compile(r"(?<![\w/.\-])([A-Z0-9]+(?:[\-/._][A-Z0-9]+)*)(?![\w/\-])")
_DATE = re.compile(
    r"^(?:\d{1,2}[-/.]\d{1,2}[-/.](?:\d{2}|\d{4})|(?:19|20)\d{2}[-/.]\d{1,2}[-/.]\d{1,2}"
    r"|\d{1,2}-(?:JAN|FEB|MAR|APR|MAY|JUN|JUL|AUG|SEP|OCT|NOV|DEC)[A-Z]*-\d{2,4})$"
)
_IMPRINT = re.compile(
    r"\b(?:envelope|signature|document|transaction) id\b|\bOMB\b|\bapproved for use\b|\bPTO/", re.IGNORECASE
)
_NOT_A_DOCKET = re.compile(
    r"^(?:PTO[-/].*|SB[-/]\d.*|AIA[-/]\d.*|FIGS?\.?\d.*|US[-]?\d.*|(?:[0-9]{1,4}/[0-9]{1,4})|\d{2}/\d{3,}|\d{3}-\d{3,4}(?:-\d{4})?"
    r"|COVID.*|[0-9.]+|(?:ISO|IEC|IEEE|DIN|EN|RS|UTF|MP)[-/ ]?\d.*)$"
)


def dockets(paper: Paper) -> tuple[Said, ...]:
    """Every docket number with its first place on each page, in page order; as printed, not folded."""
    found: list[Said] = []
    bare = _kept_bare(paper)
    for page in paper.pages:
        seen: set[str] = set()
        for value, box in (*_labelled(paper, page), *bare.get(page.number, ())):
            if fold(value) not in seen:
                seen.add(fold(value))
                found.append(Said(value, paper.file, paper.role, page.number, box))
    return tuple(found)


def fold(docket: str) -> str:
    """What the office keeps of it for comparing: letters and digits, upper case."""
    return re.sub(r"[^A-Z0-9]", "", flat(docket).upper())


def is_docket_label(text: str) -> bool:
    """Whether a line carries the label of a docket number."""
    return bool(re.search(_LABEL, flat(text), re.IGNORECASE))


def _labelled(paper: Paper, page: Page) -> Iterator[tuple[str, Box]]:
    every = lines_on(paper, page)
    for line in every:
        text = flat(line.text)
        for found in _LABELLED.finditer(text):
            value = found.group(1)
            if paper.kind == "text" and not _apart(page, line, text, found.group(0)):
                continue
            if value and _plausible(value, ends=found.end() >= len(text)):
                yield value.rstrip(".,;:"), line.box
            elif not value:
                yield from _next_to(every, line)


def _apart(page: Page, line: Line, text: str, found: str) -> bool:
    """Whether a label stands in a line of its own or at the edge: a sentence may name the docket of another case."""
    at_edge = line.box.bottom < EDGE or line.box.top > page.height - EDGE
    return at_edge or len(words(text)) - len(words(found)) < PROSE_LINE_WORDS - 1


def _next_to(every: list[Line], label: Line) -> Iterator[tuple[str, Box]]:
    """The value that stands to the right of a bare label, or else right under it."""
    for line in (beside(every, label), below(every, label)):
        if line is None:
            continue
        value = re.match(r"^[\W_]*" + _VALUE + r"(?:$|\s)", flat(line.text))
        if value and _plausible(value.group(1), ends=True) and len(flat(line.text).split()) <= 3:
            yield value.group(1).rstrip(".,;:"), line.box
            return


def _plausible(value: str, *, ends: bool) -> bool:
    """A docket number has a digit, or is one run of capitals that ends the line; a word of a sentence is none."""
    if _DATE.match(value.upper()):
        return False
    capitals = ends and value == value.upper() and len(fold(value)) >= MIN_CHARACTERS - 1
    return capitals or (any(c.isdigit() for c in value) and len(fold(value)) >= 2)


def _unlabelled(paper: Paper, page: Page) -> Iterator[tuple[str, Box]]:
    every = upright(line for line in page.lines if line.visible)
    for line in every:
        text = flat(line.text)
        if len(words(text)) > HEADER_WORDS or is_docket_label(text):
            continue
        tokens = unlabelled_tokens(text)
        if tokens and _runs_along(paper, page, every, line):  # in this order: to run along is asked of all lines
            yield from ((token, line.box) for token in tokens)


def _kept_bare(paper: Paper) -> dict[int, list[tuple[str, Box]]]:
    """Unlabelled tokens by page. Over several pages one counts if it is repeated, or stands where a repeated one does.

    So a part's name in the first line of one page is none, and the header of a strayed page is one.
    """
    found = {page.number: list(_unlabelled(paper, page)) for page in paper.pages}
    if len(paper.pages) == 1:
        return found
    times = Counter(fold(value) for tokens in found.values() for value in {fold(v): v for v, _ in tokens}.values())
    places = [box for tokens in found.values() for value, box in tokens if times[fold(value)] > 1]

    def counts(value: str, box: Box) -> bool:
        return times[fold(value)] > 1 or any(abs(box.top - other.top) <= SAME_HEIGHT for other in places)

    return {number: [(v, box) for v, box in tokens if counts(v, box)] for number, tokens in found.items()}


def _runs_along(paper: Paper, page: Page, every: list[Line], line: Line) -> bool:
    """Whether a line is a header or footer; on a drawing only what stands in the top margin, above the sight.

    The first or last line of running text is none: it stands as near to its neighbour as lines of text do.
    """
    if paper.kind == "drawing":
        return line.box.middle[1] < SIGHT
    if line.box.bottom <= EDGE or line.box.top >= page.height - EDGE:
        return True
    if line.box.bottom > ZONE and line.box.top < page.height - ZONE:
        return False
    gaps = [
        max(other.box.top - line.box.bottom, line.box.top - other.box.bottom)
        for other in every
        if other is not line and not level(other, line)
    ]
    return min(gaps, default=APART) >= APART * line.size * CM_PER_PT


def unlabelled_tokens(text: str) -> list[str]:
    """The tokens of a line that have the shape of a docket number; none in the imprint of an office form."""
    if _IMPRINT.search(text):
        return []
    return [token for token in _SHAPED.findall(text) if _docket_shaped(token)]


def _docket_shaped(token: str) -> bool:
    """Capitals and digits in one token, at least one of each, or groups of digits parted twice."""
    if len(fold(token)) < MIN_CHARACTERS or _DATE.match(token) or _NOT_A_DOCKET.match(token):
        return False
    letters, digits = any(c.isalpha() for c in token), any(c.isdigit() for c in token)
    return digits and (letters or len(re.findall(r"[\-/._]", token)) >= 1)
