"""Words that the firm wants in no title."""

from __future__ import annotations

import msgspec

from house_rules.wording import phrases_in
from preflight.checks import Outcomes, Place, Seen, Unread, check
from preflight.papers import Paper, title_of


class Words(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Words and phrases that no title holds, and phrases in which they are harmless."""

    forbidden: tuple[str, ...]
    unless: tuple[str, ...] = ()


@check("house-title-words", of=Paper, takes=Words, says=("offending",))
def title_words(paper: Paper, asked: Words) -> Outcomes:
    """Look for forbidden words in the title that the paper gives; a paper without a title says nothing."""
    start = Place(page=paper.first_page)
    if paper.text_unread and not paper.fields:
        yield Unread(why=paper.text_unread, at=start)
        return
    said = title_of(paper)
    if said is None:
        return
    found = phrases_in(said.value, asked.forbidden, asked.unless)
    yield Seen(
        what="title",
        held=not found,
        measured=f'"{said.value}"',
        at=Place(page=said.page or paper.first_page, box=said.box),
        words={"offending": ", ".join(found)},
    )
