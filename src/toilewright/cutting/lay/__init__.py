"""How the pieces lie on the cloth, and the proof that they can be cut so."""
