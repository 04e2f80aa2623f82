"""The tables of entity, certification and fee taken together: each contradiction is reported once, else nothing."""

from __future__ import annotations

from itertools import product
from typing import get_args

import pytest

from preflight.papers.money.entity import AmountSaid, CertificationSaid, TickSaid
from preflight.rulebooks import Requirement
from preflight.testing import requirements

KEYS = ("tick", "certification", "amount")
TICKS = ("none", "small", "micro", "both")
CERTIFICATIONS = ("none", "signed", "unsigned", "other matter", "short", "by officer")
AMOUNTS = ("undiscounted", "small", "micro", "older schedule", "nobody's", "not stated")
MATRICES = [r for r in requirements(office="us") if r.check == "entity-matrix"]

PROPER = [
    ("none", "none", "undiscounted"),
    ("small", "none", "small"),
    ("none", "none", "small"),  # the payment asserts, 37 CFR 1.27(c)(3)
    ("micro", "signed", "micro"),
    ("small", "signed", "micro"),  # the web data sheet offers regular and small only
    ("none", "signed", "micro"),
    ("none", "none", "not stated"),
    ("small", "none", "not stated"),
    ("micro", "signed", "not stated"),
    ("small", "signed", "not stated"),
    ("none", "signed", "not stated"),
    ("none", "none", "nobody's"),  # the amount itself is reported by us.fee.amount
    ("micro", "signed", "older schedule"),
]
"""Rows that fit together; none may be reported."""
BROKEN = [
    (("micro", "none", "micro"), "us.micro.form", "missing", "notice"),
    (("micro", "unsigned", "micro"), "us.micro.form", "unsigned", "notice"),
    (("none", "none", "micro"), "us.micro.form", "missing", "notice"),
    (("small", "none", "micro"), "us.micro.form", "missing", "notice"),
    (("micro", "none", "small"), "us.micro.form", "missing", "notice"),
    (("none", "unsigned", "not stated"), "us.micro.form", "unsigned", "notice"),
    (("micro", "signed", "small"), "us.micro.no-mix", "overpaid", "advice"),
    (("micro", "signed", "undiscounted"), "us.micro.no-mix", "overpaid", "advice"),
    (("small", "none", "undiscounted"), "us.micro.no-mix", "overpaid", "advice"),
    (("none", "signed", "undiscounted"), "us.micro.no-mix", "not used", "advice"),
    (("micro", "other matter", "micro"), "us.micro.no-mix", "other-matter", "notice"),
    (("micro", "short", "micro"), "us.micro.signer", "short", "notice"),
    (("micro", "by officer", "micro"), "us.micro.signer", "officer", "notice"),
    (("both", "signed", "micro"), "us.prov.cover.entity", "both", "notice"),
    (("both", "none", "not stated"), "us.prov.cover.entity", "both", "notice"),
]
"""Rows that do not: which requirement reports them, as what, how grave for the filing."""


def reported(seen: tuple[str, str, str]) -> list[tuple[Requirement, str]]:
    """Every requirement with a row that fits, and the sort of the first such row."""
    found = []
    for requirement in MATRICES:
        for row in requirement.limits["rows"]:
            if all(value in row.get(key, (value,)) for key, value in zip(KEYS, seen, strict=True)):
                found.append((requirement, row["sort"]))
                break
    return found


@pytest.mark.parametrize("seen", PROPER, ids=" / ".join)
def test_what_fits_together_is_not_reported(seen: tuple[str, str, str]) -> None:
    assert [requirement.id for requirement, _ in reported(seen)] == []


@pytest.mark.parametrize(("seen", "by", "sort", "filing"), BROKEN, ids=[" / ".join(row[0]) for row in BROKEN])
def test_what_does_not_fit_is_reported_once(seen: tuple[str, str, str], by: str, sort: str, filing: str) -> None:
    (found,) = reported(seen)
    assert (found[0].id, found[1]) == (by, sort)
    level = next((g for g in found[0].levels if g.sort == sort), found[0])
    assert level.filing == filing


@pytest.mark.parametrize("seen", list(product(TICKS, CERTIFICATIONS, AMOUNTS)), ids=" / ".join)
def test_one_defect_is_reported_by_one_requirement(seen: tuple[str, str, str]) -> None:
    """Two ticks are a defect of their own, beside which the certification may have one."""
    others = [requirement.id for requirement, _ in reported(seen) if requirement.id != "us.prov.cover.entity"]
    assert len(others) <= 1
    assert ("us.prov.cover.entity" in [r.id for r, _ in reported(seen)]) == (seen[0] == "both")


@pytest.mark.parametrize("seen", list(product(TICKS, CERTIFICATIONS, AMOUNTS)), ids=" / ".join)
def test_the_micro_fee_never_passes_without_a_good_certification(seen: tuple[str, str, str]) -> None:
    _, certification, amount = seen
    if amount == "micro" and certification != "signed":
        assert any(requirement.id.startswith("us.micro.") for requirement, _ in reported(seen))


def test_the_values_are_those_that_papers_say() -> None:
    """Unreadable is no value to compare: the check yields it as unread."""
    assert set(TICKS) == set(get_args(TickSaid)) - {"unreadable"}
    assert set(CERTIFICATIONS) == set(get_args(CertificationSaid)) - {"unreadable"}
    assert set(AMOUNTS) == set(get_args(AmountSaid)) - {"unreadable"}


def test_rows_name_known_values_only() -> None:
    for row in (row for requirement in MATRICES for row in requirement.limits["rows"]):
        assert set(row) <= {*KEYS, "sort"}
        assert set(row.get("tick", ())) <= set(TICKS)
        assert set(row.get("certification", ())) <= set(CERTIFICATIONS)
        assert set(row.get("amount", ())) <= set(AMOUNTS)
