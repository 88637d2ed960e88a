"""Paper and files to print, cut and keep."""
