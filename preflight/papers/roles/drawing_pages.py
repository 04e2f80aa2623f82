"""Whether a page looks like a sheet of drawings: by its labels, its few words, or the way its ink is scattered."""

from __future__ import annotations

import re

from preflight.facts import Box, FileFacts, Page
from preflight.papers.model import Sign
from preflight.papers.words.drawn import as_seen
from preflight.papers.words.headings import sections
from preflight.papers.words.lettering import flat, prose_words, words
from preflight.papers.words.rows import rows_of

FIGURE_LABEL = re.compile(
    r"^[\W_]*(?:FIG(?:S|URES?)?)\b\.?\s*(\d{1,3}\s?(?:\(?[A-Za-z]\)?)?'?)"
    r"(?:\s*(?:-|to|and|&|,)\s*\d{1,3}\s?[A-Za-z]?)*[\s.:]*"
    r"(?:\(?\s*(?:prior art|related art|background art|cont(?:inued|'?d|\.)?)\s*\.?\)?)?[\W_]*$",
    re.IGNORECASE,
)
"""A label that stands alone: FIG. 1, Fig. 2A, FIGURE 3 (PRIOR ART)."""
SHEET_LABEL = re.compile(
    r"^(?:sheet|page)?\s*(\d{1,3})\s*(/|of)\s*(\d{1,3})(?:\s*(?:sheets|pages|drawings?))?$", re.IGNORECASE
)
_NUMERAL = re.compile(r"^\d{1,4}[A-Za-z]?'{0,2}$")

FEW_WORDS = 45
"""A sheet of drawings has fewer words in running lines than this; a page of text has more. House value."""
SHORT_PAGE_WORDS = 15
"""A page whose running lines hold more words than this needs a figure label to be a drawing. House value."""
BIG_SHARE = 0.12
"""A picture or cluster of ink over this share of the page is a figure rather than an ornament. House value."""
SCAN_SHARE = 0.6
"""A picture over this share of the page is a scan of the whole page. House value."""
LABEL_REACH = 2.5
"""Words that begin within so many cm right of a label continue it: "FIG. 1   is a side view". House value."""


def drawing_sign(file: FileFacts, page: Page) -> Sign | None:
    """Why a page seems to be a drawing; labels weigh more than ink alone."""
    page = as_seen(page)
    prose = prose_words(page)
    if prose >= FEW_WORDS or sections(file, page):
        return None
    label = _lone_label(page)
    if label:
        return Sign(0.85, f"figure label on page {page.number}: {label}", starts=False)
    if prose >= SHORT_PAGE_WORDS or (page.readings and _is_wordy(page)):
        return None
    sheet = _sheet_label(page)
    if sheet and _has_figure(page):
        return Sign(0.8, f"sheet number on page {page.number}: {sheet}", starts=False)
    if any(line.text.strip() for line in page.lines):
        return _few_words(page)
    return _scattered(page)


def _is_wordy(page: Page) -> bool:
    """A scanned form without a figure label: its cells are short lines, but they are many."""
    return sum(len(words(line.text)) for line in page.lines) >= 2 * FEW_WORDS


def _lone_label(page: Page) -> str | None:
    for line in page.lines:
        text = flat(line.text)
        if FIGURE_LABEL.match(text) and not _goes_on(page, line.box, line.turned):
            return text
    return None


def _goes_on(page: Page, box: Box, turned: int) -> bool:
    """Whether words follow closely to the right of an upright label, so that it begins a sentence."""
    if turned:
        return False
    middle = box.middle[1]
    return any(
        0 < other.box.left - box.right < LABEL_REACH
        and other.box.top <= middle <= other.box.bottom
        and other.turned == 0
        and flat(other.text)[:1].islower()
        for other in page.lines
    )


def _sheet_label(page: Page) -> str | None:
    for row in rows_of(page):
        if row.box.top > page.height / 3:
            break
        for line in row.lines:
            if SHEET_LABEL.match(flat(line.text)):
                return flat(line.text)
    return None


def _has_figure(page: Page) -> bool:
    """Ink or a picture of some size that no line of characters covers."""
    area = page.width * page.height
    if any(p.box.area > BIG_SHARE * area for p in page.pictures):
        return True
    return any(m.area > BIG_SHARE / 2 * area and not _covered(page, m) for m in page.marks)


def _covered(page: Page, mark: Box) -> bool:
    """Whether lines of characters fill a good part of a cluster: then it is a paragraph, not a figure."""
    inside = [line.box for line in page.lines if line.box.touches(mark)]
    return sum(box.area for box in inside) > 0.3 * mark.area


def _few_words(page: Page) -> Sign | None:
    count = sum(len(words(line.text)) for line in page.lines)
    numerals = sum(1 for line in page.lines if _NUMERAL.match(flat(line.text)))
    if any(p.box.area > SCAN_SHARE * page.width * page.height for p in page.pictures) and numerals < 4:
        return _scattered(page)  # a scan with a stamp on it: only its ink can tell
    if _has_figure(page) and count < FEW_WORDS:
        weight = 0.6 if numerals >= 4 else 0.55
        return Sign(weight, f"page {page.number} shows a figure and hardly any text", starts=False)
    return None


def _scattered(page: Page) -> Sign | None:
    """A page without any characters: lines of text lie in wide thin strips, a drawing is irregular.

    A drawing has at least one large cluster, and small ones (reference characters) at many distances
    from the left edge. Paragraphs begin at the same left edge.
    """
    strips = [m for m in page.marks if m.width > 6 and m.height < 1]
    large = [m for m in page.marks if m.height > 3 and m.width > 3]
    small = [m for m in page.marks if m.width < 2 and m.height < 1.2]
    columns = {round(m.left) for m in small}
    if large and len(strips) <= 2 and len(small) >= 4 and len(columns) >= 4:
        return Sign(0.4, f"page {page.number} is a picture that looks like a drawing", starts=False)
    return None
