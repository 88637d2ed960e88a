"""One module for each screen: what it shows, and what can be changed there."""
