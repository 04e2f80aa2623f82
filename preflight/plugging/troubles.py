"""Plug-ins that do not work, as a requirement of our own: what they would have checked was not checked."""

from __future__ import annotations

from collections.abc import Sequence

from preflight.checks import Outcome, Place, Seen, Unread
from preflight.judging import Examined
from preflight.reporting import Named
from preflight.rulebooks import Citation, Requirement

PLUG_INS_WORK = Requirement(
    id="preflight.plug-ins",
    title="Every installed plug-in works",
    filing="notice",
    examination="notice",
    why="What a broken plug-in would have checked was not checked.",
    citations=(Citation(source="the set-up of this machine, no law", known="practice"),),
    check="plug-ins",
    message="plug-in not used: {measured}",
    fix="update or remove the plug-in, then check again",
)


def examine_plugins(plugins: Sequence[Named]) -> Examined:
    """The plug-ins as outcomes: a broken one is unread, by name and version."""
    return Examined(PLUG_INS_WORK, tuple(map(_outcome, plugins)))


def _outcome(plugin: Named) -> Outcome:
    name = f"plug-in {plugin.name} {plugin.version}".strip()
    if plugin.trouble:
        return Unread(why=f"{name}: {plugin.trouble}", at=Place())
    return Seen(what=name, held=True, measured="works")
