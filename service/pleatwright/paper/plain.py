"""Text for a terminal."""


def printable(text: str) -> str:
    r"""Return a client's own text on one line, without what a terminal would act on.

    >>> printable("Teasel\x1b[2J")
    'Teasel [2J'
    """
    return "".join(character if character.isprintable() else " " for character in text)
