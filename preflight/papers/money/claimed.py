"""At which rate the filing is to be paid, as far as the papers or the filer say it."""

from __future__ import annotations

import msgspec

from preflight.facts.money import ENTITIES
from preflight.papers.forms.cover_sheets import cover_sheet
from preflight.papers.model import Filing
from preflight.papers.money.entity import EntityPicture, entity_said
from preflight.papers.money.fees import sheet_count, total, worksheet


class EntityClaimed(msgspec.Struct, frozen=True):
    """The entity, or None if nothing says it; `how_known` in words."""

    name: str | None
    how_known: str
    sure: bool = True
    """False where it rests on a paper that could not be read."""


def entity_claimed(filing: Filing, picture: EntityPicture | None = None) -> EntityClaimed:
    """Declared beats stated, stated beats certified, certified beats paid.

    A micro entity is small first, and the office's web data sheet offers no more than that: small beside a signed
    certification means micro, unless an amount of another entity is stated.
    """
    seen = picture or entity_said(filing)
    if seen.declared:
        return EntityClaimed(seen.declared, "declared")
    if seen.tick == "small" and seen.certification == "signed" and seen.amount not in ("small", "undiscounted"):
        return EntityClaimed("micro", "by the certification in the folder")
    if seen.tick in ENTITIES:
        where = next((t.paper.file for t in seen.ticks if t.tick == seen.tick), "")
        return EntityClaimed(seen.tick, f"stated in {where}")
    sheet = cover_sheet(filing)
    if sheet and sheet.undiscounted.tick == "ticked" and seen.tick == "none":
        return EntityClaimed("undiscounted", f"stated in {sheet.paper.file}")
    if seen.certifications and seen.certification != "other matter":
        if seen.certification == "unreadable":
            return EntityClaimed("micro", "by the certification in the folder, which could not be read", sure=False)
        return EntityClaimed("micro", "by the certification in the folder")
    if seen.amount in ENTITIES:
        return EntityClaimed(seen.amount, f"by the fee stated in {seen.amounts[0].place.file}")
    return EntityClaimed(None, "no paper says it")


def amount_due(filing: Filing, entity: str) -> int | None:
    """What is due on the payment day at this rate; None if the fee table does not say."""
    return total(worksheet(filing.fees, entity, sheet_count(filing), filing.payment_date))
