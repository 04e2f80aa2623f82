"""Whether the words of a paper can be read by a machine."""

from __future__ import annotations

from preflight.checks.api import NoLimits, Outcomes, Place, Seen, check
from preflight.papers import Paper


@check("scan", of=Paper, takes=NoLimits)
def scan(paper: Paper, _: NoLimits) -> Outcomes:
    """See whether a text paper is a picture of text."""
    why = paper.text_unread
    yield Seen(
        what=paper.role.replace("-", " "),
        held=why is None,
        measured="a scan" if why else "text",
        required="text that can be searched",
        at=Place(page=paper.first_page),
    )
