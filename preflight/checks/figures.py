"""Figures: whether text and drawings have the same, and how the views are numbered and labelled."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

import msgspec

from preflight.checks.api import Measured, NoLimits, Outcome, Outcomes, Place, Seen, check
from preflight.checks.unreadable import each_sheet, unread_papers, unread_sheets
from preflight.facts import Page
from preflight.papers import (
    FigureLabel,
    Filing,
    Paper,
    figure_labels,
    labels_on,
    named_figures,
    sheet_unread,
    usual_height,
    views_on,
)

TEXTS = ("specification", "claims", "abstract")


def _drawn(filing: Filing) -> list[tuple[Paper, FigureLabel]]:
    return [(paper, label) for paper in filing.with_role("drawings") for label in figure_labels(paper)]


def _at(paper: Paper, label: FigureLabel) -> Place:
    return Place(file=paper.file, page=label.page, box=label.box, role=paper.role)


def _no_labels(page: Page) -> str | None:
    """Why labels of a sheet may have been missed: it was not read, or it is a picture on which none was."""
    blind = page.readings is not None and not labels_on(page)
    return sheet_unread(page) or ("no figure label could be read on it" if blind else None)


@check("figures-drawn", of=Filing, takes=NoLimits, says=("figure",), acquits_scans=True)
def figures_drawn(filing: Filing, _: NoLimits) -> Outcomes:
    """Look for each figure that the text names among the labels of the sheets."""
    named = named_figures(filing.with_role(*TEXTS))
    drawn = {label.name for _, label in _drawn(filing)}
    if not named or not filing.with_role("drawings"):
        return
    unread = unread_sheets(filing, _no_labels)
    families = {re.sub(r"[A-Z]$", "", name) for name in drawn}
    for name in dict.fromkeys(one.name for one in named):
        places = [Place(file=n.file, page=n.page, box=n.box, role=n.role) for n in named if n.name == name]
        held = name in drawn or name in families or (name == "1" and _single_view(filing))
        if held or not unread:
            yield Seen(
                what=f"FIG. {name}",
                held=held,
                measured="not drawn",
                at=places[0],
                also=tuple(places[1:3]),
                words={"figure": f"FIG. {name}"},
            )
        else:
            yield from unread
            return


def _single_view(filing: Filing) -> bool:
    """Whether all there is may be one view, which bears no number."""
    return sum(len(paper.pages) for paper in filing.with_role("drawings")) == 1 and not _drawn(filing)


@check("figures-described", of=Filing, takes=NoLimits, says=("figure",), acquits_scans=True)
def figures_described(filing: Filing, _: NoLimits) -> Outcomes:
    """Look for each label of the sheets among the figures that the text names."""
    texts = filing.with_role("specification")
    if not texts:
        return
    if unread := list(unread_papers(texts)):
        yield from unread
        return
    named = {one.name for one in named_figures(filing.with_role(*TEXTS))}
    seen: set[str] = set()
    for paper, label in _drawn(filing):
        if label.name not in seen:
            held = label.name in named or str(label.number) in named
            name = f"FIG. {label.name}"
            yield Seen(what=name, held=held, measured="not named", at=_at(paper, label), words={"figure": name})
        seen.add(label.name)


@check(
    "view-numbers",
    of=Filing,
    takes=NoLimits,
    sorts=("repeat", "gap", "lower-case letter", "style"),
    says=("figure", "expected"),
)
def view_numbers(filing: Filing, _: NoLimits) -> Outcomes:
    """Follow the numbers of the views over the sheets: from 1, none twice, none left out."""
    yield from _same_habit(_numbered(filing))


def _same_habit(every: Iterable[Outcome]) -> Outcomes:
    """Labels that are oddly written in one way are one fault."""
    odd: dict[str, list[Seen]] = {}
    for one in every:
        if isinstance(one, Seen) and one.sort in ("lower-case letter", "style"):
            odd.setdefault(one.sort, []).append(one)
        else:
            yield one
    for first, *others in odd.values():
        yield msgspec.structs.replace(first, also=tuple(other.at for other in others))


def _numbered(filing: Filing) -> Outcomes:
    drawn = _drawn(filing)
    unread = unread_sheets(filing, _no_labels)
    for position, (paper, label) in enumerate(drawn):
        twin = next((p for p in drawn[:position] if p[1].name == label.name and p[1].page != label.page), None)
        twin = twin or next((p for p in drawn[:position] if p[1].name == label.name), None)
        repeated = twin is not None and not re.search(r"\bcont", label.text, re.IGNORECASE)
        sort = "repeat" if repeated else _oddly_written(label, drawn)
        yield Seen(
            what=f"FIG. {label.name}",
            held=not sort,
            measured=label.text,
            sort=sort,
            at=_at(paper, label),
            also=(_at(*twin),) if repeated and twin else (),
            words={"figure": label.text, "expected": f"FIG. {label.name}"},
        )
    missing = _left_out(drawn)
    if missing and unread:
        yield from unread
    for number in () if unread else missing:
        after = next(one for one in drawn if one[1].number > number)
        yield Seen(
            what="series",
            held=False,
            measured=f"FIG. {number} is missing",
            sort="gap",
            at=_at(*after),
            words={"figure": f"FIG. {number}", "expected": f"FIG. {number}"},
        )


def _oddly_written(label: FigureLabel, drawn: Sequence[tuple[Paper, FigureLabel]]) -> str:
    if re.search(r"\d\s?\(?[a-z]\)?(?![a-z])", label.text):
        return "lower-case letter"
    alone = len(drawn) == 1 and not label.letter
    return "style" if alone or re.search(r"\bfigure", label.text, re.IGNORECASE) else ""


def _left_out(drawn: Sequence[tuple[Paper, FigureLabel]]) -> list[int]:
    numbers = {label.number for _, label in drawn}
    return [n for n in range(1, max(numbers, default=0)) if n not in numbers]


@check("piece-letters", of=Filing, takes=NoLimits, says=("figure", "expected"))
def piece_letters(filing: Filing, _: NoLimits) -> Outcomes:
    """See whether the pieces of one view are lettered from A without a gap."""
    drawn = _drawn(filing)
    unread = unread_sheets(filing, _no_labels)
    for number in sorted({label.number for _, label in drawn if label.letter}):
        family = [(paper, label) for paper, label in drawn if label.number == number and label.letter]
        letters = {label.letter.upper() for _, label in family}
        wanted = [chr(ord("A") + i) for i in range(len(letters))]
        missing = [letter for letter in wanted if letter not in letters]
        if missing and unread:
            yield from unread
            return
        yield Seen(
            what=f"pieces of FIG. {number}",
            held=not missing,
            measured=", ".join(f"{number}{letter}" for letter in sorted(letters)),
            at=_at(*family[0]),
            words={"figure": f"FIG. {number}", "expected": ", ".join(f"FIG. {number}{m}" for m in missing)},
        )


class LabelSize(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """So much higher than the reference characters must a label be (cm), less the reading error of a picture."""

    more: float
    blur: float


@check("label-size", of=Paper, takes=LabelSize, says=("label",))
def label_size(paper: Paper, limit: LabelSize) -> Outcomes:
    """Compare the height of each label with that of the reference characters of its sheet."""
    yield from each_sheet(paper, lambda page: _label_sizes(page, limit))


def _label_sizes(page: Page, limit: LabelSize) -> Outcomes:
    usual = usual_height(page)
    for label in labels_on(page) if usual else ():
        yield Measured(
            what="label of a view",
            value=label.height,
            unit="cm",
            least=round((usual or 0.0) + limit.more, 3),
            slack=limit.blur if page.readings is not None else 0.0,
            at=Place(page=page.number, box=label.box),
            words={"label": label.text},
        )


@check("views-apart", of=Paper, takes=NoLimits)
def views_apart(paper: Paper, _: NoLimits) -> Outcomes:
    """See whether each sheet with several views has as many clusters of ink that may be views."""
    yield from each_sheet(paper, _apart)


def _apart(page: Page) -> Outcomes:
    views = views_on(page)
    if len(views.labels) > 1:
        first, *others = (Place(page=page.number, box=label.box) for label in views.labels)
        names = [f"FIG. {label.name}" for label in views.labels]
        measured = f"{', '.join(names[:-1])} and {names[-1]}"
        yield Seen(what="views", held=not views.touch, measured=measured, at=first, also=tuple(others))
