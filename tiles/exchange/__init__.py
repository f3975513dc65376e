"""In and out: records as files."""
