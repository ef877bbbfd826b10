"""What the year of each kind of drive asks for, one module a kind; `part.YEAR_KINDS` lists them."""

from statorbook.job.parts.drive.kind import own_fields


class YearKind:
    """The year of one kind of drive: its fields, which of them are asked for, and the log that goes with them."""

    drive = ""  # the kind of drive, as the job's drive names it
    fields = object  # the class that declares its fields; plain, since only the part of all of them is a model

    def asks(self, given):
        """All fields that play a part, for the values given by field name."""
        return own_fields(self.fields)

    def first(self, given):
        """Fields that a first answer needs, for the values given by field name."""
        return self.asks(given)

    def log(self, given):
        """Name of the log in which its readings are typed, for the values given; "" when the fields are enough."""
        return ""

    def missing(self, given):
        """Fields without which there is no year, for the values given; none when the log alone is enough."""
        return ()

    def complain(self, part):
        """Refuse fields that contradict each other; a part that is not begun is never refused."""
