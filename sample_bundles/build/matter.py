"""The invented matters: one place for every name, number and date that the papers share."""

from dataclasses import dataclass
from typing import Final

TITLE: Final = "GARDEN HOSE GUIDE WITH TILTING ROLLER"
DOCKET: Final = "DEMO-0417"
OTHER_TITLE: Final = "FOLDING BOOT RACK"
OTHER_DOCKET: Final = "DEMO-0388"

GIVEN_NAME: Final = "Ada"
FAMILY_NAME: Final = "Example"
INVENTOR: Final = f"{GIVEN_NAME} {FAMILY_NAME}"
CITY: Final = "Exampleville"
STATE: Final = "Vermont"
STREET: Final = "1 Sample Lane"
POSTCODE: Final = "05000"
COUNTRY: Final = "US"
PHONE: Final = "555-0100"
MAIL: Final = "cleo.sampleton@example.com"

PRACTITIONER: Final = "Cleo Sampleton"
REGISTRATION: Final = "99,999"

SIGNED_ON: Final = "2026-11-20"
PDF_DATE: Final = "D:20261120120000Z"
"""Creation and modification date that every built PDF carries."""

DRAWING_SHEETS: Final = 3


@dataclass(frozen=True)
class Inventor:
    """One inventor with the place of residence."""

    given: str
    family: str
    city: str = CITY
    state: str = STATE

    @property
    def name(self) -> str:
        """Given and family name."""
        return f"{self.given} {self.family}"


@dataclass(frozen=True)
class Matter:
    """What tells one invented application from another."""

    title: str
    docket: str
    inventors: tuple[Inventor, ...]
    sheets: int = DRAWING_SHEETS


GUIDE: Final = Matter(TITLE, DOCKET, (Inventor(GIVEN_NAME, FAMILY_NAME),))
TIMER: Final = Matter(
    "WATERING TIMER WITH LEAF WETNESS SENSING",
    "DEMO-0431",
    (
        Inventor("Tilda", "Mockingham", "Demo Falls", "Oregon"),
        Inventor("Zo\u00eb", "Testerby", "Sampleford", "Oregon"),
        Inventor("Orrin", "Van Specimen", "Exampleville", "Vermont"),
    ),
)
