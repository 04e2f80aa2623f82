"""Which pages of which file make up which paper, and how that is known."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from pathlib import PurePosixPath

import msgspec

from preflight.facts import FileFacts, Page
from preflight.facts.declared import DECLARATION
from preflight.papers.model import OTHER, UNKNOWN, Declared, Kind, Paper, Role, Sign, side_by_side

STRONG = 0.5
"""A sign of at least this weight decides the role of a page by itself. House value."""
SURE = 0.8
"""A sign of at least this weight contradicts a declared role. House value."""
LONG_NAME = 4
"""A name of at least so many letters may also begin a longer word of a file name. House value."""

DECLARED = f"declared in {DECLARATION}"
FILE_NAME = "file name"
NO_SIGN = "nothing on it could be read, and its file name says nothing"
NO_ROLE = "none of the known papers looks like it"

_PIECES = re.compile(r"[a-z]+\d+[a-z]?(?![a-z])|\d+[a-z]?(?![a-z])|[a-z]+|\d+")


class Contradiction(msgspec.Struct, frozen=True):
    """A file declared as one paper which plainly shows another."""

    file: str
    declared: str
    seen: str
    how: str
    page: int


class _Run(msgspec.Struct):
    role: str
    how: str
    pages: list[Page]
    strong: bool = False


def find_papers(files: Sequence[FileFacts], roles: Sequence[Role], declared: Declared) -> tuple[Paper, ...]:
    """Every page of every readable file, each in exactly one paper, in the order of files and pages.

    What is declared holds for the whole file. Else the page's own signs decide (form numbers, headings);
    a page without any continues the paper before it; the file name speaks where no page does.
    """
    by_id = {role.id: role for role in roles}
    papers: list[Paper] = []
    for file in files:
        if file.unread is None and file.pages:
            runs = _declared_run(file, declared) or _runs(file, roles)
            papers += [_paper(file, run, by_id) for run in runs]
    return side_by_side(papers)


def contradictions(files: Sequence[FileFacts], roles: Sequence[Role], declared: Declared) -> tuple[Contradiction, ...]:
    """Declared files none of whose pages shows the declared role while one is sure to be something else."""
    found: list[Contradiction] = []
    for file in files:
        role = declared.papers.get(file.name)
        if role is None or file.unread is not None:
            continue
        signs = [(page, *_best(file, page, roles)) for page in file.pages]
        if any(seen == role for _, seen, sign in signs if sign and sign.weight >= STRONG):
            continue
        for page, seen, sign in signs:
            if sign and sign.weight >= SURE:
                found.append(Contradiction(file.name, role, seen, sign.how, page.number))
                break
    return tuple(found)


def _declared_run(file: FileFacts, declared: Declared) -> list[_Run]:
    role = declared.papers.get(file.name)
    return [_Run(role, DECLARED, list(file.pages), strong=True)] if role else []


def _runs(file: FileFacts, roles: Sequence[Role]) -> list[_Run]:
    kinds = {role.id: role.kind for role in roles}
    named = name_clue(file.name, roles)
    runs: list[_Run] = []
    for page in file.pages:
        role, sign = _best(file, page, roles)
        now = runs[-1] if runs else None
        if sign is None or not _takes_over(role, sign, now, named, kinds):
            _continue(runs, page, named)
        elif now is not None and now.role == role and not (sign.starts and kinds[role] == "form" and now.strong):
            now.pages.append(page)
            if not now.strong and sign.weight >= STRONG:
                now.how, now.strong = sign.how, True
        else:
            runs.append(_Run(role, sign.how, [page], strong=sign.weight >= STRONG))
    return _led_in(runs)


def _takes_over(role: str, sign: Sign, now: _Run | None, named: str | None, kinds: Mapping[str, Kind]) -> bool:
    """Whether a sign is enough to give the page its role.

    A weak one only where the paper before cannot hold such a page (running text after a form or a
    drawing), and never against the file name.
    """
    if sign.weight >= STRONG or (now is not None and now.role == role):
        return True
    if named is not None:
        return role == named
    return now is None or now.role in (UNKNOWN, OTHER, "abstract") or kinds.get(now.role) in ("form", "drawing")


def _continue(runs: list[_Run], page: Page, named: str | None) -> None:
    if runs:
        runs[-1].pages.append(page)
    elif named:
        runs.append(_Run(named, FILE_NAME, [page]))
    elif any(line.text.strip() and line.visible for line in page.lines) and not page.text_unread:
        runs.append(_Run(OTHER, NO_ROLE, [page]))
    else:
        runs.append(_Run(UNKNOWN, NO_SIGN, [page]))


def _led_in(runs: list[_Run]) -> list[_Run]:
    """A leading page with words but no sign (a title page) belongs to the text paper that follows it."""
    if len(runs) > 1 and runs[0].role == OTHER and runs[1].role == "specification":
        runs[1].pages[:0] = runs[0].pages
        del runs[0]
    return runs


def _best(file: FileFacts, page: Page, roles: Sequence[Role]) -> tuple[str, Sign | None]:
    """The role with the weightiest sign on a page; of equals the first."""
    best_role, best = UNKNOWN, None
    for role in roles:
        sign = role.recognise(file, page)
        if sign is not None and (best is None or sign.weight > best.weight):
            best_role, best = role.id, sign
    return best_role, best


def _paper(file: FileFacts, run: _Run, by_id: Mapping[str, Role]) -> Paper:
    kind: Kind = by_id[run.role].kind if run.role in by_id else "other"
    numbers = {page.number for page in run.pages}
    every = file.structure.fields if file.structure else ()
    fields = tuple(field for field in every if field.page in numbers)
    return Paper(run.role, kind, file.name, file.sha256, tuple(run.pages), run.how, fields)


def name_clue(name: str, roles: Sequence[Role]) -> str | None:
    """The role that the words of a file name point to, or None.

    A phrase of more words beats a shorter one ("cover letter" is no cover sheet), the specification
    beats others (a combined file mostly is one), the last word beats earlier ones.
    """
    stem = PurePosixPath(name).stem
    split_case = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", stem).lower()
    pieces = _PIECES.findall(split_case)
    matches = [
        (len(phrase), role.id == "specification", at, role.id)
        for role in roles
        for phrase in (tuple(words.split()) for words in role.names)
        for at in range(len(pieces) - len(phrase) + 1)
        if all(_same(piece, word) for piece, word in zip(pieces[at:], phrase, strict=False))
    ]
    return max(matches)[-1] if matches else None


def _same(piece: str, word: str) -> bool:
    return piece == word or (len(word) >= LONG_NAME and word.isalpha() and piece.startswith(word))
