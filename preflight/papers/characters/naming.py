"""Whether two names may be names of one part: other modifiers, a plural, a short form, a wider word, a near word."""

from __future__ import annotations

import re
from difflib import SequenceMatcher

GENERIC = frozenset(
    re.findall(
        r"\S+",
        """
        assembly subassembly member element unit device mechanism structure portion part component system apparatus
        arrangement body means section region piece article feature module circuit circuitry equipment installation
        construction set kit object entity block instrument machine tool product item facility station network
        environment group array stage layer material medium substance process method thing contents logic function
        surface side end
        """,
    )
)
"""Words that may stand for nearly any part: "latch 18" and "latch assembly 18", "member 18". From memory."""

NEAR = tuple(
    frozenset(row.split())
    for row in (
        "fastener screw bolt rivet pin nail stud clip clasp snap dowel peg nut",
        "arm lever bar rod link crank beam strut handle rocker leg limb finger rail pole post shaft spindle axle stem",
        "housing casing case enclosure shell box container vessel tank chamber receptacle reservoir cabinet cover hull",
        "opening hole bore aperture orifice slot port passage channel duct conduit pipe tube hose line groove recess"
        " cavity notch inlet outlet gap window mouth",
        "plate panel board sheet wall cover lid cap plug door flap hatch closure base floor bottom platform",
        "processor controller computer microcontroller microprocessor cpu server mcu host terminal",
        "display screen monitor touchscreen interface",
        "internet cloud lan wan bus line link connection",
        "memory storage database store disk drive repository ram rom buffer cache",
        "engine program application app software service model code instructions network",
        "user person operator patient subject customer wearer driver rider gardener worker client people",
        "sensor detector transducer probe camera imager gauge meter thermistor thermometer",
        "motor actuator drive engine pump solenoid",
        "lamp light led bulb luminaire laser source emitter diode",
        "signal message request packet data notification image frame value result information record token",
        "latch catch lock bolt hook detent pawl clasp clamp tooth",
        "spring coil biaser band",
        "belt band strap cord rope cable wire lead line string chain",
        "wheel roller pulley disc disk drum gear sprocket cylinder sheave ring",
        "bearing bushing sleeve collar ring",
        "seal gasket o-ring ring packing",
        "vehicle car truck automobile trailer",
        "phone smartphone handset telephone terminal tablet",
        "frame chassis rack stand support base foot carrier bracket holder mount",
        "seat chair stool bench cushion",
        "blade knife cutter edge",
        "knob button switch key dial lever handle grip",
        "fluid liquid water gas air oil medium stream flow mixture solution",
        "layer film coating sheet membrane foil substrate wafer",
        "ground soil earth floor surface",
        "tip end point nose head",
        "ray beam light radiation",
        "lens optics objective mirror reflector prism",
        "tissue skin organ wall",
        "edge rim lip flange border shoulder",
    )
)
"""Words that a writer may use for one part; whether it is one is for the person. From memory."""

STEPS = frozenset(
    [
        "step",
        "block",
        "operation",
        "act",
        "stage",
        "box",
        "process",
        "action",
        "decision",
        "procedure",
        "state",
        "method",
    ]
)
MODIFIED = frozenset(["modified", "alternative", "alternate", "variant", "redesigned", "altered"])
OPPOSITES = (
    *(("first", "second"), ("first", "third"), ("second", "third"), ("upper", "lower"), ("left", "right")),
    *(("inner", "outer"), ("front", "rear"), ("top", "bottom"), ("proximal", "distal"), ("male", "female")),
    *(("input", "output"), ("inlet", "outlet"), ("front", "back"), ("left-hand", "right-hand")),
)
PLACES = frozenset(word for pair in OPPOSITES for word in pair) | frozenset(
    ["main", "side", "end", "central", "middle", "center", "fourth", "fifth", "free", "other", "sliding", "fixed"]
)
"""Modifiers that different parts share."""
ALIKE = 0.85
"""Words that are spelt so much alike are one word, misspelt. House value."""
_SMALL = frozenset(["to", "of", "and", "for", "the", "in", "on", "with"])
"""Words that a short form leaves out: ADC for analog-to-digital converter."""
_SHORT = {
    "mcu": ("microcontroller",),
    "pcb": ("board",),
    "ecu": ("controller",),
    "ui": ("interface",),
    "pa": ("amplifier",),
}
"""Short forms that are no first letters. From memory."""
_IRREGULAR = {
    "feet": "foot",
    "teeth": "tooth",
    "people": "person",
    "men": "man",
    "women": "woman",
    "axes": "axis",
    "vertices": "vertex",
    "indices": "index",
    "apices": "apex",
    "leaves": "leaf",
    "halves": "half",
    "knives": "knife",
    "shelves": "shelf",
    "mice": "mouse",
    "geese": "goose",
    "matrices": "matrix",
}


def singular(word: str) -> str:
    """A noun in the singular; a word that is no plural stays as it is."""
    if word in _IRREGULAR:
        return _IRREGULAR[word]
    if word.endswith("ies") and len(word) > 4:
        return f"{word[:-3]}y"
    if re.search(r"(?:ss|sh|ch|x|z)es$", word):
        return word[:-2]
    if word.endswith("s") and len(word) > 3 and not re.search(r"(?:ss|us|is|ics|'s)$", word) and word != "lens":
        return word[:-1]
    return word


def head_of(name: str) -> str:
    """The last word of a name in the singular: of "end of the lever" too it is what the phrase ends with."""
    words = [word for word in name.split() if len(word) > 1]
    return singular(words[-1]) if words else name


def same_part(one: str, other: str) -> bool:
    """Whether two names surely may name one part, so that nobody need look at them."""
    head, last = head_of(one), head_of(other)
    if head == last or head in GENERIC or last in GENERIC:
        return True
    return _is_short_for(one, other) or _is_short_for(other, one) or _is_cut(head, last) or _is_misspelt(head, last)


def _is_short_for(short: str, name: str) -> bool:
    """CPU for central processing unit, LED for light-emitting diode."""
    initials = "".join(word[0] for word in re.split(r"[\s-]+", name) if word and word not in _SMALL)
    plain = short.replace(" ", "").rstrip("s")
    if plain in _SHORT and head_of(name) in _SHORT[plain]:
        return True
    return 1 < len(plain) <= len(initials) + 1 and (
        plain == initials or initials.startswith(plain) or plain in initials
    )


def _is_cut(head: str, other: str) -> bool:
    """App for application, mic for microphone, pump for micropump, or a compound: "doorframe" and "frame"."""
    short, long = sorted((head, other), key=len)
    return len(short) >= 3 and (long.startswith(short) or long.endswith(short))


def _is_misspelt(head: str, other: str) -> bool:
    return min(len(head), len(other)) > 4 and SequenceMatcher(None, head, other, autojunk=False).ratio() >= ALIKE


def near(one: str, other: str) -> bool:
    """Whether a writer may mean one part by both: lever and arm, screw and fastener, hinge pin and hinge."""
    a, b = head_of(one), head_of(other)
    shared = {singular(word) for word in one.split()} & {singular(word) for word in other.split()}
    return bool(shared - PLACES) or any(a in row and b in row for row in NEAR)


def opposite(one: str, other: str) -> bool:
    """Whether the names differ only in words that exclude each other: "upper wall", "lower wall"."""
    a, b = one.split(), other.split()
    differ = [pair for pair in zip(a, b, strict=False) if pair[0] != pair[1]]
    return len(a) == len(b) and len(differ) == 1 and (differ[0] in OPPOSITES or differ[0][::-1] in OPPOSITES)


def modified_from(name: str, other: str) -> bool:
    """Whether the one is called a modification of the other: "modified latch" of "latch"."""
    words = name.split()
    return words[0] in MODIFIED and words[1:] == other.split()
