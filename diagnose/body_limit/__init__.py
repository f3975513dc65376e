"""The expansion at which a body starts to craze or to shiver, from its own tiles."""
