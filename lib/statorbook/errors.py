"""One kind of complaint: a plain sentence that says what, what is allowed, and what to do next."""


class BadInput(ValueError):
    """A value, row or file that cannot be used, said in one sentence for the reader.

    Parameters
    ----------
    given : str
        What was given, in words.
    allowed : str
        What is allowed.
    next_step : str or Instruction
        What to type, measure or do next; what exposes hands to something adds its caution in few words.
    where : str
        The field, row or file that it concerns; may be empty.
    """

    def __init__(self, given, allowed, next_step, *, where=""):
        self.given, self.allowed, self.next_step, self.where = given, allowed, next_step, where
        prefix = f"{where}: " if where else ""
        caution = getattr(next_step, "brief", "")  # duck-typed: `cautions` stands on this module
        step = getattr(next_step, "text", next_step)
        super().__init__(f"{prefix}{given}; {allowed}; {step}. {caution}".rstrip())

    def _render_traceback_(self):
        """Tell IPython to print the sentence alone, without a traceback."""
        return [f"Not usable – {self}"]


def count_of(count, noun):
    """Say how many.

    Parameters
    ----------
    count : int
        How many [-].
    noun : str
        Of what, in the singular.

    Returns
    -------
    str
        Such as "1 cut" or "3 cuts".
    """
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
