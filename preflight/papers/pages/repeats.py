"""Pages that hold nothing, and pages that show the same as another."""

from __future__ import annotations

import re

from preflight.facts import Line, Page
from preflight.papers.model import Paper, text_unread
from preflight.papers.pages.running import body
from preflight.papers.pages.setting import body_lines
from preflight.papers.words.lettering import keyed

SAME_WORDS = 25
"""Two pages with the same words, at least so many, are one page twice. House value: fewer may be two title pages."""

EDGE = 2.6
"""What stands within so many cm of the upper or lower edge is header or footer. House value: a margin of an inch."""

_LEFT_BLANK = re.compile(r"^(?:this )?(?:page )?(?:is )?(?:left )?(?:intentionally )?(?:left )?blank$")


def is_blank(page: Page, paper: Paper) -> bool:
    """Whether a page shows nothing but header, footer and its number, or says that it is left blank."""
    if page.unread:
        return False
    if page.ink is None:
        return True
    if text_unread(page) or page.pictures:
        return False
    said = keyed(" ".join(line.text for line in page.lines if line.visible and not _at_edge(page, line)))
    return bool(_LEFT_BLANK.match(said)) or (not said and paper.kind == "text" and body(page, paper) is None)


def _at_edge(page: Page, line: Line) -> bool:
    return line.box.bottom <= EDGE or line.box.top >= page.height - EDGE


def repeated(paper: Paper) -> tuple[tuple[Page, Page], ...]:
    """Each page that looks or reads the same as an earlier one, with that one. Blank pages are not meant."""
    found: list[tuple[Page, Page]] = []
    seen: dict[str, Page] = {}
    for page in paper.pages:
        if page.unread or is_blank(page, paper):
            continue
        keys = [key for key in (page.digest, _words(page, paper)) if key]
        earlier = next((seen[key] for key in keys if key in seen), None)
        if earlier is not None:
            found.append((page, earlier))
        seen |= {key: page for key in keys if key not in seen}
    return tuple(found)


def _words(page: Page, paper: Paper) -> str:
    """The words of the body; empty if there are too few to tell."""
    said = keyed(" ".join(line.text for line in body_lines(paper)[page.number]))
    return said if len(said.split()) >= SAME_WORDS else ""
