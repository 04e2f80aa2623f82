"""The built-in forms of output."""

from collections.abc import Iterable

from preflight.plugging.hookspecs import hookimpl
from preflight.reporting import BUILT_IN_RENDERERS, Renderer


@hookimpl
def preflight_renderers() -> Iterable[Renderer]:
    """All of them."""
    return BUILT_IN_RENDERERS
