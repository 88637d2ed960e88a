"""One module for each step, in order."""
