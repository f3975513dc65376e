"""How the shipped glass-property coefficients are fitted to the open measured data."""
