"""The built-in roles of papers."""

from collections.abc import Iterable

from preflight.papers import BUILT_IN_ROLES, Role
from preflight.plugging.hookspecs import hookimpl


@hookimpl
def preflight_roles() -> Iterable[Role]:
    """All of them."""
    return BUILT_IN_ROLES
