"""What openwork raises for a user to read; everything else that escapes is a bug."""


class OpenworkError(Exception):
    """A message for the user: subject, value, limit, and what would work."""


class SpecError(OpenworkError, ValueError):
    """The spec file or the command line is wrong; ``faults`` lists everything found at once."""

    def __init__(self, *faults: str) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


class RuleError(OpenworkError):
    """A well-formed spec asks for a ring that cannot be made, or breaks a limit."""
