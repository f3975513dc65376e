"""Own tiles counted side by side: what goes with a fault, and what chance would do."""
