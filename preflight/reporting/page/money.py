"""What is due, on the page."""

from __future__ import annotations

from typing import NamedTuple

from preflight.reporting import wording
from preflight.reporting.findings import known_as
from preflight.reporting.report import Worksheet


class Line(NamedTuple):
    """One fee."""

    name: str
    reckoned: str
    amount: str
    source: str


class Money(NamedTuple):
    """The worksheet."""

    entity: str
    on: str
    lines: tuple[Line, ...]
    total: str
    stated: str
    notes: tuple[str, ...]


def money_of(fees: Worksheet) -> Money:
    """The worksheet in words."""

    def due(amount: int) -> str:
        return wording.money(amount, fees.currency)

    lines = tuple(
        Line(
            f"{line.name} (code {line.code})" if line.code else line.name,
            f"{line.quantity} \N{MULTIPLICATION SIGN} {due(line.each)}",
            due(line.amount),
            f"{line.citation}, since {wording.day(line.since)}{known_as(line.known)}",
        )
        for line in fees.lines
    )
    counted = f"{wording.counted(fees.sheets, 'page')} counted for the size fee"
    notes = (counted, fees.note) if fees.note else (counted,)
    return Money(fees.entity, wording.day(fees.payment_date), lines, due(fees.total), _stated(fees), notes)


def _stated(fees: Worksheet) -> str:
    if fees.stated is None:
        return "nothing"
    apart = wording.apart(fees.stated, fees.total, fees.currency)
    return f"{wording.money(fees.stated, fees.currency)}, {apart or 'agrees with the total'}"
