"""The new commission: questions one at a time, and the plan that grows from their answers."""
