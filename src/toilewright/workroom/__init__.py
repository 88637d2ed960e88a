"""What a dressmaker keeps: bodies, patterns, cloths and makes, with their history, in one database."""
