"""What one file contains, as read; the worker pipe, the golden files and the tests use this one form."""

from __future__ import annotations

import msgspec

from preflight.facts.inside import Inside
from preflight.facts.lengths import Box
from preflight.facts.readings import Reading
from preflight.facts.sources import Source


class Font(msgspec.Struct, frozen=True):
    """A font that shows text on at least one page. `kind` is the PDF subtype: Type1, TrueType, Type0, Type3."""

    name: str
    kind: str
    embedded: bool
    pages: tuple[int, ...]
    in_field: bool = False
    """Used only by the appearance of a form field."""
    invisible: bool = False
    """Shows only text that is never painted (the text layer of a scan)."""
    subset: bool = False
    """Only the glyphs that are used are embedded."""
    named: bool = True
    """Whether the font says which characters its glyphs are (an encoding or ToUnicode)."""
    restricted: bool = False
    """Its licence bits forbid embedding (OpenType OS/2 fsType, bit 1)."""
    lacking: tuple[int, ...] = ()
    """Pages on which it paints its sign for a character that it does not have (.notdef)."""


class Field(msgspec.Struct, frozen=True):
    """A form field. `value` is None where the field is empty; a ticked box holds the name of its state."""

    name: str
    kind: str
    """text, tick, choice, signature or other."""
    value: str | None
    label: str = ""
    """The field's own description for people (/TU)."""
    page: int | None = None
    box: Box | None = None


class Structure(msgspec.Struct, frozen=True):
    """The PDF as a file, apart from what its pages show."""

    version: str
    """The later of header and catalogue, e.g. "1.6"."""
    extension_level: int = 0
    encrypted: bool = False
    opens_without_password: bool = True
    restrictions: tuple[str, ...] = ()
    """What the file forbids to a reader without the owner's password."""
    repairs: tuple[str, ...] = ()
    """What the reader had to mend or warns of, in qpdf's words; empty for a sound file."""
    header_offset: int = 0
    """Bytes before the %PDF- mark."""
    fonts: tuple[Font, ...] = ()
    fields: tuple[Field, ...] = ()
    has_xfa: bool = False
    inside: Inside = Inside()
    info: dict[str, str] = {}
    """The document information dictionary: Title, Author, Producer ..."""
    unread: str | None = None
    """Why the fonts or the fields may not be complete."""


class Tint(msgspec.Struct, frozen=True):
    """The characters of a line that have one colour, as painted on white paper."""

    colour: str
    """"rrggbb" in sRGB."""
    number: int
    """So many characters."""
    box: Box
    words: str = ""
    """The first of them."""
    ground: float = 1.0
    """Luminance of what they stand on, from 0 (black) to 1 (white)."""


class Line(msgspec.Struct, frozen=True):
    """One line of characters, as far as they stand together; wide gaps end a line."""

    text: str
    box: Box
    size: float
    """Effective type size in pt, after every matrix."""
    turned: int = 0
    """Direction of the text as displayed, degrees clockwise: 0 upright, 90 runs down, 180 head down, 270 runs up."""
    visible: bool = True
    """False for text that nobody sees on the page."""
    hidden: str = ""
    """Why it is not visible: "not painted" (render mode 3), "no contrast" (covered, or in the colour of its ground)."""
    base: float | None = None
    """Where the base line of upright text lies, in cm from the top of the page."""
    oblique: bool = False
    """Whether it runs aslant; `turned` is then the nearest upright direction."""
    height: float | None = None
    """Of its tallest letter or digit, in cm, where it runs a little aslant and its box is higher; else None."""
    strokes: int | None = None
    """How many strokes of the drawing come close to it, where it is a numeral by itself; None where it is none."""
    underlined: bool = False
    """A numeral with a line under it."""
    on_line: bool = False
    """A numeral with a line that goes on to both sides of it, at its middle or under it, as a dimension line does."""
    tints: tuple[Tint, ...] = ()
    """The colours of its visible characters other than black, the commonest first."""
    advance: float | None = None
    """From one character to the next, in cm, where it is the same for all, as in a monospaced typeface; None where it
    is not or too few characters tell."""


class Block(msgspec.Struct, frozen=True):
    """Lines that lay-out analysis holds to be one paragraph or one cell of a form."""

    box: Box
    lines: tuple[str, ...]


class Picture(msgspec.Struct, frozen=True):
    """An image placed on a page."""

    box: Box
    width: int
    """In pixels."""
    height: int
    """In pixels."""
    dpi: float
    """The smaller of the two resolutions, as placed."""
    filters: tuple[str, ...] = ()
    bits: int = 8
    """Bits a component."""


class Square(msgspec.Struct, frozen=True):
    """A small square frame, as a tick box is drawn; `filled` is the share of ink inside."""

    box: Box
    filled: float


class Bar(msgspec.Struct, frozen=True):
    """A thin level stroke that touches a line of characters: under it, through it, or a rule of a table."""

    box: Box
    colour: str
    """"rrggbb" in sRGB, on white paper."""
    crossed: float = 0.0
    """The share of the letters and digits at which it lies that it runs through."""


class Shade(msgspec.Struct, frozen=True):
    """One colour behind a line of characters, as high as the line, from where to where it goes beside it as well."""

    box: Box
    colour: str
    """"rrggbb" in sRGB, on white paper."""


class Pen(msgspec.Struct, frozen=True):
    """Strokes that are painted with one width and grey, and thin filled bars."""

    width: float
    """In cm, after every matrix; 0 for the thinnest line that a device can draw."""
    grey: float
    """From 0 (black) to 1 (white), on white paper."""
    number: int
    box: Box
    """Round all of them."""


class Faint(msgspec.Struct, frozen=True):
    """Thin marks that are nowhere black, as far as they stand together."""

    box: Box
    grey: float
    """Of their middle, from 0 (black) to 1 (white)."""
    area: float
    """Of the marks alone, in square cm."""


class Fill(msgspec.Struct, frozen=True):
    """An area of one tone, black or grey."""

    box: Box
    area: float
    """In square cm."""
    grey: float
    """From 0 (black) to 1 (white)."""
    share: float
    """Of its box that it fills: a disc fills 0.785, an upright rectangle all."""
    ringed: float = 0.0
    """The share of ink in a ring of 0.1 cm round a small one; 0 where it stands alone."""


class Patch(msgspec.Struct, frozen=True):
    """How much of a page shows something, and the box round all of it; `share` is of the page's area."""

    share: float
    box: Box | None = None
    levels: int = 0
    """Different grey levels seen in it (of 256); 0 where they were not counted."""


class Page(msgspec.Struct, frozen=True):
    """One page as displayed. `unread` says why it could not be drawn; then nothing below it is known."""

    number: int
    width: float
    height: float
    unread: str | None = None
    text_unread: str | None = None
    """Why the characters could not be read though the page could be drawn."""
    rotate: int = 0
    blur: float = 0.0
    """Reading error of every ink length on this page, in cm: one pixel of the raster."""
    ink: Box | None = None
    """The smallest box round all marks; None for a blank page."""
    marks: tuple[Box, ...] = ()
    """The ink in clusters that at least about 0.25 cm of white keeps apart, in reading order."""
    colour: Patch = Patch(share=0.0)
    """Pixels with a hue."""
    tone: Patch = Patch(share=0.0)
    """Continuous tone: areas filled with many middle greys or colours, as in a photograph."""
    lines: tuple[Line, ...] = ()
    off_page: str = ""
    """The first words that stand outside the page as displayed."""
    blocks: tuple[Block, ...] = ()
    """Only for pages that look like a form."""
    blocks_unread: str | None = None
    """Why such a page has none though it may look like one; its lines are known all the same."""
    pictures: tuple[Picture, ...] = ()
    squares: tuple[Square, ...] = ()
    scrawls: tuple[Box, ...] = ()
    """Ink that is neither characters nor straight lines nor small frames, as a pen leaves it, in reading order; none on
    scans and on pages with hardly any characters."""
    bars: tuple[Bar, ...] = ()
    shades: tuple[Shade, ...] = ()
    """Colour behind its upright lines; grey has no hue and is not among them."""
    pale: tuple[Box, ...] = ()
    """Clusters of flat light grey or of a light colour, as a watermark or a tinted cell is."""
    ground: float = 1.0
    """The commonest grey of the page, from 0 (black) to 1 (white): its paper."""
    pens: tuple[Pen, ...] = ()
    """How its paths are painted, the thinnest first; what is a picture has none."""
    usual_width: float | None = None
    """Of the lines of a scan, in cm: half of their length is thinner; None where there are hardly any, or no scan."""
    traces: float | None = None
    """The share of the paper close beside strokes that JPEG has soiled; None where no picture was kept so."""
    faint: tuple[Faint, ...] = ()
    """In reading order."""
    fills: tuple[Fill, ...] = ()
    """The largest first."""
    frame: Box | None = None
    """A frame of thin lines round most of the page."""
    skew: float | None = None
    """By how many degrees a scan lies askew, clockwise; None where its lines do not tell, or it is no scan."""
    dark_edges: tuple[Box, ...] = ()
    """What a scanner left dark along its sides; no part of `ink`, `marks` and `fills`."""
    digest: str = ""
    """Of how it looks in grey: two pages with the same digest look the same to the pixel."""
    readings: tuple[Reading, ...] | None = None
    """What was read from its picture; None where its own characters tell all, or the picture was not read."""
    readings_unread: str | None = None
    """Why its picture was not read though it should have been."""
    writing: tuple[Reading, ...] | None = None
    """The lines of a page of text that is a picture, as they were read from it, without their columns; None for other
    pages. They are kept apart from `lines` and `readings`: what rests on them is never sure."""

    def white(self, side: str) -> float:
        """The white between the ink and the named edge ("left", "top", "right", "bottom"), in cm.

        Raises ValueError for a blank or unread page: it has no such length.
        """
        if self.ink is None:
            message = f"page {self.number} has no ink"
            raise ValueError(message)
        return white(self.ink, side, self.width, self.height)


def white(ink: Box, side: str, width: float, height: float) -> float:
    """The distance in cm from `ink` to one side of a page of this width and height."""
    return {"left": ink.left, "top": ink.top, "right": width - ink.right, "bottom": height - ink.bottom}[side]


class FileFacts(msgspec.Struct, frozen=True):
    """One file of the folder. `unread` says why it could not be opened; then only name, size and digest are known."""

    name: str
    """Path relative to the folder, with forward slashes."""
    size: int
    """In bytes."""
    sha256: str
    media_type: str = ""
    """As its bytes say, e.g. application/pdf; empty if not known."""
    unread: str | None = None
    reader_failed: bool = False
    """`unread` is our own failure or limit: the file itself may be sound."""
    structure: Structure | None = None
    pages: tuple[Page, ...] = ()
    source: Source | None = None
    """Of a word processor's file."""
    readers: dict[str, str] = {}
    """Libraries that read it, with versions."""


def to_json(facts: FileFacts) -> bytes:
    """The one JSON form of facts."""
    return msgspec.json.encode(facts)


def from_json(data: bytes) -> FileFacts:
    """The reverse of `to_json`; raises msgspec.ValidationError for anything else."""
    return msgspec.json.decode(data, type=FileFacts)
