"""Outcomes and law joined: every check run by itself, then findings, states, verdict."""

from preflight.facts.declared import ReadyFor
from preflight.judging.examining import examine
from preflight.judging.judgement import Examined, Finding, State, Verdict, judge

__all__ = ["Examined", "Finding", "ReadyFor", "State", "Verdict", "examine", "judge"]
