"""The parts of a specification: sections, list of figures, claims, abstract, and the place of each word."""
