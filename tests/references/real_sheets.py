"""Real drawing sheets with truth by eye (../shared/real_sheets), and how a reading of them is scored."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from preflight.facts import Page
from preflight.papers import characters_on, labels_on, sheets_read

FOLDER = Path(__file__).resolve().parents[3] / "shared" / "real_sheets"


@dataclass
class Score:
    """What was read right and wrong on one sheet, or on several."""

    wanted: int = 0
    missed: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)
    read: int = 0
    labels: bool = True
    number: bool = True
    direction: bool = True

    @property
    def recall(self) -> float:
        """Share of the wanted characters that were read."""
        return 1 - len(self.missed) / self.wanted if self.wanted else 1.0

    @property
    def precision(self) -> float:
        """Share of the characters read that stand there."""
        return 1 - len(self.wrong) / self.read if self.read else 1.0


def truths() -> list[dict[str, Any]]:
    """The records of truth.json; none where the sheets are not beside this checkout."""
    path = FOLDER / "truth.json"
    return json.loads(path.read_text(encoding="utf-8")) if path.is_file() else []


def score(page: Page, truth: dict[str, Any]) -> Score:
    """Sets of characters a sheet, as the README of the sheets asks for; ambiguous ones are neither right nor wrong."""
    wanted = set(truth["characters"])
    unsettled = set(" ".join(truth["ambiguous"]).split())
    read = {one.text for one in characters_on(page)}
    number = sheets_read([page])[0].number
    runs = [one.turned for one in page.readings or () if one.box.top > 0.12 * page.height]
    turned = max(set(runs), key=runs.count) if runs else 0
    return Score(
        wanted=len(wanted),
        missed=sorted(wanted - read),
        wrong=sorted(read - wanted - unsettled),
        read=len(read),
        labels=sorted(label.text for label in labels_on(page)) == sorted(truth["figures"])
        or sorted(label.name for label in labels_on(page)) == sorted(_name(one) for one in truth["figures"]),
        number=(number.n, number.of) == (truth["sheet"]["number"], truth["sheet"]["of"]),
        direction=(360 - turned) % 360 == truth["turn_to_read"],
    )


def _name(label: str) -> str:
    return "".join(c for c in label.removeprefix("FIG.") if c.isalnum()).upper()


def together(scores: list[Score]) -> Score:
    """Several sheets as one."""
    return Score(
        wanted=sum(s.wanted for s in scores),
        missed=[name for s in scores for name in s.missed],
        wrong=[name for s in scores for name in s.wrong],
        read=sum(s.read for s in scores),
        labels=all(s.labels for s in scores),
        number=all(s.number for s in scores),
        direction=all(s.direction for s in scores),
    )
