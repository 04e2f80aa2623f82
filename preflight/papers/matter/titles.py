"""The title of the invention as each paper gives it, and whether two titles are the same."""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence
from typing import Literal

from preflight.facts import CM_PER_PT, Box, Page
from preflight.papers.forms import form_words as label
from preflight.papers.forms.labels import said, value_at
from preflight.papers.forms.letters import title_said
from preflight.papers.forms.persons import folded_name, is_name
from preflight.papers.model import Paper, Said
from preflight.papers.pages.dockets import is_docket_label, unlabelled_tokens
from preflight.papers.pages.page_numbers import page_numbers
from preflight.papers.pages.sheets import identification
from preflight.papers.roles.text_roles import ABSTRACT_HEADING, CLAIMS_HEADING
from preflight.papers.specification.headings import BEFORE_THE_FIELD, part_of
from preflight.papers.words.headings import EDGE, SECTIONS, without_numbers
from preflight.papers.words.lettering import Row, flat, keyed, rows, words
from preflight.papers.words.rows import line_numbers

ALIKE = 0.72
"""Two words whose letters agree to this share are one word with a slip. House value."""
SHARED_WORDS = 0.75
"""Titles with different words on both sides are one title if so large a share of the words agrees. House value."""
TOP_SHARE = 0.6
"""A title stands in this upper share of the first page. House value."""
OFF_CENTRE = 0.8
"""A centred line has its middle within so many cm of the middle of the page. House value."""
WRAP_SHARE = 0.5
"""A line that fills less than this share of the page's text width ends a title unless a small word leads on."""
WRAP_GAP = 2.0
"""Lines of one title are at most so many type sizes apart, white only. House value: double spacing."""
PARAGRAPH = 1000
"""A text in mixed case of more characters than this is a paragraph. House value: twice the longest title."""
NAME_WORDS = frozenset(
    ("and", "or", "for", "with", "of", "in", "to", "using", "having", "by", "a", "an", "the", "on", "from", "via", "at")
)
"""Words that lead a title on, and that no name holds."""
THINGS = frozenset(
    ("method", "methods", "system", "systems", "apparatus", "device", "devices", "assembly", "machine", "composition")
)
"""Words that mark a text as a title rather than a name."""

_NO_NAME = (NAME_WORDS | THINGS) - {"a", "by", "and", "of", "e"}
"""Words that no name of a person or a firm holds."""

Difference = Literal["same", "small", "other"]

_PREAMBLE = re.compile(
    r"^(?:(?:us |u s |united states |new )?(?:non ?)?(?:provisional )?(?:utility )?(?:patent )?application"
    r"(?: for(?: united states)?(?: letters)? patent)?(?: specification)?(?: of| for| entitled)?"
    r"|(?:the )?(?:patent )?specification|provisional specification|provisional patent(?: application)?"
    r"|in the (?:united states|us) patent and trademark office|for|of|entitled|to|on|by|letters patent|description"
    r"|invention disclosure|disclosure|confidential.*|title page|the invention)$"
)
_PEOPLE = re.compile(
    r"^(?:to (?:all )?whom\b.*|be it known\b.*|inventors?|applicants?|assignees?|by|filed|date"
    r"|prepared by|submitted by|attorney)\b"
)
_PARAGRAPH = re.compile(r"^\[\s?\d{3,5}\s?\]")
_PARTS = re.compile(r"\s+[|\u2022\u00b7]\s+|\s+-{1,2}\s+|\s*;\s+|\s{3,}")
_SHEET_WORDS = re.compile(
    r"\b(?:sheet|inventors?|applicant|docket|replacement|annotated|new sheet|filed|application|serial|page|dkt|et al)\b"
)
_LABEL_BEGINS = re.compile(
    r"\s*[,;|\-]?\s*\b(?=(?:(?:attorney|atty|client|our)\S*\s+)*(?:docket|dkt|inventors?|applicants?|title|sheet|filed)\b\W)",
    re.IGNORECASE,
)
_AND_OTHERS = re.compile(
    r"(?:(?<=[A-Z]{2}\s)[A-Z][\w.'-]*[a-z][\w.'-]*\s+)?(?:\b(?i:van|von|de|der|den|di|du|la|le|del|st)\.?\s+){0,2}"
    r"\b[^\W\d_][\w'-]*,?\s+(?i:et\s+al)\b\.?"
)
"""The first inventor with "et al.": a family name with its small words; a given name only right after capitals."""
_ARTICLES = ("a", "an", "the", "new", "improved")


def title_of(paper: Paper, people: Sequence[str] = ()) -> Said | None:
    """The title that a paper gives, or None where it gives none that can be told.

    Specification: the first heading of the first page, or what a "Title" label names. Forms and letters: by label.
    Claims and abstract: by label, or capitals worded as a title right over their heading. Drawings: by label, or what
    in the top margin is worded or set as a title and is none of the `people` (the inventors' names, if known).
    """
    if paper.role == "specification":
        return _heading(paper, people)
    if paper.kind == "drawing":
        return _on_drawings(paper, people)
    return _labelled(paper) or (title_said(paper) if paper.kind == "letter" else _over_heading(paper))


def title_candidates(paper: Paper) -> tuple[Said, ...]:
    """Every part of the identification on the sheets that can be a title or a name: for holding against known ones."""
    return tuple(
        Said(part, paper.file, paper.role, page.number, line.box)
        for page in paper.pages
        for line in identification(page)
        for part in _parts(line.text)
        if _can_be_title(part)
    )


def fold(title: str) -> str:
    """A title for comparing: case, spaces, dashes, quotes and a trailing full stop do not count."""
    plain = re.sub(r"\s*-\s*", "-", flat(title).casefold())
    return plain.strip(" .\"'").replace('"', "").replace("'", "")


def difference(first: str, second: str) -> Difference:
    """Same after folding; small where one is the other with slips, articles or words more or less; else other."""
    one, two = fold(first), fold(second)
    if one == two or one.replace("-", " ") == two.replace("-", " ") or one.replace(" ", "") == two.replace(" ", ""):
        return "same"
    weighty, others = _weighty(one), _weighty(two)
    shared = weighty & others
    here, there = _unlike(weighty - shared, others - shared), _unlike(others - shared, weighty - shared)
    if not here or not there:  # nothing but slips, or one title holds the other
        return "small" if len(weighty) > len(here) and len(others) > len(there) else "other"
    alike = max(len(weighty), len(others)) - max(len(here), len(there))
    return "small" if alike >= SHARED_WORDS * max(len(weighty), len(others)) else "other"


def _unlike(some: set[str], others: set[str]) -> set[str]:
    """The words for which the other title has none that might be the same word misspelled."""
    return {word for word in some if not difflib.get_close_matches(word, others, n=1, cutoff=ALIKE)}


def _weighty(folded: str) -> set[str]:
    """The words that tell titles apart, without plural endings."""
    return {word.rstrip("s") for word in keyed(folded).split() if word not in NAME_WORDS and word not in _ARTICLES}


def _labelled(paper: Paper) -> Said | None:
    title = said(paper, value_at(paper, label.TITLE if paper.kind == "form" else rf"{label.TITLE}|entitled"))
    if title is None or SECTIONS.match(keyed(title.value)):
        return None
    return title if title.page <= paper.first_page + 1 or paper.kind == "form" else None


def _heading(paper: Paper, people: Sequence[str]) -> Said | None:
    """The first heading of the first page that is no preamble, docket line, number or name."""
    page = paper.pages[0]
    every = _body(paper, page)
    width = max((row.box.width for row in rows(ln for ln in page.lines if ln.visible)), default=0.0)
    for at, row in enumerate(every):
        folded = keyed(row.text)
        if row.box.top > TOP_SHARE * page.height or (SECTIONS.match(folded) and folded != "specification"):
            return None
        if part_of(row.text) in BEFORE_THE_FIELD:
            return None
        if ABSTRACT_HEADING.match(folded) or CLAIMS_HEADING.match(folded) or _PARAGRAPH.match(row.text):
            return None
        if _PREAMBLE.match(folded) or _PEOPLE.match(folded) or re.fullmatch(label.TITLE, folded):
            continue
        if is_docket_label(row.text) or unlabelled_tokens(row.text):
            continue
        group = _without_people(_group(every[at:], width, page.width / 2), people)
        text = _after_label(" ".join(one.text for one in group))
        if _is_sentence(text, every[at + len(group) :], group):
            return None
        box = Box.around(one.box for one in group)
        return Said(text.strip("\"' "), paper.file, paper.role, page.number, box)
    return None


def _over_heading(paper: Paper) -> Said | None:
    """The centred capitals with which a page of claims or an abstract begins, if no name is worded so."""
    if paper.role not in ("claims", "abstract"):
        return None
    page = paper.pages[0]
    above: list[Row] = []
    for row in _body(paper, page):
        folded = keyed(row.text)
        if ABSTRACT_HEADING.match(folded) or CLAIMS_HEADING.match(folded):
            break
        if _PREAMBLE.match(folded) or _PEOPLE.match(folded) or is_docket_label(row.text) or unlabelled_tokens(row.text):
            continue
        if row.text != row.text.upper() or not _centred(row, page.width / 2):
            return None
        above.append(row)
    text, box = " ".join(row.text for row in above), Box.around(row.box for row in above)
    told = set(keyed(text).split()) & _NO_NAME
    return Said(text, paper.file, paper.role, page.number, box) if told and box else None


def _after_label(text: str) -> str:
    head, colon, tail = text.partition(":")
    return tail.strip() if colon and re.fullmatch(label.TITLE, keyed(head)) else text


def _body(paper: Paper, page: Page) -> list[Row]:
    """The visible rows of the first page without its page number and lines that later pages repeat at the top."""
    number = next((one.box for one in page_numbers(paper) if one.page == page.number and one.box), None)
    repeated = {
        without_numbers(row.text)
        for other in paper.pages[1:3]
        for row in rows(ln for ln in other.lines if ln.visible and ln.box.bottom < EDGE + 1)
    }
    kept = []
    numbers = line_numbers(page)
    for row in rows(line for line in page.lines if line.visible and line not in numbers):
        header = row.box.bottom < EDGE + 1 and without_numbers(row.text) in repeated
        if not header and not (number and row.box.touches(number)) and words(row.text):
            kept.append(row)
    return kept


def _group(every: Sequence[Row], width: float, centre: float) -> list[Row]:
    """The rows that make up one title: of one size and style, close together, each full or leading on."""
    group = [every[0]]
    for row in every[1:]:
        last = group[-1]
        size = last.lines[0].size
        gap = (row.box.top - last.box.bottom) / (size * CM_PER_PT)
        same = abs(row.lines[0].size - size) < 0.7 and (row.text == row.text.upper()) == (
            last.text == last.text.upper()
        )
        folded = keyed(row.text)
        new = (
            part_of(row.text) in BEFORE_THE_FIELD
            or SECTIONS.match(folded)
            or _PEOPLE.match(folded)
            or (_PREAMBLE.match(folded) and folded not in NAME_WORDS)
        )
        if gap > WRAP_GAP or not same or new or _PARAGRAPH.match(row.text) or not _leads_on(last, row, width):
            break
        if _centred(last, centre) and not _centred(row, centre) and row.box.left < last.box.left:
            break
        group.append(row)
    return group


def _centred(row: Row, centre: float) -> bool:
    return abs(row.box.middle[0] - centre) <= OFF_CENTRE


def _without_people(group: list[Row], people: Sequence[str]) -> list[Row]:
    """The rows up to the first that names an inventor: a by-line under the title."""
    names = {keyed(name) for name in people}
    end = next(
        (at for at, row in enumerate(group) if at and any(name in keyed(row.text) for name in names)), len(group)
    )
    return group[:end]


def _leads_on(last: Row, row: Row, width: float) -> bool:
    ends, begins = keyed(last.text).split()[-1:], keyed(row.text).split()[:1]
    small = (ends and ends[0] in NAME_WORDS) or (begins and begins[0] in NAME_WORDS) or last.text.endswith((",", "-"))
    return bool(small) or last.box.width >= WRAP_SHARE * width


def _is_sentence(text: str, following: Sequence[Row], group: Sequence[Row]) -> bool:
    """Running text instead of a title: it ends as a sentence, holds one, or is a paragraph by its length."""
    if text == text.upper():
        return False
    if re.search(r"[.;]\s*$", text) and len(words(text)) > 6:
        return True
    if re.search(r"[a-z]{2}[.;]\s+[A-Za-z]", text) or len(text) > PARAGRAPH:
        return True
    first = next((c for c in text if c.isalpha()), "A")
    return first.islower() or (len(group) > 3 and bool(following) and not SECTIONS.match(keyed(following[0].text)))


def _parts(text: str) -> list[str]:
    """An identification line cut at separators, before labels, and where capitals turn to a name in mixed case."""
    plain = _AND_OTHERS.sub(r"; \g<0>; ", _LABEL_BEGINS.sub("; ", flat(text)))
    parts = [part for piece in _PARTS.split(plain) for part in _by_case(piece.strip(" ,-|"))]
    return [part for part in parts if part]


def _by_case(part: str) -> list[str]:
    """ "HOSE GUIDE Jane Roe" is a title in capitals and a name."""
    tokens = part.split()
    capitals = next((at for at, token in enumerate(tokens) if token != token.upper()), len(tokens))
    rest = " ".join(tokens[capitals:])
    if 2 <= capitals < len(tokens) and is_name(rest) and len(tokens) - capitals >= 2:
        return [" ".join(tokens[:capitals]), rest]
    return [part]


def _can_be_title(part: str) -> bool:
    return len(words(part)) >= 2 and not _SHEET_WORDS.search(keyed(part)) and not unlabelled_tokens(part)


def _on_drawings(paper: Paper, people: Sequence[str]) -> Said | None:
    for page in paper.pages:
        for line in identification(page):
            for part in _parts(line.text):
                head, colon, tail = part.partition(":")
                if colon and re.fullmatch(label.TITLE, keyed(head)) and tail.strip():
                    return Said(tail.strip(), paper.file, paper.role, page.number, line.box)
    names = {folded_name(name) for name in people}
    some = [one for one in title_candidates(paper) if folded_name(one.value) not in names]
    return next((one for one in some if worded_as_title(one.value)), None)


def worded_as_title(text: str) -> bool:
    """Words that no name holds, or more capitals than a name has, or a text that is not shaped as a name."""
    folded = set(keyed(text).split())
    if folded & _NO_NAME:
        return True
    return not is_name(text) or (text == text.upper() and len(words(text)) >= 3 and min(map(len, words(text))) > 2)
