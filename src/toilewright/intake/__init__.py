"""Pattern files of all kinds, read: from strokes on pages to named pieces at the seam line."""
