"""Days counted as an office counts them: months, business days, ends of periods. Pure arithmetic on dated data."""

from preflight.days.counting import months_after
from preflight.days.office import Closure, OfficeDays
from preflight.days.periods import Ended, ended
from preflight.days.zones import ClockWasChanged, office_day

__all__ = ["ClockWasChanged", "Closure", "Ended", "OfficeDays", "ended", "months_after", "office_day"]
