"""The door for plug-ins: hooks to implement, and the registry of what was declared."""

from preflight.plugging.hookspecs import hookimpl
from preflight.plugging.registry import Plugin, Registry, built_in, built_in_and_installed, registry_of
from preflight.plugging.troubles import examine_plugins

__all__ = ["Plugin", "Registry", "built_in", "built_in_and_installed", "examine_plugins", "hookimpl", "registry_of"]
