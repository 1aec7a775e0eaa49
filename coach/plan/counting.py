"""A number with what it counts."""


def counted(number: int, one: str, several: str = "") -> str:
    """Return a number with its noun: "1 run", "2 runs"; `several` where the noun takes more than an s."""
    return f"{number} {one if number == 1 else several or one + 's'}"
