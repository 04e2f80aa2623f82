"""Text that goes to the office although nobody sees it on the page."""

from __future__ import annotations

import re

from preflight.checks.api import NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.facts import Line, Page
from preflight.papers import Paper

MOST_WORDS = 60
"""Characters of it that a message shows."""
LONG, SEVERAL = 5, 8
"""So many long words (letters) of a text layer tell what it is about; fewer are misread lines. House values."""
SHARED = 0.2
"""A layer made from the picture shares more of them with what is read there. House value."""


@check(
    "hidden-text",
    of=Paper,
    takes=NoLimits,
    sorts=("not painted", "no contrast", "outside", "other words"),
    says=("words",),
)
def hidden_text(paper: Paper, _: NoLimits) -> Outcomes:
    """Look for text that is not painted, covered, in the colour of its ground, or outside the page.

    The text layer under the picture of a scan is proper, unless that was read and says other words.
    """
    for page in paper.pages:
        if page.unread:
            yield Unread(why=page.unread, at=Place(page=page.number))
            continue
        hidden = [line for line in page.lines if line.hidden and not _is_layer_of_scan(page, line)]
        for line in hidden:
            yield _said(line.text, line.hidden, Place(page=page.number, box=line.box))
        if strange := _other_words(page):
            yield _said(", ".join(strange), "other words", Place(page=page.number))
        if page.off_page:
            yield _said(page.off_page, "outside", Place(page=page.number))
        if page.lines and not hidden and not strange and not page.off_page:
            yield Seen(what="text", held=True, measured="visible", at=Place(page=page.number))


def _said(text: str, sort: str, at: Place) -> Seen:
    plain = " ".join(text.split())
    words = plain if len(plain) <= MOST_WORDS else f"{plain[: MOST_WORDS - 3].rstrip()}..."
    return Seen(what="text", held=False, measured=sort, at=at, sort=sort, words={"words": words})


def _is_layer_of_scan(page: Page, line: Line) -> bool:
    return line.hidden == "not painted" and any(picture.box.touches(line.box) for picture in page.pictures)


def _other_words(page: Page) -> list[str]:
    """The long words of a scan's text layer if hardly any of them stands in its picture."""
    if not page.readings:
        return []
    layer = list(
        dict.fromkeys(word for line in page.lines if line.hidden == "not painted" for word in _long(line.text))
    )
    seen = {word for reading in page.readings for word in _long(reading.text)}
    shared = sum(word in seen for word in layer)
    return layer if len(layer) >= SEVERAL and shared < SHARED * len(layer) else []


def _long(text: str) -> list[str]:
    return re.findall(rf"[^\W\d_]{{{LONG},}}", text.casefold())
