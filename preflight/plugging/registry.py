"""Gathers what plug-ins declare, each by itself, so that a broken one costs only its own."""

from __future__ import annotations

import importlib
import importlib.metadata
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

import msgspec
import pluggy

from preflight import __version__
from preflight.checks import AnyCheck
from preflight.datafiles import DataMistakes
from preflight.papers import Role
from preflight.plugging import hookspecs
from preflight.reporting.renderer import Renderer
from preflight.reporting.report import Named
from preflight.rulebooks import Rulebook, extended, is_extension, load, load_extension

BUILT_IN = (
    "preflight.plugging.builtin.checks",
    "preflight.plugging.builtin.roles",
    "preflight.plugging.builtin.renderers",
    "preflight.plugging.builtin.us",
)
"""The built-in plug-ins, registered through the same door as a stranger's."""
ENTRY_POINT = "preflight"
"""The entry point group under which an installed package names its plug-in module."""

T = TypeVar("T")


@dataclass(frozen=True)
class Plugin:
    """One plug-in with what it is called; `module` is None where it could not be loaded."""

    name: str
    version: str
    module: Any = None
    trouble: str | None = None


@dataclass
class _Declared:
    """One plug-in while its declarations are gathered."""

    plugin: Plugin
    troubles: list[str] = field(default_factory=list)
    folders: list[Path] = field(default_factory=list)
    """Those that it offers as rulebooks or extensions."""

    @property
    def named(self) -> Named:
        """For the report."""
        return Named(self.plugin.name, self.plugin.version, "; ".join(self.troubles) or None)


@dataclass
class Registry:
    """Everything that was declared, by name, and the plug-ins with their troubles."""

    plugins: list[Named] = field(default_factory=list)
    checks: dict[str, AnyCheck] = field(default_factory=dict)
    check_owner: dict[str, str] = field(default_factory=dict)
    roles: dict[str, Role] = field(default_factory=dict)
    renderers: dict[str, Renderer] = field(default_factory=dict)
    rulebooks: dict[tuple[str, str], Rulebook] = field(default_factory=dict)
    """By office and kind."""

    def offices(self) -> tuple[str, ...]:
        """The offices for which there is a rulebook."""
        return tuple(dict.fromkeys(office for office, _ in self.rulebooks))

    def troubles(self) -> list[str]:
        """A line for each plug-in that does not work."""
        return [f"plug-in {p.name} {p.version}: {p.trouble}" for p in self.plugins if p.trouble]


def built_in_and_installed() -> Registry:
    """The registry of the program as installed, with the plug-ins of other packages."""
    return registry_of([*built_in(), *_installed()])


def built_in() -> list[Plugin]:
    """The plug-ins that come with the program."""
    return [_imported(name, __version__, partial(importlib.import_module, name)) for name in BUILT_IN]


def _installed() -> list[Plugin]:
    points = importlib.metadata.entry_points(group=ENTRY_POINT)
    found = [_imported(p.name, p.dist.version if p.dist else "", p.load) for p in points]
    return sorted(found, key=lambda p: p.name)


def _imported(name: str, version: str, load_it: Callable[[], Any]) -> Plugin:
    try:
        return Plugin(name, version, module=load_it())
    except Exception as error:  # noqa: BLE001 - whatever a stranger's module raises must become a line of the report
        return Plugin(name, version, trouble=f"it could not be loaded ({_said(error)})")


def registry_of(plugins: Iterable[Plugin]) -> Registry:
    """What these plug-ins declare. A claimed name that is taken, or a hook that throws, becomes trouble of its plug-in.

    So does any mistake in an extension. Raises DataMistakes for a broken rulebook: with a doubtful law nothing can
    be judged.
    """
    registry = Registry()
    manager = pluggy.PluginManager(hookspecs.PROJECT)
    manager.add_hookspecs(hookspecs)
    every = [_Declared(_registered(manager, plugin)) for plugin in plugins]
    for one in every:
        if one.plugin.trouble:
            one.troubles.append(one.plugin.trouble)
        if one.plugin.module is not None:
            _gather(manager, one, registry)
    offered = [(one, folder, is_extension(folder)) for one in every for folder in one.folders]
    mistakes = _load_rulebooks(registry, [folder for _, folder, extends in offered if not extends])
    _load_extensions(registry, [(one, folder) for one, folder, extends in offered if extends])
    registry.plugins = [one.named for one in every]
    if mistakes:
        raise DataMistakes([*registry.troubles(), *mistakes])
    return registry


def _registered(manager: pluggy.PluginManager, plugin: Plugin) -> Plugin:
    if plugin.module is None:
        return plugin
    try:
        manager.register(plugin.module, name=plugin.name)
        manager.check_pending()
    except Exception as error:  # noqa: BLE001 - as above
        if manager.get_plugin(plugin.name) is plugin.module:
            manager.unregister(name=plugin.name)
        return Plugin(plugin.name, plugin.version, trouble=f"it does not fit the hooks ({_said(error)})")
    return plugin


def _gather(manager: pluggy.PluginManager, declared: _Declared, registry: Registry) -> None:
    """Calls each hook of one plug-in by itself."""
    plugin, troubles = declared.plugin, declared.troubles
    others = [p for p in manager.get_plugins() if p is not plugin.module]
    hooks = manager.subset_hook_caller

    def ask(hook: str, kind: type[T]) -> list[T]:
        try:
            answers = [item for items in hooks(hook, remove_plugins=others)() for item in items]
        except Exception as error:  # noqa: BLE001 - as above
            troubles.append(f"{hook} failed ({_said(error)})")
            return []
        strange = [item for item in answers if not isinstance(item, kind)]
        troubles.extend(f"{hook} gave {type(item).__name__}, not {kind.__name__}" for item in strange)
        return [item for item in answers if isinstance(item, kind)]

    for check in ask("preflight_checks", _check_type()):
        if _claimed("check", check.name, registry.checks, check, troubles, registry.check_owner.get(check.name)):
            registry.check_owner[check.name] = plugin.name
    for role in ask("preflight_roles", Role):
        _claimed("role", role.id, registry.roles, role, troubles)
    for renderer in ask("preflight_renderers", Renderer):
        _claimed("renderer", renderer.name, registry.renderers, renderer, troubles)
    declared.folders = ask("preflight_rulebooks", Path)


def _check_type() -> type[AnyCheck]:
    from preflight.checks.api import Check  # noqa: PLC0415 - the bare class, for isinstance

    return Check


def _claimed(
    kind: str, name: str, taken: dict[str, T], thing: T, troubles: list[str], owner: str | None = None
) -> bool:
    if name in taken:
        by = f" by {owner}" if owner else ""
        troubles.append(f'{kind} "{name}" is already taken{by}')
        return False
    taken[name] = thing
    return True


def _load_rulebooks(registry: Registry, folders: Iterable[Path]) -> list[str]:
    """The mistakes in any of them."""
    mistakes: list[str] = []
    for folder in folders:
        try:
            book = load(folder, registry.checks.values(), registry.roles)
        except DataMistakes as error:
            mistakes += error.mistakes
            continue
        key = (book.office, book.kind)
        if key in registry.rulebooks:
            both = f"{registry.rulebooks[key].id} and {book.id}"
            mistakes.append(f"two rulebooks claim office {book.office}, kind {book.kind}: {both}")
        else:
            registry.rulebooks[key] = book
    return mistakes


def _load_extensions(registry: Registry, offered: Iterable[tuple[_Declared, Path]]) -> None:
    """An extension that cannot be used costs its plug-in only; the rulebook that it names judges without it."""
    books = registry.rulebooks
    for declared, folder in offered:
        try:
            extension = load_extension(folder, books.values(), registry.checks.values(), registry.roles)
        except DataMistakes as error:
            declared.troubles += error.mistakes
        except Exception as error:  # noqa: BLE001 - as above
            declared.troubles.append(f"{folder.name} could not be read ({_said(error)})")
        else:
            owner = f"{declared.plugin.name} {declared.plugin.version}".strip()
            extension = msgspec.structs.replace(extension, plugin=owner)
            key = next(key for key, book in books.items() if book.id == extension.extends)
            books[key] = extended(books[key], extension)


def _said(error: BaseException) -> str:
    text = " ".join(str(error).split())
    return f"{type(error).__name__}: {text}"[:300] if text else type(error).__name__
