"""What a calculation says when it is asked outside its range."""


class OutOfRange(ValueError):
    """A reading outside a calculation's range. Its text is a sentence that can be spoken."""


def check(what: str, value: float, low: float, high: float, unit: str = "") -> None:
    """Refuse a value outside `low` to `high`, both allowed, and anything that is no number.

    Raises:
        OutOfRange: "The vacuum is 31 inches: it must be 0 to 29.9."
    """
    if not low <= value <= high:
        unit = f" {unit}" if unit else ""
        raise OutOfRange(f"{what} is {value:.4g}{unit}. It must be between {low:.4g} and {high:.4g}.")
