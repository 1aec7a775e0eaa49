"""The two looks of the coach: neutral greys, so that the screen does not colour the painter's eye.

Source:
    Neutral surrounds for judging colour: ISO 3664 (from memory).
"""

from textual.theme import Theme

STUDIO_DARK = Theme(
    name="studio-dark",
    primary="#c8c8c8",
    secondary="#a8a8a8",
    accent="#e8e8e8",
    warning="#e8e8e8",
    error="#e8e8e8",
    success="#c8c8c8",
    foreground="#d8d8d8",
    background="#181818",
    surface="#202020",
    panel="#2a2a2a",
    dark=True,
    variables={"time": "#d8d8d8", "quiet": "#a0a0a0"},
)

STUDIO_LIGHT = Theme(
    name="studio-light",
    primary="#303030",
    secondary="#505050",
    accent="#101010",
    warning="#101010",
    error="#101010",
    success="#404040",
    foreground="#202020",
    background="#f2f2f2",
    surface="#e8e8e8",
    panel="#dcdcdc",
    dark=False,
    variables={"time": "#202020", "quiet": "#585858"},
)
