"""How the description goes through the figures: one a paragraph, in the order of their numbers."""

from __future__ import annotations

from preflight.checks.api import NoLimits, Outcomes, Seen, check
from preflight.checks.specification import only_if_read, place
from preflight.papers import Filing
from preflight.papers.specification.taken_up import mixed, out_of_turn, taken_up


@check("figures-in-turn", of=Filing, takes=NoLimits, sorts=("mixed", "order"), says=("figure", "before"))
def figures_in_turn(filing: Filing, _: NoLimits) -> Outcomes:
    """Follow the figures that the description takes up ("FIG. 2 shows", "Turning to FIG. 3"); mentions do not count."""
    found = yield from only_if_read(filing)
    if found is None:
        return
    told = taken_up(found.described)
    faults = [
        *(("mixed", one.second, one.first, one.spot) for one in mixed(found.described, told)),
        *(("order", one.figure, one.before, one.spot) for one in out_of_turn(found.described, told)),
    ]
    for sort, figure, before, spot in faults:
        yield Seen(
            what=f"FIG. {figure}",
            held=False,
            measured=f"FIG. {before}",
            sort=sort,
            at=place(spot),
            words={"figure": f"FIG. {figure}", "before": f"FIG. {before}"},
        )
    if told and not faults:
        yield Seen(what="figures", held=True, measured="in turn", at=place(told[0].spot))
