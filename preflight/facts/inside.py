"""What a PDF holds besides what its pages show when printed: comments, actions, attachments, layers and the like.

Names of kinds are those of ISO 32000-1 without the slash: "Highlight", "JavaScript", "Launch".
"""

from __future__ import annotations

import msgspec

from preflight.facts.lengths import Box


class Annotation(msgspec.Struct, frozen=True):
    """Something laid on a page that is not its content (ISO 32000-1, 12.5).

    Fields of forms are told as fields; left out are the windows of other annotations and links that stay in the file.
    """

    kind: str
    page: int
    box: Box | None = None
    author: str = ""
    words: str = ""
    """Its first words, or the address of a link."""
    prints: bool = True
    """False if a printer or a converter leaves it out."""


class Action(msgspec.Struct, frozen=True):
    """Something that a viewer would do (ISO 32000-1, 12.6), except going to a page of the same file.

    The address of a link is told with the link.
    """

    kind: str
    where: str
    """In words: "on opening the file", "page 3", "field Name", "named script Check"."""
    page: int | None = None
    does: str = ""
    """The first characters of a script, or the target."""
    unasked: bool = False
    """It happens without a click: on opening the file, on showing a page, on leaving a field."""


class Attachment(msgspec.Struct, frozen=True):
    """A file within the file."""

    name: str
    page: int | None = None


class Outside(msgspec.Struct, frozen=True):
    """Something that is fetched from, or leads into, another file."""

    what: str
    """In words: "data kept in fig1.tif"."""
    page: int | None = None


class Layer(msgspec.Struct, frozen=True):
    """Optional content (ISO 32000-1, 8.11)."""

    name: str
    shown: bool
    """In the default state on a screen."""
    printed: bool = True


class SignatureField(msgspec.Struct, frozen=True):
    """A field for a certificate signature (ISO 32000-1, 12.8)."""

    name: str
    signed: bool
    certifies: bool = False
    """It locks the file against changes."""
    page: int | None = None
    box: Box | None = None


class Stored(msgspec.Struct, frozen=True):
    """An image as stored, once for each page that shows it."""

    page: int
    width: int
    height: int
    filters: tuple[str, ...] = ()
    colours: str = ""
    """The family of its colour space: DeviceGray, DeviceRGB, ICCBased, Indexed, ..."""
    bits: int = 8
    masked: bool = False
    """It has a soft mask."""
    alternates: bool = False
    """It carries other versions of itself (ISO 32000-1, 8.9.5.4)."""
    stacked: bool = False
    """Its soft mask has a mask or an alternate of its own."""


class Inside(msgspec.Struct, frozen=True):
    """All of that."""

    annotations: tuple[Annotation, ...] = ()
    actions: tuple[Action, ...] = ()
    attachments: tuple[Attachment, ...] = ()
    portfolio: bool = False
    layers: tuple[Layer, ...] = ()
    signature_fields: tuple[SignatureField, ...] = ()
    usage_rights: bool = False
    """The maker of a form has signed it, so that its own program may save it filled in (ISO 32000-1, 12.8.2.3)."""
    xfa: str = ""
    """"static" or "dynamic" for an XFA form; dynamic ones show only a notice in other programs."""
    needs_appearances: bool = False
    """A viewer is to make up how the fields look."""
    unshown_fields: tuple[str, ...] = ()
    """Fields with a value that no appearance shows."""
    external: tuple[Outside, ...] = ()
    transitions: tuple[int, ...] = ()
    """Pages with the effects of a slide show."""
    thumbnails: tuple[int, ...] = ()
    images: tuple[Stored, ...] = ()
    see_through: tuple[tuple[int, str], ...] = ()
    """Pages with transparency or overprint that has an effect, and what: "alpha", "blend mode", "soft mask", ..."""
    uneven_boxes: tuple[int, ...] = ()
    """Pages whose CropBox, TrimBox or ArtBox cuts off a part of the MediaBox."""
    earlier_versions: int = 0
    """Versions that the file still holds beneath the newest (ISO 32000-1, 7.5.6)."""
    metadata: dict[str, str] = {}
    """The XMP packet, names as in the packet: "dc:title", "pdf:Producer", ..."""
    archival: str = ""
    """The part of PDF/A that the file claims, e.g. "2b"."""
    unread: dict[str, str] = {}
    """Why a part may not be complete, by the name that it has here: "images", "see_through", "metadata", ..."""
