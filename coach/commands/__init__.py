"""The commands: each reads its words, wires store, rooms and screens, and returns an exit status."""
