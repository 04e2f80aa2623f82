"""Outcomes and law joined: every check run by itself, then findings, states, what a person accepted, verdict."""

from preflight.facts.declared import ReadyFor
from preflight.judging.examining import examine
from preflight.judging.judgement import judge
from preflight.judging.model import Examined, Finding, State, Verdict, Void
from preflight.judging.reviewing import GRAVE, Review, consequence_of_no, objection, rests_on, review

__all__ = [
    "GRAVE",
    "Examined",
    "Finding",
    "ReadyFor",
    "Review",
    "State",
    "Verdict",
    "Void",
    "consequence_of_no",
    "examine",
    "judge",
    "objection",
    "rests_on",
    "review",
]
