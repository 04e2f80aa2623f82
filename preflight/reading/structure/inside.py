"""All that a PDF holds besides what its pages show when printed, gathered into one record."""

from __future__ import annotations

from collections.abc import Iterator

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
from preflight.reading.structure.outside import read_alternates, read_outside
from preflight.reading.structure.walking import Tour


def read_inside(opened: OpenPdf, until: float) -> Inside:
    """Everything; what is broken or takes longer than the monotonic time `until` is named in `unread`."""
    tour = Tour(opened, until)
    nodes = tour.first(read_nodes(tour), "the form fields")
    actions = tour.first(read_actions(tour, nodes), "the actions")
    return Inside(
        annotations=tour.first(read_annotations(tour), "the annotations"),
        actions=actions,
        attachments=tour.first(read_attachments(tour), "the attached files"),
        portfolio=tour.tried("the parts of a portfolio", is_portfolio, False),
        layers=tour.first(read_layers(tour), "the layers"),
        signature_fields=tour.first(read_signature_fields(tour, nodes), "the signature fields"),
        usage_rights=tour.tried("the permissions", has_usage_rights, False),
        xfa=tour.tried("the parts of the form", xfa_kind, ""),
        needs_appearances=tour.tried("the parts of the form", needs_appearances, False),
        unshown_fields=tour.first(read_unshown(tour, nodes), "the form fields"),
        external=tour.first(_once(read_outside(tour, actions)), "the streams"),
        alternates=tour.first(read_alternates(tour), "the pictures"),
        transitions=tour.first(read_transitions(tour), "the page transitions"),
        unread="; ".join(tour.troubles) or None,
    )


def _once(found: Iterator[Outside]) -> Iterator[Outside]:
    seen = set()
    for one in found:
        if one not in seen:
            seen.add(one)
            yield one
