"""The command line: the only part that prints or asks."""
