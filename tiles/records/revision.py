"""The revision of the tables this program knows; apart, so that it can be read at no cost."""

REVISION = "0005"
"""The newest step in migrations/versions; a test holds the two together, so that everyday commands
need not load the migration tool."""
