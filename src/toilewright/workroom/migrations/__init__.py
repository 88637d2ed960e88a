"""The steps by which the tables of an older store become the newest ones."""
