"""How many there are of something, in words."""


def counted(number: int, noun: str) -> str:
    """A number before its noun, which gets an s unless there is just one: "1 sheet", "2 sheets".

    Args:
        number: how many there are.
        noun: what one of them is called.

    Returns:
        Both, as they stand in a sentence.
    """
    return f"{number} {noun}{'' if number == 1 else 's'}"


def often(number: int) -> str:
    """How often something is done: "once", "2 times"."""
    return "once" if number == 1 else counted(number, "time")
