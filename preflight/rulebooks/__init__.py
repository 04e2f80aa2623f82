"""Law as data: requirements, citations and fees of each office, loaded strictly."""

from preflight.rulebooks.loader import as_struct, load
from preflight.rulebooks.model import ORDER, Citation, Grade, Level, Requirement, Rulebook, When, worse

__all__ = ["ORDER", "Citation", "Grade", "Level", "Requirement", "Rulebook", "When", "as_struct", "load", "worse"]
