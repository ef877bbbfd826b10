"""What each kind of drive says of itself, one module a kind; `part.KINDS` lists them."""

from functools import cache


class Kind:
    """One kind of drive: its fields, which of them are asked for, and the drive that they make."""

    name = ""  # as saved, and as the reader chooses it
    noun = ""  # in a sentence, with its article
    fields = object  # the class that declares its fields; plain, since only the part of all of them is a model
    needed = ()  # fields that must be given
    first_too = ()  # fields asked for at once beside those: other ways to say one of them, and what guards the rotor
    borrowed = ()  # fields that play a part though another kind declares them
    mended_in = {}  # what its drive complains of, unless a field is titled so, and the field where it is mended
    said_too_by = {}  # a quantity of its drive, and the fields that say the same in another way

    def needs(self, given):
        """Fields that must be given, for the values given by field name."""
        return self.needed

    def first(self, given):
        """Fields that a first answer needs, for the values given by field name."""
        return (*self.needs(given), *self.first_too)

    def asks(self, given):
        """All fields that play a part beside those of every drive, for the values given by field name."""
        return (*own_fields(self.fields), *self.borrowed)

    def to_drive(self, part):
        """The drive, for the physics, of a part that is complete for this kind."""
        raise NotImplementedError

    def assumed_besides(self, part):
        """What is assumed though no field says so: pairs of words and whether they hold."""
        return ()

    def cautions(self, part, drive):
        """What can hurt with this kind besides running away: sentences in the reader's units, some may be empty."""
        return ()

    def fields_for(self, part, values):
        """Fields that say some of its drive's quantities anew; those that said the same are emptied."""
        return values | {name: None for value in values for name in self.said_too_by.get(value, ())}


@cache
def own_fields(fields):
    """Names of the fields that a class declares, those of its bases first."""
    return tuple(name for base in reversed(fields.__mro__) for name in vars(base).get("__annotations__", ()))
