"""The recipe of one make, and everything that follows from it."""
