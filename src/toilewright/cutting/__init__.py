"""From the seam line to what is cut: allowances."""
