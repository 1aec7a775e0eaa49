"""The two looks of the coach: neutral greys, so that the screen does not colour the painter's eye."""

from textual.theme import Theme

STUDIO_DARK = Theme(
    name="studio-dark",
    primary="#c8c8c8",
    secondary="#a8a8a8",
    accent="#e0c890",
    warning="#e0c890",
    error="#e8a090",
    success="#b8c8a8",
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
    accent="#6a4a00",
    warning="#6a4a00",
    error="#8a2010",
    success="#305020",
    foreground="#202020",
    background="#f2f2f2",
    surface="#e8e8e8",
    panel="#dcdcdc",
    dark=False,
    variables={"time": "#202020", "quiet": "#585858"},
)
