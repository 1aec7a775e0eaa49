"""The hours of a week as a painter would type them."""

from coach.plan.writing_sections import week_fields


def week_text(week_s: tuple[int, ...]) -> str:
    """Return the hours of a week, such as `mon-fri: 5 h, sat: 3 h`; days without work are left out."""
    return ", ".join(f"{days}: {hours}" for days, hours in week_fields(week_s).items())
