"""A mutant put into the running library: the changed functions' code is exchanged, everything else stays."""

import functools
import gc
import sys
from types import CodeType, FunctionType

_CACHED = type(functools.cache(len))


class CannotSwap(Exception):
    """What was changed runs when the module is loaded, so only a new process can see it."""


def _parts(code):
    return [each for each in code.co_consts if isinstance(each, CodeType)]


def _without_parts(code):
    """What a code object does itself, wherever it stands in the file."""
    own = tuple(each for each in code.co_consts if not isinstance(each, CodeType))
    names = (code.co_names, code.co_varnames, code.co_freevars, code.co_cellvars)
    return code.co_code, tuple((type(each), repr(each)) for each in own), names, code.co_exceptiontable


def _is_function(code):
    return code.co_name != "<module>" and bool(code.co_flags & 0x2)  # CO_NEWLOCALS: neither module nor class body


def _changed(old, new):
    """Pairs of code, outermost function first, on the way to the innermost that differs."""
    pairs = []
    if _without_parts(old) != _without_parts(new) or len(_parts(old)) != len(_parts(new)):
        return [(old, new)]
    for one, other in zip(_parts(old), _parts(new)):
        if inner := _changed(one, other):
            pairs += [(one, other), *[pair for pair in inner if pair[0] is not one]]
    return pairs


def changed_functions(path, old_source, new_source):
    """The functions that differ, as (old code, new code) from the outermost in; the last one is where the change is."""
    old, new = (compile(source, str(path), "exec", dont_inherit=True) for source in (old_source, new_source))
    pairs = _changed(old, new)
    functions = [pair for pair in pairs if _is_function(pair[0])]
    if not pairs or pairs[-1] not in functions:
        raise CannotSwap
    return functions


def key_of(code):
    """What a function is called by, here and in what was learned."""
    return code.co_filename, code.co_qualname


def functions_by_key(folder):
    """All functions of the library that are there by now, with every copy that a decorator keeps."""
    found = {}
    for each in gc.get_objects():
        if type(each) is FunctionType and each.__code__.co_filename.startswith(folder):
            code = each.__code__
            found.setdefault((*key_of(code), code.co_firstlineno), []).append(each)
    return found


def swap(pairs, functions):
    """Exchange the code of all these functions."""
    swapped = False
    for old, new in pairs:
        for function in functions.get((*key_of(old), old.co_firstlineno), ()):
            if function.__code__.co_freevars != new.co_freevars:
                raise CannotSwap
            function.__code__ = new
            swapped = True
    if not swapped:
        raise CannotSwap


def forget_caches(folders):
    """A function that empties every functools cache of the library and the tests."""
    known, modules = [], 0

    def forget():
        nonlocal known, modules
        if modules != len(sys.modules):  # looking through all objects takes a tenth of a second
            found = [each for each in gc.get_objects() if type(each) is _CACHED]
            codes = [(each, getattr(each.__wrapped__, "__code__", None)) for each in found]
            known = [each for each, code in codes if code is not None and code.co_filename.startswith(folders)]
            modules = len(sys.modules)
        for each in known:
            each.cache_clear()

    return forget
