"""The sentences of the Compare screen, in one place, so that they can be read in one go."""

from typing import Final

ASKS: Final = "do the canvases agree?"

HOW: Final = "One photo of both, exchange them, a second photo from the same spot."
WITHIN: Final = "within minutes, no flash, no glare"
HELPS: Final = "a grey card beside each, or bare margins, help"
MORE_CANVASES: Final = "more than two canvases: two at a time, each beside the next"
NO_PHOTOS: Final = "c names a photo; `photos: FOLDER` in the plan finds the newest."
ONE_PHOTO: Final = "One photo so far: exchange the canvases and take the second."

READING: Final = "The photos are being read."
COMPARING: Final = "The photos are being compared: a few seconds."
NO_ANSWER: Final = "These photos give no answer."

AGREE: Final = "The canvases agree, as far as two photos can tell."
CORNERS: Final = "Put each corner where the canvas ends."
TOO_SMALL: Final = "A larger window shows the photo."
NONE_FOUND: Final = "No canvases were found: put the corners yourself."

WHICH_PAIR: Final = "Which two canvases?"
WHICH_FIRST: Final = "Which is the first photo?"
WHICH_SECOND: Final = "Which is the second photo, with the places exchanged?"
TYPE_IT: Final = "another file: type its name"
FILE_NAME: Final = "name of the photo's file"
WHICH_CANVAS: Final = "On which canvas is it looked at again?"

NO_PASSAGE: Final = "It is no one passage: write a note at the easel."
LANDMARKS: Final = "Come closer with +, and put each point where it is painted."
COMPARE_FIRST: Final = "First compare two photos: c chooses them."
NO_LANDMARKS: Final = "The landmarks agree within 3 mm."
SAME_PHOTO: Final = "Both are the same photo: exchange the canvases and take a second one."
NO_PICTURE: Final = "The photo could not be read."


def is_left(name: str) -> str:
    """Return the question which canvas is where; it is asked once."""
    return f"Does {name} stand on the left in this photo?"


def differ(count: int) -> str:
    """Return the answer in a word or two."""
    return "ALIKE" if not count else f"{count} DIFFERS" if count == 1 else f"{count} DIFFER"


def is_off(canvas: str, steps: float) -> str:
    """Return which canvas leaves the photo: `steps` too light, or too dark where negative."""
    return f"{canvas} is too {'light' if steps > 0 else 'dark'} for the photo."


def marked(passage: str, canvas: str) -> str:
    """Return what was marked for return."""
    return f"Marked on {canvas}: look at {passage} again."


def meant(passage: str) -> str:
    """Return what is told no more."""
    return f"{passage} is meant so; u at the easel takes it back."


def light(ratio: float) -> str:
    """Return how unlike the light of the two places was."""
    if ratio > 0.97:  # noqa: PLR2004  what nobody sees
        return "Both places had the same light."
    return f"One place had {100 * ratio:.0f} % of the light of the other; the exchange takes that out."


def alike(count: int) -> str:
    """Return how many passages do not differ."""
    return f"{count} {'passage agrees' if count == 1 else 'passages agree'}."
