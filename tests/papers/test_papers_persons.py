"""Names and residences. us.prov.cover.residence: a city, and a US state or a foreign country."""

from __future__ import annotations

import pytest

from preflight.papers.forms.inventors import inventors, split_people
from preflight.papers.forms.persons import folded_name, is_name, person, residence
from preflight.testing import paper


@pytest.mark.parametrize(
    ("text", "city", "region"),
    [
        ("Portland, Oregon", "Portland", "Oregon"),
        ("Portland, OR", "Portland", "OR"),
        ("Portland OR", "Portland", "OR"),
        ("London, United Kingdom", "London", "United Kingdom"),  # check value K83
        ("Munich Germany", "Munich", "Germany"),
        ("Reykjavik, Atlantis", "Reykjavik", "Atlantis"),
        ("12 Main Street, Portland, Oregon 97201, US", "Portland", "Oregon, US"),
        ("Salt Lake City, Utah", "Salt Lake City", "Utah"),
        ("St. Louis, MO 63101", "St. Louis", "MO"),
        ("Portland", "Portland", None),
        ("Oregon", None, "Oregon"),
        ("12 Main Street", None, None),  # check value K82: a street, no city
        ("", None, None),
    ],
)
def test_city_and_region(text: str, city: str | None, region: str | None) -> None:
    found = residence(text)
    assert (found.city, found.region) == (city, region)


@pytest.mark.parametrize(
    ("text", "name", "where"),
    [
        ("Ada Example, Portland, Oregon", "Ada Example", "Portland, Oregon"),
        ("1. Ada Example (Portland, OR)", "Ada Example", "Portland, OR"),
        ("Ada Example residing at Portland, Oregon", "Ada Example", "Portland, Oregon"),
        ("Ada Example of Portland, Oregon", "Ada Example", "Portland, Oregon"),
        ("Ada Example, Jr., Portland, Oregon", "Ada Example, Jr", "Portland, Oregon"),
        ("Ada Example - Portland, Oregon", "Ada Example", "Portland, Oregon"),
        ("Inventor 1: Ada Example", "Ada Example", None),
        ("Jean-Luc d'Exemple", "Jean-Luc d'Exemple", None),
        ("Zoë van der Beispiel", "Zoë van der Beispiel", None),
        ("Ada", "Ada", None),  # a single legal name: by hand, not refused
    ],
)
def test_one_line_about_a_person(text: str, name: str, where: str | None) -> None:
    found = person(text)
    assert found is not None
    assert (found.name, found.residence) == (name, where)


@pytest.mark.parametrize("text", ["the application", "12 Main Street", "$65.00", "see attached sheets"])
def test_what_names_nobody(text: str) -> None:
    assert person(text) is None
    assert not is_name(text)


@pytest.mark.parametrize(
    ("text", "people"),
    [
        ("Ada Example; Ben Sample", ["Ada Example", "Ben Sample"]),
        (
            "Ada Example (Portland, OR), Ben Sample (Salem, OR)",
            ["Ada Example (Portland, OR)", "Ben Sample (Salem, OR)"],
        ),
        ("Ada Example and Ben Sample", ["Ada Example", "Ben Sample"]),
        ("Ada Example, Ben Sample, and Cleo Muster", ["Ada Example", "Ben Sample", "Cleo Muster"]),
        ("Ada Example, Portland, Oregon", ["Ada Example, Portland, Oregon"]),
    ],
)
def test_several_people_in_one_line(text: str, people: list[str]) -> None:
    assert [part.strip() for part in split_people(text)] == people


def test_names_compare_without_case_accents_and_order() -> None:
    assert folded_name("Imaginär, Otto") == folded_name("OTTO IMAGINAR")


def test_the_greeting_and_the_signature_of_a_letter_are_no_inventors() -> None:
    letter = paper(
        {
            "role": "letter",
            "pages": [
                [
                    "Inventor: Ada Example",
                    "",
                    "Dear Commissioner:",
                    "Enclosed please find a provisional application for patent.",
                    "Respectfully,",
                    "/Cleo Sampleton/",
                    "Cleo Sampleton, Reg. No. 99,999",
                ]
            ],
        }
    )
    assert [one.name for one in inventors(letter)] == ["Ada Example"]
