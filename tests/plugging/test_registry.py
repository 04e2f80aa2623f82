"""Plug-ins: one that misbehaves costs only its own, and is named."""

from collections.abc import Iterable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from preflight.checks import AnyCheck, NoLimits, Outcomes, Seen, check
from preflight.datafiles import DataMistakes
from preflight.papers import Filing
from preflight.plugging import Plugin, built_in, examine_plugins, hookimpl, registry_of

pytestmark = pytest.mark.plugin


@check("glove-box", of=Filing, takes=NoLimits)
def glove_box(_filing: Filing, _: NoLimits) -> Outcomes:
    """Look into the glove box."""
    yield Seen(what="glove box", held=True)


def plugin(name: str = "stranger", **hooks: Any) -> Plugin:
    module = ModuleType(name)
    for hook, function in hooks.items():
        setattr(module, hook, hookimpl(function))
    return Plugin(name, "1.0", module)


def offering(*checks: object, name: str = "stranger") -> Plugin:
    def preflight_checks() -> Iterable[object]:
        return checks

    return plugin(name, preflight_checks=preflight_checks)


def test_the_built_in_plug_ins_work_through_the_same_door() -> None:
    registry = registry_of(built_in())
    assert [p.trouble for p in registry.plugins] == [None] * len(registry.plugins)
    assert ("us", "provisional") in registry.rulebooks
    assert "margins" in registry.checks
    assert "specification" in registry.roles
    assert {"text", "json"} <= set(registry.renderers)


def test_without_any_plug_in_there_is_nothing() -> None:
    registry = registry_of([])
    assert (registry.rulebooks, registry.checks, registry.roles) == ({}, {}, {})


def test_a_strangers_check_is_added() -> None:
    registry = registry_of([*built_in(), offering(glove_box)])
    assert registry.checks["glove-box"] is glove_box
    assert registry.check_owner["glove-box"] == "stranger"


def test_a_hook_that_throws_costs_only_its_plug_in() -> None:
    def preflight_checks() -> Iterable[AnyCheck]:
        raise RuntimeError("no ink\nleft")

    registry = registry_of([*built_in(), plugin("first", preflight_checks=preflight_checks), offering(glove_box)])
    (trouble,) = [p.trouble for p in registry.plugins if p.trouble]
    assert trouble == "preflight_checks failed (RuntimeError: no ink left)"
    assert "glove-box" in registry.checks


def test_a_generator_that_throws_half_way_is_caught_too() -> None:
    def preflight_checks() -> Iterable[AnyCheck]:
        yield glove_box
        raise RuntimeError("out of ink")

    registry = registry_of([plugin(preflight_checks=preflight_checks)])
    assert registry.plugins[0].trouble == "preflight_checks failed (RuntimeError: out of ink)"


def test_a_taken_name_names_both() -> None:
    registry = registry_of([offering(glove_box), offering(glove_box, name="second")])
    assert registry.plugins[1].trouble == 'check "glove-box" is already taken by stranger'


def test_what_is_no_check_is_refused_by_type() -> None:
    assert registry_of([offering("a string")]).plugins[0].trouble == "preflight_checks gave str, not Check"


def test_an_argument_that_the_hook_does_not_know_is_refused_at_registration() -> None:
    def preflight_checks(weather: str) -> Iterable[AnyCheck]:
        return (glove_box,) if weather else ()

    registry = registry_of([plugin("first", preflight_checks=preflight_checks), offering(glove_box)])
    assert "does not fit the hooks" in str(registry.plugins[0].trouble)
    assert "glove-box" in registry.checks


def test_a_plug_in_that_could_not_be_loaded_is_unread_by_name_and_version() -> None:
    registry = registry_of([Plugin("rusty", "0.3", trouble="it could not be loaded (ImportError: no module)")])
    examined = examine_plugins(registry.plugins)
    (outcome,) = examined.outcomes
    assert "plug-in rusty 0.3: it could not be loaded" in getattr(outcome, "why", "")


def test_a_broken_rulebook_stops_everything(tmp_path: Path) -> None:
    (tmp_path / "rules.toml").write_text('[rulebook]\noffice = "x"\n')

    def preflight_rulebooks() -> Iterable[Path]:
        return (tmp_path,)

    with pytest.raises(DataMistakes, match="missing"):
        registry_of([plugin(preflight_rulebooks=preflight_rulebooks)])


def test_two_rulebooks_for_one_office_and_kind_name_both() -> None:
    books = built_in()
    us = next(p for p in books if p.name.endswith(".us"))
    with pytest.raises(DataMistakes, match="two rulebooks claim office us, kind provisional"):
        registry_of([*books, plugin("again", preflight_rulebooks=us.module.preflight_rulebooks)])
