"""Series of numbers over pages or sheets: where one is missing, doubled or out of its order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import msgspec

from preflight.checks.api import Place, Seen, Unread


class Numbered(msgspec.Struct, frozen=True):
    """A page or sheet with the number that stands on it; `value` is None where there is none."""

    at: Place
    value: int | None
    total: int | None = None
    unread: str | None = None
    """Why it could not be read."""
    blank: bool = False
    """A blank page has nothing to number; it may be counted or not."""

    @property
    def text(self) -> str:
        """As a person would read it: "3" or "3/4"."""
        return f"{self.value}/{self.total}" if self.total is not None else f"{self.value}"


def follow(what: str, run: Sequence[Numbered], begins: int) -> Iterator[Seen | Unread]:
    """Compare each number of one run with the one that must stand there, counting on from `begins`.

    After a fault the count goes on from the number found, so that one missing page is one finding. A page
    without a number keeps its place in the count; a first page may go without one. Of a blank page nothing is asked.
    """
    values = [page.value for page in run if page.value is not None]
    if (
        values != sorted(values)
        and sorted(values) == list(range(begins, begins + len(values)))
        and len(values) == len(run)
    ):
        yield _disordered(what, run, begins)
        return
    expected, spare, mistyped = begins, 0, 0
    seen: set[int] = set()
    for position, page in enumerate(run):
        value = page.value
        if page.unread:
            yield Unread(why=page.unread, at=page.at)
            expected += 1
            continue
        if value is None and page.blank:
            spare += 1
            continue
        if value is None:
            if position > 0 and any(p.value is not None for p in run):
                yield _fault(what, page, "absent", expected, "none")
            expected += 1
            continue
        sort = None
        if not expected <= value <= expected + spare and value != mistyped:
            sort = "repeat" if value in seen else "gap" if value > expected else "order"
        yield _fault(what, page, sort, expected, page.text) if sort else _held(what, page)
        seen.add(value)
        mistyped = expected + 1 if sort == "repeat" else 0  # 1, 1, 3: the second may be a 2 mistyped
        expected, spare = value + 1, 0


def totals(what: str, run: Sequence[Numbered], count: int, others: Iterable[int] = ()) -> Iterator[Seen]:
    """Compare the stated totals with how many there are; all wrong ones are one fault. `others` are totals as good."""
    wrong = [page for page in run if page.total is not None and page.total not in {count, *others}]
    if wrong:
        first = wrong[0]
        yield Seen(
            what=what,
            held=False,
            measured=first.text,
            required=f"{first.value}/{count}",
            sort="total",
            at=first.at,
            also=tuple(page.at for page in wrong[1:]),
            words={"expected": f"{first.value}/{count}"},
        )


def _disordered(what: str, run: Sequence[Numbered], begins: int) -> Seen:
    """All numbers are there, in another order: one fault, at the first that is out of place."""
    wrong = [page for position, page in enumerate(run) if page.value != begins + position]
    return Seen(
        what=what,
        held=False,
        measured=wrong[0].text,
        sort="order",
        at=wrong[0].at,
        also=tuple(page.at for page in wrong[1:]),
        words={"expected": str(begins + run.index(wrong[0]))},
    )


def _held(what: str, page: Numbered) -> Seen:
    return Seen(what=what, held=True, measured=page.text, at=page.at, words={"expected": page.text})


def _fault(what: str, page: Numbered, sort: str, expected: int, measured: str) -> Seen:
    return Seen(
        what=what,
        held=False,
        measured=measured,
        required=str(expected),
        sort=sort,
        at=page.at,
        words={"expected": str(expected)},
    )
