"""The make: a recipe that says which pattern, which body, which alterations; and the jobs that follow it."""
