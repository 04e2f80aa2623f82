"""To which matter a paper belongs: its title, and which papers are versions of one."""
