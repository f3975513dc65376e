"""Trials that were planned and fired: what each changed, and what its outcome is worth."""
