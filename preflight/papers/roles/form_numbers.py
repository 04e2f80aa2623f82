"""Office forms, known by the number that they print in a corner or by their heading."""

from __future__ import annotations

import re
from collections.abc import Callable

from preflight.facts import FileFacts, Page
from preflight.papers.model import Sign
from preflight.papers.words.headings import sections, stacked
from preflight.papers.words.lettering import flat, keyed, prose_words
from preflight.papers.words.remembered import remembered
from preflight.papers.words.rows import rows_of

HEADING_SHARE = 0.42
"""The heading of a form stands in this upper share of the page. House value."""
CORNER_SHARE = 0.25
"""The number of a form stands in this upper share of the page, or ... House value."""
FOOT_SHARE = 0.86
"""... below this share. A number mentioned in between refers to another form. House value."""

DESCRIPTION_WORDS = 25
"""A page with a heading of a description and so many words in running lines is one. House value."""

Recogniser = Callable[[FileFacts, Page], Sign | None]

_CODE_BEFORE = r"^[\W_]*(?:Doc(?:ument)? Code:?\s*\S*\s+)?(?:Document Description:?.{0,60}\s+)?(?:Form\s+)?"
_EDITION = r"\s*(?:\(\s*\d{1,2}\s*[-/]\s*\d{2,4}\s*\).*|Approved for use.*|Page \d.*|Rev.*)?$"
_LATER = re.compile(r"\bpage\s*(?:[2-9]|1\d)\s*(?:of|/)\s*\d", re.IGNORECASE)
_DESCRIPTION = re.compile(r"\b(?:background|field|summary|brief description|detailed description|introduction)\b")
_NOTES = re.compile(r"\bprivacy act\b|\bpaperwork reduction act\b|\bburden hour")


def form_number(page: Page, *numbers: str) -> str | None:
    """The form number that stands in the head or foot of a page as its own, in any edition, or None.

    `numbers` are regular expressions such as "SB/16". A number within a sentence refers to another form.
    """
    one = re.compile(_CODE_BEFORE + r"(PTO[/\-](?:" + "|".join(numbers) + r"))\b" + _EDITION, re.IGNORECASE)
    for line in page.lines:
        if CORNER_SHARE * page.height < line.box.top < FOOT_SHARE * page.height:
            continue
        found = one.match(flat(line.text))
        if found:
            return found.group(1).upper()
    return None


def office_form(page: Page) -> str | None:
    """The number of whichever form of the office the page is, or None."""
    return form_number(page, r"[A-Z]{2,4}/\d{1,4}[A-Z]?")


def form(
    numbers: tuple[str, ...], heading: str, *, every_page: bool = True, refuse: str = "(?!)", needs: str = ""
) -> Recogniser:
    """A recogniser for a form: by its number, else by a heading. `heading` and `refuse` meet folded words.

    `needs`: what must stand on the page besides the heading, for headings that a description may have too.
    `every_page`: the form prints its heading on each page, so that one right after another goes on.
    """
    head, no, also = re.compile(heading), re.compile(refuse), re.compile(needs)

    def sign(file: FileFacts, page: Page) -> Sign | None:
        number = form_number(page, *numbers) if numbers else None
        if number:
            return Sign(0.98, f"form number {number}", starts=not later_page(page))
        if describes(file, page):
            return None
        top = [row for row in rows_of(page) if row.box.top < HEADING_SHARE * page.height]
        for text in stacked(top):
            folded = keyed(text)
            if head.search(folded) and not no.search(folded) and also.search(whole_text(page)):
                return Sign(0.92, f"heading on page {page.number}: {flat(text)}", starts=not later_page(page))
        return None

    def recognise(file: FileFacts, page: Page) -> Sign | None:
        found = sign(file, page)
        if found and every_page and found.starts:
            before = next((p for p in file.pages if p.number == page.number - 1), None)
            if before is not None and sign(file, before):
                return Sign(found.weight, found.how, starts=False)
        return found

    return recognise


def describes(file: FileFacts, page: Page) -> bool:
    """Whether a page is part of a description, whose headings may bear the words of a form ("Cover Sheet")."""
    telling = any(_DESCRIPTION.search(keyed(row.text)) for row in sections(file, page))
    return telling and prose_words(page) >= DESCRIPTION_WORDS


@remembered
def whole_text(page: Page) -> str:
    """All folded words of a page in one string."""
    return keyed(" ".join(line.text for line in page.lines))


def later_page(page: Page) -> bool:
    """Whether the page calls itself a second or later one ("Page 2 of 3")."""
    return any(_LATER.search(line.text) for line in page.lines)


def small_print(page: Page) -> bool:
    """Whether the page carries the notes that office forms end with."""
    return bool(_NOTES.search(whole_text(page)))
