"""The steps by which the tables of an older store become the newest ones.

A step that changes what of a revision is sealed (see ``seals.py``) seals every row anew.
"""
