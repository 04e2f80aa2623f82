"""All that a PDF holds besides what its pages show when printed, gathered into one record."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from preflight.facts import Inside, Outside
from preflight.reading.structure.actions import read_actions
from preflight.reading.structure.annotations import read_annotations
from preflight.reading.structure.attachments import is_portfolio, read_attachments, read_transitions
from preflight.reading.structure.form_nodes import read_nodes
from preflight.reading.structure.form_state import (
    has_usage_rights,
    needs_appearances,
    read_signature_fields,
    read_unshown,
    xfa_kind,
)
from preflight.reading.structure.layers import read_layers
from preflight.reading.structure.opening import OpenPdf
from preflight.reading.structure.outside import read_outside
from preflight.reading.structure.walking import Tour


def read_inside(opened: OpenPdf, until: float) -> Inside:
    """Everything; what is broken or takes longer than the monotonic time `until` is named in `unread`."""
    tour = Tour(opened, until)
    nodes = tour.every("fields", "the form fields", read_nodes(tour))
    actions = tour.every("actions", "the actions", read_actions(tour, nodes))
    held = Inside(
        annotations=tour.every("annotations", "the annotations", read_annotations(tour)),
        actions=actions,
        attachments=tour.every("attachments", "the attached files", read_attachments(tour)),
        portfolio=tour.one("portfolio", "the parts of a portfolio", is_portfolio, False),
        layers=tour.every("layers", "the layers", read_layers(tour)),
        signature_fields=tour.every("signature_fields", "the signature fields", read_signature_fields(tour, nodes)),
        usage_rights=tour.one("usage_rights", "the permissions", has_usage_rights, False),
        xfa=tour.one("xfa", "the parts of the form", xfa_kind, ""),
        needs_appearances=tour.one("needs_appearances", "the parts of the form", needs_appearances, False),
        unshown_fields=tour.every("unshown_fields", "the form fields", read_unshown(tour, nodes)),
        external=tour.every("external", "the streams", _once(read_outside(tour, actions))),
        transitions=tour.every("transitions", "the page transitions", read_transitions(tour)),
    )
    return msgspec.structs.replace(held, unread=_named_as_kept(tour.unread))


_FROM_FIELDS = ("actions", "external", "signature_fields", "unshown_fields")
"""Parts that are not complete where the fields are not."""


def _named_as_kept(unread: dict[str, str]) -> dict[str, str]:
    """The reasons by the names that the parts have in the record: fields are kept elsewhere, jumps are actions."""
    kept = {part: why for part, why in unread.items() if part != "fields"}
    for source, parts in (("fields", _FROM_FIELDS), ("actions", ("external",))):
        for part in parts if source in unread else ():
            kept[part] = "; ".join(dict.fromkeys([unread[source], *filter(None, [kept.get(part)])]))
    return kept


def _once(found: Iterator[Outside]) -> Iterator[Outside]:
    seen = set()
    for one in found:
        if one not in seen:
            seen.add(one)
            yield one
