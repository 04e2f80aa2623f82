"""By what a page shows that it is claims, abstract or description."""

from __future__ import annotations

import re

from preflight.facts import FileFacts, Page
from preflight.papers.model import Sign
from preflight.papers.roles.form_numbers import small_print
from preflight.papers.roles.form_roles import is_correspondence
from preflight.papers.words.headings import first_headings, sections
from preflight.papers.words.lettering import flat, keyed, prose_words
from preflight.papers.words.rows import rows_of

PROSE = 60
"""A page with so many words in running lines is text. House value."""

_LEAD = r"(?:claims? )?(?:what|that which) (?:is|i|we|applicants?)(?: is)? "
CLAIMS_HEADING = re.compile(
    r"^(?:(?:the |optional |example |exemplary |sample |provisional |patent |draft )*claims?"
    r"|(?:listing|list|set|statement) of claims"
    rf"|{_LEAD}claims?e?d?(?: as new)?(?: and desired .*)?(?: is| are)?(?: as .*)?"
    r"|(?:i|we|applicants?)(?: hereby)? claims?(?: as .*)?"
    r"|(?:the )?(?:inventions?|embodiments?) claimed (?:is|are)|it is claimed(?: that)?|(?:is )?claimed is"
    r"|(?:the )?claims? (?:are|is) (?:as follows|listed below))$"
)
_CLAIMS_RUN_IN = re.compile(r"^(?:claims?|(?:what is|i|we) claim(?:ed)?(?: is)?)\s*[:,]\s*1\s*[.)]\s", re.IGNORECASE)
ABSTRACT_HEADING = re.compile(
    r"^(?:the )?abstract(?: of (?:the )?(?:disclosure|invention|technical disclosure|application))?$"
)
_ABSTRACT_RUN_IN = re.compile(r"^abstract(?: of the (?:disclosure|invention))?\s*[:.\-]\s*[A-Z]", re.IGNORECASE)
_DEPENDENT = re.compile(r"\b(?:of|in|to|with|by|under|from) (?:any (?:one )?of )?claims? \d", re.IGNORECASE)
_CLAIM_START = re.compile(r"^\d{1,3}\s?[.)]\s+\S")
_PARAGRAPH = re.compile(r"^\[\s?\d{3,5}\s?\]")


def claims_sign(file: FileFacts, page: Page) -> Sign | None:
    """A claims heading as the first thing of the body; numbered claims alone are a weak sign."""
    for text in first_headings(file, page):
        if CLAIMS_HEADING.match(keyed(text)) or _CLAIMS_RUN_IN.match(text):
            return Sign(0.9, f"heading on page {page.number}: {text}")
    every = rows_of(page)
    starts = sum(1 for row in every if _CLAIM_START.match(row.text))
    refers = sum(1 for row in every if _DEPENDENT.search(row.text))
    if starts >= 2 and refers >= 2 and not sections(file, page):
        return Sign(0.4, f"numbered claims on page {page.number}", starts=False)
    return None


def abstract_sign(file: FileFacts, page: Page) -> Sign | None:
    """An abstract heading as the first thing of the body, and no heading of a description on the same page."""
    for text in first_headings(file, page):
        if ABSTRACT_HEADING.match(keyed(text)) or _ABSTRACT_RUN_IN.match(text):
            return None if sections(file, page) else Sign(0.9, f"heading on page {page.number}: {text[:40]}")
    return None


def specification_sign(file: FileFacts, page: Page) -> Sign | None:
    """Headings of a description weigh more than numbered paragraphs, those more than running text."""
    found = sections(file, page)
    if found:
        return Sign(0.75, f"heading on page {page.number}: {found[0].text}", starts=False)
    if any(_PARAGRAPH.match(flat(line.text)) for line in page.lines):
        return Sign(0.6, f"numbered paragraphs on page {page.number}", starts=False)
    if prose_words(page) >= PROSE and not small_print(page) and not is_correspondence(page):
        return Sign(0.3, f"running text on page {page.number}", starts=False)
    return None
