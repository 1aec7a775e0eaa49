"""Edits of a plan: each returns the plan as it would be, or says in one sentence why it cannot be."""
