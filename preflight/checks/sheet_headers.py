"""Headers that no sheet of a first filing has."""

from __future__ import annotations

from preflight.checks.api import NoLimits, Outcomes, Place, Seen, check
from preflight.checks.unreadable import each_sheet
from preflight.facts import Page
from preflight.papers import Paper, later_label, published_header


@check("later-labels", of=Paper, takes=NoLimits, sorts=("label of a later sheet",))
def later_labels(paper: Paper, _: NoLimits) -> Outcomes:
    """Look for the labels of amended sheets."""
    yield from each_sheet(paper, _labelled)


def _labelled(page: Page) -> Outcomes:
    label = later_label(page)
    yield Seen(
        what="label",
        held=label is None,
        measured=label.text.strip() if label else "",
        sort="label of a later sheet" if label else "",
        at=Place(page=page.number, box=label.box if label else None),
    )


@check("published-copy", of=Paper, takes=NoLimits)
def published_copy(paper: Paper, _: NoLimits) -> Outcomes:
    """Look for the header of a published document."""
    yield from each_sheet(paper, _published)


def _published(page: Page) -> Outcomes:
    header = published_header(page)
    words, box = header or ("", None)
    yield Seen(what="header", held=header is None, measured=words, at=Place(page=page.number, box=box))
