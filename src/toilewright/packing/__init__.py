"""Plane shapes packed into a strip: the search behind a lay. Knows nothing of cloth."""
