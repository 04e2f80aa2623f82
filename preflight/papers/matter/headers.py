"""Running headers and footers whose words the text does not use: those of another client's invention."""

from __future__ import annotations

import re
from collections.abc import Iterator

from preflight.papers.forms.persons import is_organisation
from preflight.papers.matter.names import names_said
from preflight.papers.matter.titles import worded_as_title
from preflight.papers.model import Filing, Paper, Said
from preflight.papers.pages.continuous import continuous
from preflight.papers.pages.running import running_text
from preflight.papers.words.headings import without_numbers
from preflight.papers.words.lettering import keyed, words

TELLING, MOSTLY = 3, 0.6
"""So many words of a header that the text does not use, and so great a share of them, tell of another matter. House
values."""
REPEATED = 2
"""What runs along stands on so many pages. House value."""
SHORT = 4
"""Shorter words tell nothing. House value."""

_FIRM = re.compile(r"\b(?:LLP|LLC|PLLC|P\.?C\.?|partners|associates|attorneys|lawyers|law|counsel)\b", re.IGNORECASE)
_OF_EVERY_HEADER = frozenset(
    re.findall(
        r"\S+",
        """
        provisional patent application applications attorney docket client matter file reference confidential privileged
        draft page sheet filed inventor inventors applicant applicants title utility specification description claims
        abstract drawings express mail label electronic electronically submission submitted center uspto united states
        trademark office work product communication copyright rights reserved version date dated under with from this
        that january february march april june july august september october november december number
        """.casefold(),
    )
)


def foreign_headers(filing: Filing) -> Iterator[Said]:
    """The first place of each header or footer on several pages of a text paper, whose words the text hardly uses.

    Names of the inventors, of firms and of persons are no such words.
    """
    text = [paper for paper in filing.papers if paper.kind == "text" and not paper.text_unread]
    used = {word.rstrip("s") for paper in text for word in keyed(continuous(paper).text).split()}
    used |= {word for some in names_said(filing) for said in some for word in keyed(said.value).split()}
    for paper in text:
        yield from _of_paper(paper, used)


def _of_paper(paper: Paper, used: set[str]) -> Iterator[Said]:
    places: dict[str, list[Said]] = {}
    for one in running_text(paper):
        for said, box in ((one.header, one.header_box), (one.footer, one.footer_box)):
            if said and box:
                place = Said(said, paper.file, paper.role, one.page, box)
                places.setdefault(without_numbers(said), []).append(place)
    for some in places.values():
        if len(some) >= REPEATED and _is_foreign(some[0].value, used):
            yield some[0]


def _is_foreign(said: str, used: set[str]) -> bool:
    telling = {word for word in keyed(" ".join(words(said))).split() if _tells(word)}
    strange = {word for word in telling if word.rstrip("s") not in used}
    if is_organisation(said) or _FIRM.search(said) or not worded_as_title(said):
        return False
    return len(strange) >= TELLING and len(strange) >= MOSTLY * len(telling)


def _tells(word: str) -> bool:
    return len(word) >= SHORT and word not in _OF_EVERY_HEADER
