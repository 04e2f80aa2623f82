"""Names and residences of people as forms give them."""

from __future__ import annotations

import re
import unicodedata

import msgspec

from preflight.papers.model import Said
from preflight.papers.words.lettering import flat, keyed

_STATES = (
    "alabama al|alaska ak|arizona az|arkansas ar|california ca|colorado co|connecticut ct|delaware de|florida fl|"
    "georgia ga|hawaii hi|idaho id|illinois il|indiana in|iowa ia|kansas ks|kentucky ky|louisiana la|maine me|"
    "maryland md|massachusetts ma|michigan mi|minnesota mn|mississippi ms|missouri mo|montana mt|nebraska ne|nevada nv|"
    "new hampshire nh|new jersey nj|new mexico nm|new york ny|north carolina nc|north dakota nd|ohio oh|oklahoma ok|"
    "oregon or|pennsylvania pa|rhode island ri|south carolina sc|south dakota sd|tennessee tn|texas tx|utah ut|"
    "vermont vt|virginia va|washington wa|west virginia wv|wisconsin wi|wyoming wy|district of columbia dc|"
    "puerto rico pr|guam gu"
)
STATES = frozenset(name for pair in _STATES.split("|") for name in (pair.rsplit(" ", 1)[0], pair.rsplit(" ", 1)[1]))
"""States and territories of the US, names and postal letters, lower case."""
_COUNTRIES = (
    "us|usa|u s a|u s|united states|united states of america|argentina|australia|austria|belgium|brazil|bulgaria|"
    "canada|chile|china|colombia|croatia|czech republic|czechia|denmark|egypt|estonia|finland|france|germany|greece|"
    "hong kong|"
    "hungary|iceland|india|indonesia|iran|ireland|israel|italy|japan|kenya|korea|south korea|republic of korea|latvia|"
    "lithuania|luxembourg|malaysia|mexico|netherlands|the netherlands|new zealand|nigeria|norway|pakistan|peru|"
    "philippines|poland|portugal|romania|russia|saudi arabia|serbia|singapore|slovakia|slovenia|south africa|spain|"
    "sweden|switzerland|taiwan|thailand|turkey|ukraine|united arab emirates|united kingdom|uk|great britain|england|"
    "scotland|wales|vietnam|albania|algeria|andorra|armenia|azerbaijan|bahamas|bahrain|bangladesh|barbados|belarus|bolivia"
    "|bosnia and herzegovina|botswana|cambodia|cameroon|costa rica|cuba|cyprus|dominican republic|ecuador|el salvador"
    "|ethiopia|ghana|guatemala|honduras|iraq|ivory coast|jamaica|kazakhstan|kosovo|kuwait|laos|lebanon|libya"
    "|liechtenstein|macau|malta|mauritius|moldova|monaco|mongolia|montenegro|morocco|mozambique|myanmar|namibia|nepal"
    "|nicaragua|north macedonia|oman|panama|paraguay|qatar|rwanda|san marino|senegal|sri lanka|syria|tanzania"
    "|trinidad and tobago|tunisia|uganda|uruguay|uzbekistan|venezuela|yemen|zambia|zimbabwe"
)
COUNTRIES = frozenset(_COUNTRIES.split("|"))
"""Countries in usual spellings, lower case; others are known by standing last after a comma."""
_AFTER_NAME = frozenset(("jr", "sr", "ii", "iii", "iv", "phd", "ph d", "md", "m d", "esq", "dr", "prof"))
_PARTICLES = frozenset(
    [
        "de",
        "da",
        "di",
        "der",
        "den",
        "van",
        "von",
        "la",
        "le",
        "bin",
        "al",
        "el",
        "del",
        "dos",
        "y",
        "e",
        "und",
        "zu",
        "af",
        "ter",
        "ten",
    ]
)
_NUMBERED = re.compile(
    r"^\W*(?:(?:inventor|applicant)\s*(?:no\.?\s*)?\d*\s*[:.)\-]\s*|\(?\d{1,2}[.):]\s*|[\u2022*\-]\s+)", re.I
)
_FIRM = re.compile(
    r"\b(?:inc|llc|l\.l\.c|corp|corporation|incorporated|ltd|limited|gmbh|ag|plc|s\.?a|b\.?v|company|co|university"
    r"|institute|foundation|college|hospital)\b\.?",
    re.IGNORECASE,
)
_OFFICE = re.compile(
    r"\b(?:c[efto]o|(?:vice )?president|chief \w+ officer|(?:corporate |company )?(?:officer|secretary|treasurer)"
    r"|(?:managing |executive )director|managing (?:member|partner)|general (?:counsel|manager))\b"
)
_RESIDES = re.compile(
    r"\s*[,;(\-]?\s*(?:\b(?:residing|resident|residence|resides|citizen|living|located)\b(?:\s+(?:at|in|of))?|\bof(?=\s+[A-Z]))\s*:?\s*",
    re.IGNORECASE,
)
_BREAK = re.compile(r"\s+[\-|/]\s+|\s*[;|]\s*|\s*\((?=[^)]*\)?$)")
_ZIP = re.compile(r"\b(?:[A-Z]{1,2}-)?\d{4,6}(?:-\d{3,4})?\b")


class Residence(msgspec.Struct, frozen=True):
    """City, and state or country, each as printed; None where it is not given."""

    city: str | None = None
    region: str | None = None


class Inventor(msgspec.Struct, frozen=True):
    """One inventor as a paper names him: the name as printed, its parts where they stand apart, the residence."""

    name: str
    given: str | None = None
    family: str | None = None
    residence: str | None = None
    """The residence as printed, or None."""
    city: str | None = None
    region: str | None = None
    """State or country."""
    place: Said | None = None
    columns: tuple[str, ...] = ()
    """Which columns the form's table keeps: given, family, name, residence, city, region."""


def residence(text: str) -> Residence:
    """City and state or country out of "Portland, Oregon", "Portland OR", "12 Main St, Portland, OR 97201, US"."""
    plain = _ZIP.sub("", flat(text)).strip(" ,.;()")
    parts = [part.strip(" .") for part in plain.split(",") if part.strip(" .")]
    if parts and len(parts) > 1 and any(c.isdigit() for c in parts[0]):
        parts = parts[1:]
    if len(parts) == 1:
        return _one_part(parts[0])
    if not parts:
        return Residence()
    at = next((i for i, part in enumerate(parts) if is_region(part)), len(parts) - 1)
    city = parts[at - 1] if at else None
    return Residence(city, ", ".join(parts[at:]))


def _one_part(part: str) -> Residence:
    """A place without a comma: "Portland OR" and "Munich Germany" hold both, "Oregon" and "Portland" one of the two."""
    if any(c.isdigit() for c in part):
        return Residence()
    tokens = part.split()
    for count in (1, 2, 3):
        tail = " ".join(tokens[-count:])
        if len(tokens) > count and is_region(tail):
            return Residence(" ".join(tokens[:-count]), tail)
    return Residence(None, part) if is_region(part) else Residence(part, None)


def is_region(part: str) -> bool:
    """Whether a text is a state of the US or a country in a usual spelling."""
    folded = keyed(part)
    return folded in STATES or folded in COUNTRIES


def person(text: str, place: Said | None = None) -> Inventor | None:
    """A name with or without a residence out of one line; None if the line names nobody.

    "Jane Roe, Portland, Oregon", "1. Jane Roe (Portland, OR)", "Jane Roe residing at Portland, Oregon".
    """
    plain = _NUMBERED.sub("", flat(text)).strip(" ,;")
    for cut in (_RESIDES, _BREAK):
        found = cut.search(plain)
        if found and found.start() > 0:
            return _with(plain[: found.start()], plain[found.end() :].strip(" ()"), place)
    parts = [part.strip() for part in plain.split(",")]
    take = 1
    while take < len(parts) and keyed(parts[take]) in _AFTER_NAME:
        take += 1
    return _with(", ".join(parts[:take]), ", ".join(parts[take:]), place)


def _with(name: str, where: str, place: Said | None) -> Inventor | None:
    name = name.strip(" ,.;:")
    if not is_name(name):
        return None
    at = residence(where) if where else Residence()
    return Inventor(name, residence=where or None, city=at.city, region=at.region, place=place)


def is_name(text: str) -> bool:
    """Whether a text can be a person's name: one to six words in capitals or beginning with them, no digit."""
    tokens = text.replace(",", " ").split()
    if not 1 <= len(tokens) <= 6 or any(c.isdigit() or c in ":/$%@" for c in text):
        return False
    return all(token[0].isupper() or token[:2] in ("d'", "l'") or token.casefold() in _PARTICLES for token in tokens)


def is_organisation(name: str) -> bool:
    """Whether a name is that of a firm, a university or the like."""
    return bool(_FIRM.search(name))


def names_office(text: str) -> bool:
    """Whether a text names an office in an organisation: "President", "Chief Executive Officer"."""
    return bool(_OFFICE.search(keyed(text)))


def folded_name(name: str) -> str:
    """A name for comparing: no case, accents or points; "Roe, Jane" turned to "jane roe"."""
    head, comma, tail = flat(name).partition(",")
    turned = f"{tail} {head}" if comma and keyed(tail) not in _AFTER_NAME else name
    bare = "".join(c for c in unicodedata.normalize("NFKD", turned) if not unicodedata.combining(c))
    return keyed(bare)
