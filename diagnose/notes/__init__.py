"""What a free-text note says, read clause by clause for known phrases."""
