"""Text that goes to the office although nobody sees it on the page."""

from __future__ import annotations

from preflight.checks.api import NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.facts import Line, Page
from preflight.papers import Paper

MOST_WORDS = 60
"""Characters of it that a message shows."""


@check("hidden-text", of=Paper, takes=NoLimits, sorts=("not painted", "no contrast", "outside"), says=("words",))
def hidden_text(paper: Paper, _: NoLimits) -> Outcomes:
    """Look for text that is not painted, covered, in the colour of its ground, or outside the page.

    The text layer under the picture of a scan is proper.
    """
    for page in paper.pages:
        if page.unread:
            yield Unread(why=page.unread, at=Place(page=page.number))
            continue
        hidden = [line for line in page.lines if line.hidden and not _is_layer_of_scan(page, line)]
        for line in hidden:
            yield _said(line.text, line.hidden, Place(page=page.number, box=line.box))
        if page.off_page:
            yield _said(page.off_page, "outside", Place(page=page.number))
        if page.lines and not hidden and not page.off_page:
            yield Seen(what="text", held=True, measured="visible", at=Place(page=page.number))


def _said(text: str, sort: str, at: Place) -> Seen:
    plain = " ".join(text.split())
    words = plain if len(plain) <= MOST_WORDS else f"{plain[: MOST_WORDS - 3].rstrip()}..."
    return Seen(what="text", held=False, measured=sort, at=at, sort=sort, words={"words": words})


def _is_layer_of_scan(page: Page, line: Line) -> bool:
    return line.hidden == "not painted" and any(picture.box.touches(line.box) for picture in page.pictures)
