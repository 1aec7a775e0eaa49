"""All that touches disk, database and clock."""
