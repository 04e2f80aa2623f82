"""Words after a number that make it a quantity."""

import re

UNITS = frozenset(
    re.findall(
        r"\S+",
        """
        mm cm m km inch inches ft feet um nm pm mil mils hz khz mhz ghz v kv mv volt volts ma amp amps w kw watt
        watts s ms us min minute minutes h hr hrs hour hours sec second seconds day days week weeks month months
        year years time times percent per k pa kpa mpa bar psi g kg mg lb lbs oz l ml gal n db rpm mph kmph kmh
        deg degree degrees ohm ohms pf uf nf wt vol bit bits byte bytes kb mb gb pixel pixels dpi pt points am x
        mmol mol mg/ml m3 kda da bp cfu iu atm torr mbar kn kj ev kev mev hp btu wt% vol% equiv fps gbps mbps lux lumens
        radians meters metres metre millimeters millimetres centimeters centimetres kilometers kilometres grams gram
        kilograms liters litres liter litre gallons ounces pounds yards miles mile cents euros amperes kelvin celsius
        fahrenheit epochs ul nl nmol umol mm2 cm2 m2
        \u03bcm \u03bcl \u03bcg \u03bcs \u03bca \u03bcv \u03bcf \u03bch \u03bcmol \u03c9 k\u03c9 m\u03c9 gbe
        nt fmol pmol mtorr mmhg mw mvar
        % \u00b0 \u00b0c \u00b0f usd dollars people persons pieces units pages
        """,
    )
)
"""In lower case. Not "in" and "a": they are words of every sentence."""
