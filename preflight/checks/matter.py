"""Whether all papers belong to one matter: title, docket number, versions, doubled files."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Sequence
from itertools import groupby

import msgspec

from preflight.checks.api import Measured, NoLimits, Outcomes, Place, Seen, Unread, check
from preflight.checks.places import of_paper, of_said
from preflight.papers import (
    ONE_OF_EACH,
    Filing,
    Said,
    Twins,
    blanks,
    difference,
    dockets_said,
    fold_docket,
    foreign_headers,
    near_twins,
    serves_as_cover_sheet,
    shared_words,
    titles_said,
)

SUFFIXED = 6
"""A docket number needs so many letters and digits to be known again before a suffix. House value."""


class Length(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The greatest number of characters."""

    most: int


@check("title-length", of=Filing, takes=Length, sorts=("blank",))
def title_length(filing: Filing, limit: Length) -> Outcomes:
    """Count the characters of the title, white space run together; see whether a form's place for it is filled in."""
    for paper in serves_as_cover_sheet(filing):
        for value in blanks(paper, "title") if not paper.unread else ():
            if not value.text:
                at = Place(file=paper.file, page=value.page, box=value.box, role=paper.role)
                yield Seen(what="title", held=False, measured="left empty", sort="blank", at=at)
    for said in titles_said(filing):
        length = len(" ".join(said.value.split()))
        yield Measured(what="title", value=length, unit="characters", most=limit.most, at=of_said(said))


@check("titles-agree", of=Filing, takes=NoLimits, sorts=("small",), acquits_scans=True)
def titles_agree(filing: Filing, _: NoLimits) -> Outcomes:
    """Compare the title on every paper with that of the specification; another title altogether is not its business."""
    every = titles_said(filing)
    if len(every) < 2:
        return
    first = every[0]
    for said in every[1:]:
        kind = difference(first.value, said.value)
        if kind != "other":
            yield _compared("title", first, said, held=kind == "same", sort="small")


@check("one-matter", of=Filing, takes=NoLimits, sorts=("title", "docket", "both", "header"), says=("other",))
def one_matter(filing: Filing, _: NoLimits) -> Outcomes:
    """Look for a title or a docket number of another matter. All that one file says of another is one fault."""
    title, other_titles = _apart(titles_said(filing), lambda a, b: difference(a, b) != "other")
    docket, other_dockets = _other_dockets(dockets_said(filing))
    strange = [*other_titles, *other_dockets]
    for file in dict.fromkeys(said.file for said in strange):
        yield _strange(
            [s for s in other_titles if s.file == file],
            [s for s in other_dockets if s.file == file],
            title,
            docket,
        )
    for said in foreign_headers(filing):
        yield Seen(what="header", held=False, measured=f'"{said.value}"', sort="header", at=of_said(said))
    for said in (*titles_said(filing), *dockets_said(filing)):
        if said not in strange:
            yield Seen(what="matter", held=True, measured=said.value, at=of_said(said))


class SharedWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The least share of the telling words of claims and abstract that the description uses, in per cent."""

    least: float


@check("same-device", of=Filing, takes=SharedWords, says=("role",), acquits_scans=True)
def same_device(filing: Filing, limit: SharedWords) -> Outcomes:
    """Measure how many of the telling words of claims and abstract the description uses as well."""
    described = [paper for paper in filing.with_role("specification") if not paper.text_unread]
    for paper in filing.with_role("claims", "abstract") if described else ():
        if why := paper.text_unread:
            yield Unread(why=why, at=of_paper(paper))
            continue
        shares = [share for one in described if (share := shared_words(paper, one)) is not None]
        if shares:
            yield Measured(
                what="shared words",
                value=max(shares) * 100,
                unit="%",
                least=limit.least,
                at=of_paper(paper),
                words={"role": paper.role},
            )


@check("docket-length", of=Filing, takes=Length)
def docket_length(filing: Filing, limit: Length) -> Outcomes:
    """Count the characters of each docket number."""
    for said in dockets_said(filing):
        yield Measured(
            what="docket number", value=len(said.value), unit="characters", most=limit.most, at=of_said(said)
        )


@check("two-versions", of=Filing, takes=NoLimits, says=("other", "share"))
def two_versions(filing: Filing, _: NoLimits) -> Outcomes:
    """Look for papers of one role that share most of their words but are not the same. Two files are one fault."""
    pairs: dict[tuple[str, str], list[Twins]] = {}
    for twins in near_twins(filing.papers):
        pairs.setdefault((twins.first.file, twins.second.file), []).append(twins)
    several = Counter(paper.role for paper in filing.papers if paper.role in ONE_OF_EACH)
    for paper in filing.papers:
        if several[paper.role] > 1 and not any(paper.file in pair for pair in pairs):
            yield Seen(what=paper.role.replace("-", " "), held=True, at=of_paper(paper))
    for (first, second), alike in pairs.items():
        yield Seen(
            what=", ".join(twins.first.role.replace("-", " ") for twins in alike),
            held=False,
            measured=f"{first} and {second}",
            at=Place(file=second),
            also=(Place(file=first),),
            words={"other": first, "share": _share(min(twins.alike for twins in alike))},
        )


def _share(alike: float) -> str:
    """For a message; two versions are never quite the same."""
    return "more than 99%" if alike > 0.99 else f"{alike:.0%}"


@check("identical-files", of=Filing, takes=NoLimits)
def identical_files(filing: Filing, _: NoLimits) -> Outcomes:
    """Look for files with the same bytes."""
    by_digest = sorted((f for f in filing.files if f.sha256 and f.size), key=lambda f: (f.sha256, f.name))
    for _digest, group in groupby(by_digest, key=lambda f: f.sha256):
        same = list(group)
        yield Seen(
            what="file",
            held=len(same) == 1,
            measured=" and ".join(f.name for f in same),
            at=Place(file=same[0].name),
            also=tuple(Place(file=f.name) for f in same[1:]),
        )


def _apart(every: Sequence[Said], same: Callable[[str, str], bool]) -> tuple[Said | None, list[Said]]:
    """The first that is said, and those that do not say the same."""
    first = every[0] if every else None
    return first, [said for said in every[1:] if first and not same(first.value, said.value)]


def _other_dockets(every: Sequence[Said]) -> tuple[Said | None, list[Said]]:
    """The number of this matter, and those of another. Numbers side by side on one page belong together.

    So the client's own number of this matter is no other matter, wherever it stands. It is the one that is declared, or
    that most files say or have in their names; of equals the first.
    """
    if not every:
        return None, []
    files = {said.file for said in every}
    first = every[0] if every[0].role == "declared" else max(every, key=lambda said: _files_with(said, every, files))
    ours = {fold_docket(first.value)}
    pages: dict[tuple[str, int], set[str]] = {}
    for said in every:
        pages.setdefault((said.file, said.page), set()).add(fold_docket(said.value))
    for numbers in pages.values():
        if numbers & ours:
            ours |= numbers
    return first, [said for said in every if not any(_same_docket(fold_docket(said.value), one) for one in ours)]


def _files_with(one: Said, every: Sequence[Said], files: Collection[str]) -> int:
    number = fold_docket(one.value)
    said = {other.file for other in every if _same_docket(fold_docket(other.value), number)}
    return len(said) + sum(number in fold_docket(name) for name in files)


def _same_docket(one: str, other: str) -> bool:
    """Equal, or one with a suffix that begins with a letter (DEMO0417 and DEMO0417PROV)."""
    short, long = sorted((one, other), key=len)
    return one == other or (len(short) >= SUFFIXED and long.startswith(short) and long[len(short)].isalpha())


def _strange(named: list[Said], numbered: list[Said], title: Said | None, docket: Said | None) -> Seen:
    """What one file says of another matter, against what the first paper says."""
    found: list[str] = []
    wanted: list[str] = []
    if named and title:
        found += [f'title "{value}"' for value in dict.fromkeys(s.value for s in named)]
        wanted.append(f'title "{title.value}"')
    if numbered and docket:
        found += [f"docket {value}" for value in dict.fromkeys(s.value for s in numbered)]
        wanted.append(f"docket {docket.value}")
    pages = {said.page: said for said in (*numbered, *named)}
    places = [of_said(pages[page]) for page in sorted(pages)]
    return Seen(
        what="matter",
        held=False,
        measured=" and ".join(found),
        required=" and ".join(wanted),
        sort="both" if named and numbered else "title" if named else "docket",
        at=places[0],
        also=tuple(places[1:]),
        words={"other": next(said.file for said in ((title if named else docket), title, docket) if said)},
    )


def _compared(what: str, first: Said, said: Said, *, held: bool, sort: str, also: Sequence[Said] = ()) -> Seen:
    return Seen(
        what=what,
        held=held,
        measured=f'"{said.value}"',
        required=f'"{first.value}"',
        sort=sort,
        at=of_said(said),
        also=tuple(map(of_said, also)),
        words={"other": first.file},
    )
