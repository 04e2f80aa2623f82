"""The built-in checks."""

from collections.abc import Iterable

from preflight.checks import AnyCheck
from preflight.checks.built_in import CHECKS
from preflight.plugging.hookspecs import hookimpl


@hookimpl
def preflight_checks() -> Iterable[AnyCheck]:
    """All of them."""
    return CHECKS
