"""One report, shown in every form; the only room that formats numbers for people."""

from preflight.reporting.build import build_report
from preflight.reporting.pictured import Pictures, with_pictures
from preflight.reporting.renderer import BUILT_IN_RENDERERS, Renderer
from preflight.reporting.report import Named, Report

__all__ = ["BUILT_IN_RENDERERS", "Named", "Pictures", "Renderer", "Report", "build_report", "with_pictures"]
