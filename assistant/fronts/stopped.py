"""That a call was ended from outside."""


class Stopped(BaseException):
    """The system asked the program to end: its window was closed, or the machine goes down. Like `KeyboardInterrupt` no fault
    of the program's, so nothing that catches those takes it."""
