"""The worktable: the whole job in a browser, on her own machine."""
