"""Values that are worked out once and handed to many: what they are kept by, and that nobody changes them."""

from types import MappingProxyType


def hashable(*given):
    """Lists as tuples, so that what is worked out from them can be kept.

    Parameters
    ----------
    *given : object
        What something is worked out from.

    Returns
    -------
    tuple
        The same, each list as a tuple.
    """
    return tuple(tuple(each) if isinstance(each, list) else each for each in given)


def read_only(found):
    """Let nobody change the dicts of a frozen dataclass: whoever asks for the same is handed the same.

    Parameters
    ----------
    found : object
        A frozen dataclass, changed in place.
    """
    for name, value in vars(found).items():
        if isinstance(value, dict):
            object.__setattr__(found, name, MappingProxyType(value))
