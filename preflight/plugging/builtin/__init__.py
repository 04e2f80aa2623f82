"""What comes with the program, offered through the same hooks as a stranger's plug-in."""
