"""The hooks: all in one file. Each returns declarations; the engine runs them, so one plug-in cannot lose another's."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pluggy

from preflight.checks import AnyCheck
from preflight.papers import Role
from preflight.reporting.renderer import Renderer

PROJECT = "preflight"
hookspec = pluggy.HookspecMarker(PROJECT)
hookimpl = pluggy.HookimplMarker(PROJECT)


@hookspec
def preflight_checks() -> Iterable[AnyCheck]:
    """Checks that this plug-in adds. Asked once, before any rulebook is loaded."""
    raise NotImplementedError


@hookspec
def preflight_roles() -> Iterable[Role]:
    """Roles of papers that this plug-in can recognise. Asked once, before any rulebook is loaded."""
    raise NotImplementedError


@hookspec
def preflight_rulebooks() -> Iterable[Path]:
    """Folders with the data files of a rulebook each, or of an extension that adds requirements to one.

    Asked once, after the checks and roles of all plug-ins.
    """
    raise NotImplementedError


@hookspec
def preflight_renderers() -> Iterable[Renderer]:
    """Forms of output that this plug-in adds. Asked once."""
    raise NotImplementedError
