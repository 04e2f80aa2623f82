"""The firm's docket number: in file names, and on every page."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal

import msgspec

from house_rules.wording import is_blank, must_be_patterns, numbers_in
from preflight.checks import Outcomes, Place, Seen, Unread, check
from preflight.facts import Page
from preflight.papers import Filing, Paper, RunningText, dockets, running_text


class Names(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Patterns: the docket number, the names that must carry it, and those among them that need not."""

    docket: str
    files: str
    unless: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        must_be_patterns(self.docket, self.files, *self.unless)


class Pages(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The pattern of the docket number, where it stands, and whether the first page of a file must show it."""

    docket: str
    stands_in: Literal["header", "footer", "either"] = "header"
    first_page: bool = True

    def __post_init__(self) -> None:
        must_be_patterns(self.docket)


@check("house-docket-in-name", of=Filing, takes=Names, sorts=("other",), says=("name",))
def docket_in_name(filing: Filing, asked: Names) -> Outcomes:
    """Look for a docket number in each file name, and whether it is that of the papers."""
    ours = _matter(filing, asked.docket)
    for file in filing.files:
        name = file.name.rsplit("/", 1)[-1]
        if not re.search(asked.files, name, re.IGNORECASE):
            continue
        if any(re.search(pattern, name, re.IGNORECASE) for pattern in asked.unless):
            continue
        found = numbers_in(name, asked.docket)
        yield Seen(
            what="file name",
            held=bool(found) and (ours is None or _same(ours, found)),
            measured=", ".join(found) or "none",
            required=ours or "a docket number",
            sort="other" if found else "",
            at=Place(file=file.name),
            words={"name": name},
        )


@check("house-docket-on-pages", of=Paper, takes=Pages)
def docket_on_pages(paper: Paper, asked: Pages) -> Outcomes:
    """Look for a docket number in the header or footer of each page; on a form anywhere, for it has a field of its own.

    A page that cannot be read is unread unless a number is seen on it, in a stamp for instance.
    """
    if paper.kind == "form":
        yield _on_form(paper, asked)
        return
    every = [(page, along, numbers_in(_edges(along, asked), asked.docket)) for page, along in _pages(paper)]
    if paper.text_unread and not any(found for _, _, found in every):
        yield Unread(why=paper.text_unread, at=Place(page=paper.first_page))
        return
    for page, along, found in every:
        place = Place(page=page.number, box=along.footer_box if asked.stands_in == "footer" else along.header_box)
        if found:
            yield Seen(what=_where(asked), held=True, measured=", ".join(found), at=place)
        elif along.unread:
            yield Unread(why=along.unread, at=place)
        elif not is_blank(page) and (asked.first_page or page.number != 1):
            yield Seen(what=_where(asked), held=False, measured="none", required="a docket number", at=place)


def _pages(paper: Paper) -> Iterator[tuple[Page, RunningText]]:
    return zip(paper.pages, running_text(paper), strict=True)


def _edges(along: RunningText, asked: Pages) -> str:
    said = {"header": [along.header], "footer": [along.footer], "either": [along.header, along.footer]}
    return " | ".join(said[asked.stands_in])


def _on_form(paper: Paper, asked: Pages) -> Seen | Unread:
    said = dockets(paper)
    found = numbers_in(" | ".join(one.value for one in said), asked.docket)
    place = Place(page=said[0].page if said else paper.first_page, box=said[0].box if said else None)
    if not found and not paper.fields and paper.text_unread:
        return Unread(why=paper.text_unread, at=place)
    return Seen(
        what="form", held=bool(found), measured=", ".join(found) or "none", required="a docket number", at=place
    )


def _where(asked: Pages) -> str:
    return "header or footer" if asked.stands_in == "either" else asked.stands_in


def _matter(filing: Filing, docket: str) -> str | None:
    """The number of this matter: as declared, else as the specification says it, else any paper."""
    papers = sorted(filing.papers, key=lambda paper: paper.role != "specification")
    said = (filing.declared.docket or "", *(one.value for paper in papers for one in dockets(paper)))
    return next((number for text in said for number in numbers_in(text, docket)), None)


def _same(ours: str, found: tuple[str, ...]) -> bool:
    """Hyphens count for nothing: DEMO0417 is DEMO-0417."""
    return ours.replace("-", "") in {number.replace("-", "") for number in found}
