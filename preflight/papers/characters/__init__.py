"""Reference characters: as drawn on the sheets, as named in the text, and the one held against the other."""
