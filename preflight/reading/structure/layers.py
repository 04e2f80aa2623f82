"""Layers that can be switched on and off, as a viewer shows and a printer prints them (ISO 32000-1, 8.11)."""

from __future__ import annotations

from collections.abc import Iterator

import pikepdf

from preflight.facts import Layer
from preflight.reading.structure.walking import Known, Tour, dictionaries, inner, text

_STATES = {"View": "/ViewState", "Print": "/PrintState"}


def read_layers(tour: Tour) -> Iterator[Layer]:
    """Every layer that the file lists, in the state of its default configuration."""
    default = inner(tour.root, "/OCProperties", "/D")
    on, off = _listed(default, "/ON"), _listed(default, "/OFF")
    shown_by_rule = text(inner(default, "/BaseState")) != "OFF"
    seen: set[Known] = set()
    for group in dictionaries(inner(tour.root, "/OCProperties", "/OCGs")):
        tour.look_at_the_clock()
        place = group.objgen
        if place in seen:
            continue
        seen |= {place} - {(0, 0)}
        state = place not in off and (shown_by_rule or place in on)
        yield Layer(
            name=text(group.get("/Name")) or "without a name",
            shown=_switched(default, group, "View", state),
            printed=_switched(default, group, "Print", state),
        )


def _listed(configuration: object, key: str) -> set[Known]:
    return {group.objgen for group in dictionaries(inner(configuration, key))}


def _switched(configuration: object, group: pikepdf.Object, event: str, state: bool) -> bool:
    """What the automatic switches make of a layer's state (8.11.4.4); only those that the configuration lists count."""
    for switch in dictionaries(inner(configuration, "/AS")):
        if text(switch.get("/Event")) != event or group.objgen not in _listed(switch, "/OCGs"):
            continue
        said = text(inner(group, "/Usage", f"/{event}", _STATES[event]))
        if said in ("ON", "OFF"):
            return said == "ON"
    return state
