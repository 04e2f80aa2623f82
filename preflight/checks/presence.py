"""What is in the folder, what is missing, and what does not belong there."""

from __future__ import annotations

import msgspec

from preflight.checks.api import NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.files import is_pdf
from preflight.facts import FileFacts
from preflight.papers import (
    UNKNOWN,
    Filing,
    Paper,
    contradictions,
    says_provisional,
    serves_as_cover_sheet,
)


class Roles(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """At least one paper of one of these roles."""

    roles: tuple[str, ...]


@check("role-present", of=Filing, takes=Roles, says=("role",))
def role_present(filing: Filing, wanted: Roles) -> Outcomes:
    """See whether a paper of one of the roles is in the folder."""
    words = " or ".join(role.replace("-", " ") for role in wanted.roles)
    there = [p for p in filing.with_role(*wanted.roles) if any(page.ink or page.unread for page in p.pages)]
    if there:
        yield Seen(what=words, held=True, measured="there", at=of_paper(there[0]), words={"role": words})
    elif unsure := unknown_papers(filing):
        yield from map(_unsure, unsure)
    else:
        yield Seen(what=words, held=False, measured="not in the folder", words={"role": words})


@check("cover-present", of=Filing, takes=Roles)
def cover_present(filing: Filing, wanted: Roles) -> Outcomes:
    """See whether a cover sheet, or a paper that serves as one, is in the folder."""
    there = [p for p in serves_as_cover_sheet(filing) if p.role in wanted.roles]
    if there:
        yield Seen(what="cover sheet", held=True, measured="there", at=of_paper(there[0]))
    elif unsure := unknown_papers(filing):
        yield from map(_unsure, unsure)
    else:
        yield Seen(what="cover sheet", held=False, measured="not in the folder")


@check("cover-kind", of=Filing, takes=NoLimits)
def cover_kind(filing: Filing, _: NoLimits) -> Outcomes:
    """See whether at least one paper that serves as cover sheet says that it is a provisional."""
    covers = serves_as_cover_sheet(filing)
    said = [p for p in covers if says_provisional(p)]
    if said:
        yield Seen(what="cover sheet", held=True, measured="says provisional", at=of_paper(said[0]))
        return
    for paper in covers:
        if why := paper.text_unread:
            yield Unread(why=why, at=of_paper(paper))
            return
    if covers:
        yield Seen(
            what="cover sheet",
            held=False,
            measured='does not say "provisional"',
            at=of_paper(covers[0]),
            also=tuple(map(of_paper, covers[1:])),
        )


@check("other-files", of=Filing, takes=NoLimits)
def other_files(filing: Filing, _: NoLimits) -> Outcomes:
    """Name the files that are no PDF."""
    strange = [f for f in filing.files if not is_pdf(f) and not f.name.lower().endswith(".pdf")]
    yield from _named("files that are no PDF", strange)


@check("left-out", of=Filing, takes=NoLimits, says=("reason",))
def left_out(filing: Filing, _: NoLimits) -> Outcomes:
    """Name the sub-folders and links that were not looked at. System and lock files are not meant."""
    for entry in filing.entries:
        if entry.left_out and not entry.harmless:
            yield Seen(
                what=f'"{entry.name}"',
                held=False,
                measured="not looked at",
                at=Place(file=entry.name),
                words={"reason": entry.left_out},
            )


def _named(what: str, files: list[FileFacts]) -> Outcomes:
    for file in files:
        yield Seen(what=what, held=False, measured=file.media_type or "unknown", at=Place(file=file.name))


@check("declared-role", of=Filing, takes=NoLimits, says=("declared", "seen", "how"))
def declared_role(filing: Filing, _: NoLimits) -> Outcomes:
    """Compare which paper a file is declared to be with what its pages say."""
    against = {c.file: c for c in contradictions(filing.files, filing.roles, filing.declared)}
    for name, role in filing.declared.papers.items():
        found = against.get(name)
        yield Seen(
            what="paper",
            held=found is None,
            measured=found.seen if found else role,
            required=role,
            at=Place(file=name),
            words={"declared": role, "seen": found.seen if found else role, "how": found.how if found else ""},
        )


def of_paper(paper: Paper) -> Place:
    """Where the paper begins."""
    return Place(file=paper.file, page=paper.first_page, role=paper.role)


def unknown_papers(filing: Filing) -> tuple[Paper, ...]:
    """Papers that might be anything, because they cannot be read."""
    return filing.with_role(UNKNOWN)


def _unsure(paper: Paper) -> Unread:
    return Unread(why=paper.text_unread or "what this paper is could not be told", at=of_paper(paper))
