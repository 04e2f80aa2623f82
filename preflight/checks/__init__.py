"""Code that measures, one subject a module; pure, with every limit declared as a parameter."""

from preflight.checks.api import (
    AnyCheck,
    Check,
    Measured,
    NoLimits,
    Outcome,
    Outcomes,
    Place,
    Seen,
    Unread,
    check,
)

__all__ = [
    "AnyCheck",
    "Check",
    "Measured",
    "NoLimits",
    "Outcome",
    "Outcomes",
    "Place",
    "Seen",
    "Unread",
    "check",
]
