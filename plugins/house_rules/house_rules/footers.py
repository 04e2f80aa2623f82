"""What the firm wants to read in every footer."""

from __future__ import annotations

import re

import msgspec

from house_rules.wording import is_blank, must_be_patterns
from preflight.checks import Outcomes, Place, Seen, Unread, check
from preflight.papers import Paper, running_text


class Footer(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A pattern that the footer holds, what to call it, and whether the first page of a file must show it."""

    pattern: str
    called: str
    first_page: bool = True

    def __post_init__(self) -> None:
        must_be_patterns(self.pattern)


@check("house-footer", of=Paper, takes=Footer)
def footer(paper: Paper, asked: Footer) -> Outcomes:
    """Look for the wanted words in the footer of each page; case, kinds of dash and quote, line ends do not count."""
    every = running_text(paper)
    held = {along.page for along in every if re.search(asked.pattern, along.footer, re.IGNORECASE)}
    if paper.text_unread and not held:
        yield Unread(why=paper.text_unread, at=Place(page=paper.first_page))
        return
    for page, along in zip(paper.pages, every, strict=True):
        place = Place(page=page.number, box=along.footer_box)
        if page.number in held:
            yield Seen(what="footer", held=True, measured=along.footer, at=place)
        elif along.unread:
            yield Unread(why=along.unread, at=place)
        elif not is_blank(page) and (asked.first_page or page.number != 1):
            said = along.footer or "nothing"
            yield Seen(what="footer", held=False, measured=said, required=asked.called, at=place)
