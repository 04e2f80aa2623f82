"""The one place that turns numbers, days and places into words for people."""

from __future__ import annotations

import datetime as dt
import math
import re
import unicodedata
from collections.abc import Iterable, Sequence

NOT_APPLICABLE = (
    "nothing to look at in these papers or on these days, or conditions that are not given here; "
    "so how many are met differs between folders and between days"
)
"""What stands beside the count of requirements in that state."""
_SYMBOLS = {"cm", "mm", "in", "pt", "dpi", "MB", "square cm"}
"""Units that have no plural and follow the number with a space."""
_LEAST_DECIMALS = {"%": 0, "dpi": 0}
"""Elsewhere a measured value that is not whole shows at least one."""
_MOST_DECIMALS = 4
"""Nobody measures paper more finely; beyond it words say on which side of the limit a value lies."""
_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
"""Not from the machine's language setting."""
_PLURALS = {"ies": "y", "sses": "ss", "xes": "x", "ches": "ch", "shes": "sh"}
_MEGABYTE = 1_000_000
_CONTROL_PICTURES = 0x2400
_DELETE = 0x7F
_UNSEEN = {
    *(0x034F, 0x115F, 0x1160, 0x17B4, 0x17B5, 0x3164, 0xFFA0),
    *range(0x180B, 0x1810),
    *range(0xFE00, 0xFE10),
    *range(0xE0100, 0xE01F0),
}
"""Letters and marks that show nothing (Unicode: Default_Ignorable_Code_Point, those outside of category Cf)."""


def lettered(text: str) -> list[str]:
    """What stands before the parts (a), (b) of a text, then each part, for lists; together they are the text."""
    return re.split(r" (?=\([a-z]\) )", text)


def figures(value: float, unit: str, least: float | None = None, most: float | None = None) -> tuple[str, str]:
    """A measured value and what is asked for, rounded together so that the fault shows: ("2.48 cm", "at least 2.5 cm").

    The second is empty where there is no limit.
    """
    limits = [limit for limit in (least, most) if limit is not None]
    if unit == "bytes" and not _fits_megabytes(value, limits):
        return counted(value, "bytes"), between(least, most, "bytes", whole=True) if limits else ""
    return quantity(value, unit, limits), between(least, most, unit) if limits else ""


def quantity(value: float, unit: str = "", against: float | Iterable[float] | None = None) -> str:
    """A number with its unit: "1.9 cm", "101 characters", "26.2 MB", "USD 65", "12%".

    Rounded, but never so far that it seems to reach a limit in `against` that it misses.
    """
    limits = _several(against)
    if unit == "bytes" and _fits_megabytes(value, limits):
        value, limits, unit = value / _MEGABYTE, [limit / _MEGABYTE for limit in limits], "MB"
    shown = _rounded(value, unit, limits)
    if shown is not None:
        return _with_unit(shown, unit)
    missed = min(limits, key=lambda limit: abs(limit - value))
    return f"just {'under' if value < missed else 'over'} {_with_unit(number(missed), unit)}"


def number(value: float) -> str:
    """A number as it stands, with a comma at the thousands and no idle zeros: "2.5", "0.9525", "25,000,000"."""
    if not math.isfinite(value):
        return "unknown"
    text = f"{value:,.{_MOST_DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", "0"} else text


def length(value_cm: float, against: float | Iterable[float] | None = None) -> str:
    """A length in cm: "1.9 cm"."""
    return quantity(value_cm, "cm", against)


def share(fraction: float, against: float | None = None) -> str:
    """A fraction from 0 to 1 as a percentage: "12%"."""
    return quantity(fraction * 100, "%", None if against is None else against * 100)


def sheet(width_cm: float, height_cm: float) -> str:
    """The size of a page: "21.6 x 27.9 cm"."""
    return f"{number(round(width_cm, 2))} x {number(round(height_cm, 2))} cm"


def between(least: float | None, most: float | None, unit: str = "", *, whole: bool = False) -> str:
    """What is asked for: "at least 2.5 cm", "at most 100 characters", "between 1 and 3 pages", "2 pages".

    `whole` keeps bytes as bytes.
    """
    if least is not None and most is not None and least != most:
        return f"between {number(least)} and {_limit(most, unit, whole=whole)}"
    limit = least if least is not None else most
    if limit is None:
        raise ValueError("between needs at least one limit")
    if least == most:
        return _limit(limit, unit, whole=whole)
    word = "at most" if least is None else "at least"
    return f"{word} {_limit(limit, unit, whole=whole)}"


def money(amount: float, currency: str = "USD") -> str:
    """An amount: "USD 65", "USD 1,820", "USD 7.50"."""
    whole = float(amount).is_integer()
    return f"{clean(currency)} {amount:,.0f}" if whole else f"{clean(currency)} {amount:,.2f}"


def apart(stated: float, due: float, currency: str) -> str:
    """By how much an amount is not what is due: "USD 65 too little"; empty if it is."""
    more = stated - due
    return f"{money(abs(more), currency)} too {'much' if more > 0 else 'little'}" if more else ""


def day(date: dt.date) -> str:
    """A day without doubt about month and day: "25 November 2026"."""
    return f"{date.day} {_MONTHS[date.month - 1]} {date.year}"


def month(date: dt.date) -> str:
    """The month of a day of which only that is known: "September 2025"."""
    return f"{_MONTHS[date.month - 1]} {date.year}"


def day_if_one(text: str) -> str:
    """The words of a day that is written as 2026-11-25; any other text made harmless."""
    try:
        return day(dt.date.fromisoformat(text)) if re.fullmatch(r"\d{4}-\d\d-\d\d", text) else clean(text)
    except ValueError:
        return clean(text)


def moment(text: str) -> str:
    """A point in time that is written as 2026-11-25T23:40:12-05:00: "25 November 2026, 23:40 (UTC-05:00)"."""
    try:
        when = dt.datetime.fromisoformat(text)
    except ValueError:
        return clean(text)
    zone = f" (UTC{when.isoformat(timespec='seconds')[19:]})" if when.tzinfo else ""
    return f"{day(when)}, {when:%H:%M}{zone}"


def counted(how_many: float, noun: str) -> str:
    """A count with the noun in the right number: "1 paper", "3 papers", "0 papers"."""
    return _with_unit(number(how_many), noun)


def listed(items: Iterable[str], last: str = "and") -> str:
    """A list as in a sentence: "a, b and c"."""
    words = list(items)
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}" if words else ""


def runs(numbers: Iterable[int]) -> list[tuple[int, int]]:
    """Numbers gathered into runs, sorted: 2, 3, 4, 7 gives (2, 4), (7, 7)."""
    gathered: list[tuple[int, int]] = []
    for number in sorted(set(numbers)):
        if gathered and number == gathered[-1][1] + 1:
            gathered[-1] = (gathered[-1][0], number)
        else:
            gathered.append((number, number))
    return gathered


def span(first: int, last: int) -> str:
    """A run of pages without the word: "3", "2 to 5"."""
    return str(first) if first == last else f"{first} to {last}"


def pages(numbers: Iterable[int], most: int | None = None) -> str:
    """Pages as people name them: "page 3", "pages 2 to 5 and 7", with at most so many runs "... and 30 more"."""
    gathered = runs(numbers)
    if not gathered:
        return ""
    shown, rest = gathered[:most], gathered[most:] if most is not None else []
    names = [span(*run) for run in shown]
    if rest:
        names.append(f"{sum(last - first + 1 for first, last in rest)} more")
    one = not rest and len(shown) == 1 and shown[0][0] == shown[0][1]
    return f"{'page' if one else 'pages'} {listed(names)}"


def clean(text: str) -> str:
    """Text from file names and papers made harmless and visible: line breaks, escapes and direction marks as signs.

    Control characters become their pictures (line feed: U+240A), all else that steers or hides text its code.
    """
    return "".join(_visible(character) for character in text)


def file_name(name: str) -> str:
    """A file name made harmless, in quotation marks where blanks at its ends or side by side would not be seen."""
    shown = clean(name)
    return f'"{shown}"' if shown != " ".join(shown.split()) or not shown else shown


def role(name: str) -> str:
    """What kind of paper: the id "cover-sheet" as people say it."""
    return clean(name.replace("-", " "))


def _visible(character: str) -> str:
    code = ord(character)
    if code < ord(" "):
        return chr(_CONTROL_PICTURES + code)
    if code == _DELETE:
        return "\N{SYMBOL FOR DELETE}"
    if unicodedata.category(character) in {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"} or code in _UNSEEN:
        return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"
    return character


def _several(against: float | Iterable[float] | None) -> list[float]:
    if against is None:
        return []
    return [against] if isinstance(against, int | float) else list(against)


def _rounded(value: float, unit: str, limits: Sequence[float]) -> str | None:
    """The shortest figure that stays on its side of every limit; None if even the finest does not."""
    if not math.isfinite(value):
        return "unknown"
    if value == round(value):
        return number(value)
    fewest = max(_LEAST_DECIMALS.get(unit, 1), _telling_decimals(value), *(_decimals(limit) for limit in limits), 0)
    for decimals in range(min(fewest, _MOST_DECIMALS), _MOST_DECIMALS + 1):
        near = round(value, decimals)
        if all(_side(near, limit) == _side(value, limit) for limit in limits):
            return number(near)
    return None


def _telling_decimals(value: float) -> int:
    """Decimals that leave two significant figures: 0.035, 0.28, 1.9, 12."""
    return max(0, 1 - math.floor(math.log10(abs(value))))


def _decimals(limit: float) -> int:
    return min(2, len(number(limit).partition(".")[2]))


def _side(value: float, limit: float) -> int:
    return (value > limit) - (value < limit)


def _limit(limit: float, unit: str, *, whole: bool) -> str:
    if unit == "bytes" and not whole and _fits_megabytes(limit, [limit]):
        return _with_unit(number(limit / _MEGABYTE), "MB")
    return _with_unit(number(limit), unit)


def _fits_megabytes(value: float, limits: Sequence[float]) -> bool:
    """Whether MB (a million bytes) tell the truth: round limits, and a value that is not hidden by two decimals."""
    if any(limit % (_MEGABYTE / 10) for limit in limits) or max([abs(value), *limits]) < _MEGABYTE / 10:
        return False
    near = round(value / _MEGABYTE, 2)
    return all(_side(near, limit / _MEGABYTE) == _side(value, limit) for limit in limits)


def _with_unit(figure: str, unit: str) -> str:
    if unit == "USD":
        return f"USD {figure}"
    if unit == "%":
        return f"{figure}%"
    if not unit:
        return figure
    if unit in _SYMBOLS:
        return f"{figure} {unit}"
    return f"{figure} {_one(unit) if figure == '1' else _many(unit)}"


def _one(noun: str) -> str:
    """The singular, of a noun given in either number."""
    for ending, singular in _PLURALS.items():
        if noun.endswith(ending):
            return noun.removesuffix(ending) + singular
    return noun[:-1] if noun.endswith("s") and not noun.endswith("ss") else noun


def _many(noun: str) -> str:
    """The plural, of a noun given in either number."""
    one = _one(noun)
    if one.endswith("y") and one[-2:-1] not in set("aeiou"):
        return f"{one[:-1]}ies"
    return f"{one}es" if one.endswith(("s", "x", "ch", "sh")) else f"{one}s"
