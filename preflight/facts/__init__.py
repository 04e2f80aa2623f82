"""Frozen records of what a file objectively contains: the ground floor, imported by every room.

Lengths are in cm from the top left corner of the page as displayed (after CropBox, Rotate and
UserUnit), type sizes in pt, shares are fractions from 0 to 1, pages count from 1.
"""

from preflight.facts.clippings import Clipping, Cut
from preflight.facts.document import (
    Bar,
    Block,
    Faint,
    Field,
    FileFacts,
    Fill,
    Font,
    Line,
    Page,
    Patch,
    Pen,
    Picture,
    Shade,
    Square,
    Structure,
    Tint,
    from_json,
    to_json,
    white,
)
from preflight.facts.inside import Action, Annotation, Attachment, Inside, Layer, Outside, SignatureField, Stored
from preflight.facts.lengths import CM_PER_INCH, CM_PER_PT, PT_PER_CM, Box
from preflight.facts.manifest import Digests, Entry, Manifest
from preflight.facts.readings import Reading
from preflight.facts.sources import Prose, Source

__all__ = [
    "CM_PER_INCH",
    "CM_PER_PT",
    "PT_PER_CM",
    "Action",
    "Annotation",
    "Attachment",
    "Bar",
    "Block",
    "Box",
    "Clipping",
    "Cut",
    "Digests",
    "Entry",
    "Faint",
    "Field",
    "FileFacts",
    "Fill",
    "Font",
    "Inside",
    "Layer",
    "Line",
    "Manifest",
    "Outside",
    "Page",
    "Patch",
    "Pen",
    "Picture",
    "Prose",
    "Reading",
    "Shade",
    "SignatureField",
    "Source",
    "Square",
    "Stored",
    "Structure",
    "Tint",
    "from_json",
    "to_json",
    "white",
]
