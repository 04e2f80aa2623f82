"""The files of the folder on the page, in the order in which they are uploaded."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from preflight.facts.kinds import kind_of
from preflight.reporting import wording
from preflight.reporting.page.pictures import Figure, Store
from preflight.reporting.report import Document, Report

UPLOAD_ORDER = (
    *("letter", "cover-sheet", "fee-sheet", "application-data-sheet"),
    *("specification", "claims", "abstract", "drawings", "declaration", "entity-certification"),
)
"""As 37 CFR 1.77(a) lists the parts of an application: letter, fees, data sheet, specification, drawings, oath. The
office takes files in any order; the list only keeps two people's lists alike. The certification last: no source."""
_SHORT = 12


class Part(NamedTuple):
    """A run of pages that is one paper."""

    role: str
    pages: str
    how_known: str
    figure: Figure | None


class PaperEntry(NamedTuple):
    """One file."""

    file: str
    pages: str
    size: str
    digest: str
    """The first digits of its SHA-256."""
    parts: tuple[Part, ...]
    note: str


def papers_of(report: Report, store: Store) -> Iterator[PaperEntry]:
    """What is uploaded first, then what is not known, then what was not looked at."""
    for document in sorted(report.documents, key=_rank):
        yield PaperEntry(
            file=wording.file_name(document.file),
            pages=wording.counted(document.pages, "page") if document.pages else "",
            size=wording.quantity(document.bytes, "bytes"),
            digest=document.sha256[:_SHORT],
            parts=tuple(_parts(document, store)),
            note=document.note or ("" if document.papers else f"no paper ({kind_of(document.media_type)})"),
        )


def _rank(document: Document) -> tuple[int, str]:
    ranks = [UPLOAD_ORDER.index(p.role) for p in document.papers if p.role in UPLOAD_ORDER]
    rest = len(UPLOAD_ORDER) + (0 if document.papers else 1) + (1 if not document.sha256 else 0)
    return min(ranks, default=rest), document.file


def _parts(document: Document, store: Store) -> Iterator[Part]:
    for paper in document.papers:
        numbers = range(paper.first_page, paper.last_page + 1)
        figure = store.page(document.file, paper.first_page)
        yield Part(wording.role(paper.role), wording.pages(numbers), paper.how_known, figure)
