"""The letters that are looked for on a drawing: digits, Latin letters, primes, plain marks."""

import string

PRIMES = "'\u2032\u2019"
MARKS = '.,-()/:;&=+%<>#[]\u00b0"'
ALPHABET = string.digits + string.ascii_letters + PRIMES + MARKS + " "
LEAD_LINES = "-.,/:;<> "
"""What a lead line or a speck beside a numeral is read as."""
