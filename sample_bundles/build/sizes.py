"""Sizes of the invented hose guide, in units of about a millimetre, with the axle at height 0."""

from typing import Final

STAKE_RADIUS: Final = 8.0
POINT_TOP: Final = -318.0
POINT_TIP: Final = -356.0
GROUND: Final = -258.0
PLATE_TOP: Final = -251.0
PLATE_HALF: Final = (62.0, 42.0)
"""Half the foot plate across and along the hose."""
DRAIN_RADIUS: Final = 7.0
DRAIN_AT: Final = 36.0
"""Distance of each drain hole from the stake."""

SOCKET_TOP: Final = -70.0
SOCKET_BOTTOM: Final = -136.0
SOCKET_HALF: Final = (23.0, 17.0)
SOCKET_WALL: Final = 4.0
HINGE: Final = -84.0
"""Height of the hinge pin."""
HINGE_HEAD: Final = 5.5
"""Radius of the hinge pin's head."""
PIN_RADIUS: Final = 3.2
"""Radius of the hinge pin's shank."""
SLOT: Final = (-123.0, -102.0)
"""Bottom and top of the slot for the thumb piece."""
THUMB: Final = (-109.0, -104.0)
"""Bottom and top of the thumb piece at rest."""

ROLLER_HALF: Final = 26.0
RIM: Final = 5.0
"""Thickness of each rim of the roller."""
ROLLER_RADIUS: Final = 42.0
WAIST_RADIUS: Final = 21.0
WAIST_HALF: Final = 7.0
HOSE_RADIUS: Final = 9.0
ARM: Final = (29.0, 34.0)
"""Inner and outer face of each arm."""
ARM_WIDTH: Final = 11.0
"""Half the width of an arm along the hose."""
BAR: Final = (-57.0, -51.0)
"""Bottom and top of the cross bar."""
TONGUE_HALF: Final = 11.0
TONGUE_DEPTH: Final = 6.0
FOOT_RADIUS: Final = 16.5
"""Radius of the round foot of the tilt bracket."""
AXLE_RADIUS: Final = 5.0
CAP_RADIUS: Final = 9.5
CAP: Final = (36.0, 45.0)
