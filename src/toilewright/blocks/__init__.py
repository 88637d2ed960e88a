"""Drafted blocks: our own drafts from body measures, and the choir's concert dress in ten sizes."""
