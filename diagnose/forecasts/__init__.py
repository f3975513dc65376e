"""What may go wrong with a tile before it is fired."""
