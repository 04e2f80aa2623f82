"""What is in the folder, what is missing, and what does not belong there."""

from __future__ import annotations

import msgspec

from preflight.checks.api import NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.files import is_pdf
from preflight.checks.places import of_paper
from preflight.facts.kinds import kind_of
from preflight.papers import (
    BUILT_IN_ROLES,
    OTHER,
    UNKNOWN,
    Filing,
    contradictions,
    pictured,
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
    elif unsure := might_be(filing):
        yield from unsure
    else:
        yield Seen(what=words, held=False, measured="not in the folder", words={"role": words})


@check("cover-present", of=Filing, takes=Roles)
def cover_present(filing: Filing, wanted: Roles) -> Outcomes:
    """See whether a cover sheet, or a paper that serves as one, is in the folder."""
    there = [p for p in serves_as_cover_sheet(filing) if p.role in wanted.roles]
    if there:
        yield Seen(what="cover sheet", held=True, measured="there", at=of_paper(there[0]))
    elif unsure := might_be(filing):
        yield from unsure
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
            seen = pictured(paper)
            word = says_provisional(seen.paper) if seen else None
            if seen and word and seen.sure(word.page, word.box):
                yield Seen(what="cover sheet", held=True, measured="says provisional", at=of_paper(paper))
                return
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


@check("role-absent", of=Filing, takes=Roles, sorts=tuple(role.id for role in BUILT_IN_ROLES), says=("role",))
def role_absent(filing: Filing, unwanted: Roles) -> Outcomes:
    """Name the papers of these roles; the sort of the outcome is the role."""
    titles = {role.id: role.title for role in filing.roles}
    for paper in filing.papers:
        if paper.role == UNKNOWN:
            yield Unread(why=paper.text_unread or "what this paper is could not be told", at=of_paper(paper))
            continue
        there = paper.role in unwanted.roles
        yield Seen(
            what="paper",
            held=not there,
            measured=titles.get(paper.role, paper.role),
            at=of_paper(paper),
            sort=paper.role if there else "",
            words={"role": titles.get(paper.role, paper.role)},
        )


@check("unknown-paper", of=Filing, takes=NoLimits)
def unknown_paper(filing: Filing, _: NoLimits) -> Outcomes:
    """Name the papers that can be read and are none of the known kinds."""
    for paper in filing.papers:
        yield Seen(
            what="paper",
            held=paper.role != OTHER,
            measured=paper.how_known,
            at=of_paper(paper),
        )


@check("other-files", of=Filing, takes=NoLimits)
def other_files(filing: Filing, _: NoLimits) -> Outcomes:
    """Name the files that are no PDF, by bytes and by name."""
    for file in filing.files:
        yield Seen(
            what="file",
            held=is_pdf(file) or file.name.lower().endswith(".pdf"),
            measured=kind_of(file.media_type),
            at=Place(file=file.name),
        )


@check("left-out", of=Filing, takes=NoLimits, says=("reason",))
def left_out(filing: Filing, _: NoLimits) -> Outcomes:
    """Name the sub-folders and links that were not looked at. System and lock files are not meant."""
    for entry in filing.entries:
        if not entry.harmless:
            yield Seen(
                what=f'"{entry.name}"',
                held=entry.left_out is None,
                measured="not looked at",
                at=Place(file=entry.name),
                words={"reason": entry.left_out or ""},
            )


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


def might_be(filing: Filing) -> list[Unread]:
    """What could be any paper, as it cannot be read or not even opened: where one seems missing, it may be that."""
    unknown = [
        Unread(why=paper.text_unread or "what this paper is could not be told", at=of_paper(paper))
        for paper in filing.with_role(UNKNOWN)
    ]
    closed = [
        Unread(why=file.unread or "it needs a password to open", at=Place(file=file.name))
        for file in filing.files
        if not file.pages and (is_pdf(file) or file.name.lower().endswith(".pdf"))
    ]
    return [*unknown, *closed]
