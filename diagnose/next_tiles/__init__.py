"""The next tiles to fire: which single changes would tell the likeliest causes apart."""
