"""A span of time in words."""


def span(ms: int) -> str:
    """Return a time in words such as "45 s", "12 min" or "3 h 05 min"; whole minutes, cut off."""
    minutes = ms // 60_000
    if minutes == 0:
        return f"{ms // 1000} s"
    hours, minutes = divmod(minutes, 60)
    if minutes == 0:
        return f"{hours} h"
    return f"{hours} h {minutes:02} min" if hours else f"{minutes} min"
