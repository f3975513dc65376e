"""What the user's own tiles say of one failed tile."""
