"""The docstring contract: numpydoc's own checks of sections, names and order, and what they do not know.

They know nothing of units, of what a body raises, of a dataclass's fields, of pydantic's and of faces.
"""

import ast
import re

from numpydoc.hooks.validate_docstrings import AstValidator
from numpydoc.validate import validate

from house.sources import is_physics
from house.units import NUMBER_TYPE, complaints_about_number, unit_ending

# Sections that few need (ES01, EX01, SA01); a first line may end with a unit and begin with a plural (SS03, SS05), a
# description may begin with a symbol (PR08, RT04).
LEFT_OUT = {"ES01", "EX01", "SA01", "SS03", "SS05", "PR08", "RT04"}
# Modules in which every voltage is the bank's, so that none has to say so again.
ALL_DC = {"bank.battery"}
_NUMBER_CALLS = {"sum", "abs", "len", "float", "int", "min", "max", "round", "sqrt", "gcd", "lcm", "hypot", "sin"}


class Docstring(AstValidator):
    """A docstring beside its syntax tree, for numpydoc's checks."""

    def __init__(self, node, owner=None):
        super().__init__(ast_node=node, filename=".", obj_name=node.name, ancestry=[owner])

    @property
    def signature_parameters(self):
        """Of a dataclass its fields; of a class that inherits its maker whatever it documents."""
        if not self.is_class:
            return super().signature_parameters
        if any("dataclass" in ast.unparse(mark) for mark in self.node.decorator_list):
            return tuple(field.target.id for field in fields_of(self.node))
        made_here = any(method.name == "__init__" for method in methods_of(self.node))
        return super().signature_parameters if made_here else tuple(self.doc_all_parameters)

    @property
    def is_generator_function(self):
        """numpydoc itself sees only a yield that stands right in the body."""
        yields = (node for node in own_nodes(self.node) if isinstance(node, (ast.Yield, ast.YieldFrom)))
        return self.is_function_or_method and any(getattr(node, "value", None) is not None for node in yields)

    @property
    def method_source(self):
        """Read again by numpydoc, to see whether anything is returned."""
        return ast.unparse(self.node)

    def complaints(self):
        """What numpydoc has to say; what is missing altogether comes alone."""
        if not self.raw_doc:
            return ["has no docstring"]
        errors = validate(self.name, lambda obj_name: self)["errors"]
        return first_line(self.raw_doc) + [f"{code}: {words}" for code, words in errors if code not in LEFT_OUT]

    def entries(self, section):
        """The entries of a section as (name, type, description)."""
        return [(name, kind, " ".join(words)) for name, kind, words in self.doc[section]]


def fields_of(node):
    """Declared fields of a class."""
    declared = (each for each in node.body if isinstance(each, ast.AnnAssign))
    return [field for field in declared if "ClassVar" not in ast.unparse(field.annotation)]


def methods_of(node, *, public=False):
    """Functions that stand in a class."""
    methods = [each for each in node.body if isinstance(each, ast.FunctionDef)]
    return [method for method in methods if not (public and method.name.startswith("_"))]


def own_nodes(function):
    """All nodes of a function's body but those of functions and classes inside it."""
    queue = list(function.body)
    while queue:
        node = queue.pop()
        yield node
        if not isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef, ast.Lambda, ast.ClassDef)):
            queue.extend(ast.iter_child_nodes(node))


def first_line(text):
    """The first line is a sentence, or ends with its unit."""
    whole = re.search(r"[.?\]]$", text.strip().splitlines()[0])
    return [] if whole else ["the first line is not one whole sentence"]


def one_line(text):
    """A docstring is one line and no more."""
    return first_line(text) + ([] if len(text.splitlines()) == 1 else ["has one line"])


def bases_in(trees):
    """Names of the base classes of every class, by name."""
    classes = (node for tree in trees for node in ast.walk(tree) if isinstance(node, ast.ClassDef))
    return {node.name: [ast.unparse(base).split(".")[-1] for base in node.bases] for node in classes}


def is_model(name, bases):
    """True for a pydantic model: its fields carry title, unit and limits themselves."""
    return name == "BaseModel" or any(is_model(base, bases) for base in bases.get(name, ()))


def is_property(function):
    """True for property and cached_property."""
    return any(ast.unparse(mark).split(".")[-1] in ("property", "cached_property") for mark in function.decorator_list)


def complaints_about_function(function, owner=None, *, physics=False):
    """What is wrong with the docstring of one function or method on a face."""
    docstring = Docstring(function, owner)
    found = docstring.complaints() + complaints_about_parameters(docstring)
    found += complaints_about_returns(docstring) + complaints_about_raises(docstring, [function])
    kinds = {kind for _, kind, _ in docstring.entries("Returns")}
    if physics and docstring.raw_doc and not kinds <= {"str", "bool"}:
        heads = {line.strip().split(":")[0] for line in docstring.doc["Notes"] if ":" in line}
        found += [f"Notes: no line {word}" for word in ("Equation", "Valid", "Source") if word not in heads]
    return found


def complaints_about_parameters(docstring):
    """The units of all numbers under Parameters."""
    entries = docstring.entries("Parameters")
    numbers = ((name, words) for name, kind, words in entries if NUMBER_TYPE.match(kind))
    return [complaint for name, words in numbers for complaint in complaints_about_number(name, words)]


def complaints_about_returns(docstring):
    """The units of what is returned; and nothing promised that the body does not give."""
    function, found = docstring.node, []
    yields = any(isinstance(node, (ast.Yield, ast.YieldFrom)) for node in own_nodes(function))
    left_to_others = "raise NotImplementedError" in docstring.method_source
    gives = docstring.method_returns_something or yields or left_to_others
    if not gives and (docstring.returns or docstring.yields):
        found.append("returns nothing, yet says so in Returns")
    if "unit" in docstring.signature_parameters:
        return found
    for _, kind, words in docstring.entries("Returns"):
        if NUMBER_TYPE.match(kind) and "bool" not in kind:
            found += complaints_about_number("Returns", words, named_for=function.name)
    return found


def complaints_about_raises(docstring, functions):
    """Every exception raised by name in these bodies stands under Raises."""
    raised = set()
    for node in (node for function in functions for node in own_nodes(function)):
        if isinstance(node, ast.Raise) and node.exc is not None:
            thrown = node.exc.func if isinstance(node.exc, ast.Call) else node.exc
            raised.add(thrown.attr if isinstance(thrown, ast.Attribute) else getattr(thrown, "id", ""))
    listed = {kind for _, kind, _ in docstring.entries("Raises")} | {"NotImplementedError"}
    if "BadInput" in listed:  # its kinds are read as itself
        listed |= {name for name in raised if name.startswith("Bad")}
    return [f"raises {name}, not under Raises" for name in sorted(raised - listed) if name[:1].isupper()]


def complaints_about_property(function):
    """A property, or a method that takes nothing, has one line, which ends with its unit when it gives a number."""
    text = ast.get_docstring(function)
    if not text:
        return ["has no docstring"]
    found = one_line(text)
    gives = any(isinstance(node, ast.Return) and node.value is not None for node in ast.walk(function))
    named = unit_ending(function.name) and (is_property(function) or gives)
    if named or gives_number(function) or re.search(r"\[[^\]]+\]\.?$", text):
        # An Estimate carries its unit with it; only a bare number needs it in the name.
        carrier = None if gives_number(function) else function.name
        found += complaints_about_number(function.name, text, named_for=carrier)
    return found


def gives_number(function):
    """True when a property's last line can only be a number."""
    last = function.body[-1]
    value = last.value if isinstance(last, ast.Return) else None
    if isinstance(value, ast.Call) and isinstance(value.func, ast.Name):
        return value.func.id in _NUMBER_CALLS
    return isinstance(value, ast.BinOp) and not any(
        isinstance(node, (ast.JoinedStr, ast.Tuple, ast.List)) or isinstance(getattr(node, "value", None), str)
        for node in ast.walk(value)
    )


def complaints_about_class(node, bases, *, physics=False):
    """What is wrong with the docstrings of one class on a face and of everything public in it."""
    docstring = Docstring(node)
    if is_model(node.name, bases):
        labelled = {
            field: isinstance(field.value, ast.Call) and len(field.value.args) >= 3 for field in fields_of(node)
        }
        found = [] if docstring.raw_doc else ["has no docstring"]
        found += [f"{field.target.id}: declare it with `labelled`" for field, well in labelled.items() if not well]
    else:
        makers = [method for method in methods_of(node) if method.name in ("__init__", "__post_init__")]
        found = docstring.complaints() + complaints_about_parameters(docstring)
        found += complaints_about_raises(docstring, makers)
    for method in methods_of(node, public=True):
        if is_property(method) or not Docstring(method, node).signature_parameters:
            inner = complaints_about_property(method)
        else:
            inner = complaints_about_function(method, node, physics=physics)
        found += [f"{method.name}: {words}" for words in inner]
    return found


def complaints_about_inside(node, on_face=()):
    """One line on everything that stands on no face: a must for what is public, and for a helper when it has any."""
    public = [node, *(methods_of(node, public=True) if isinstance(node, ast.ClassDef) else ())]
    must, found = () if node.name.startswith("_") else public, []
    for each in ast.walk(node):
        if isinstance(each, (ast.FunctionDef, ast.ClassDef)) and each not in on_face:
            text = ast.get_docstring(each)
            wrong = one_line(text) if text else ["has no docstring"] if each in must else []
            found += [f"{each.name}: {words}" for words in wrong]
    return found


def complaints_about_module(name, tree, bases, face=None):
    """What is wrong with the docstrings of one module; everything stands on the face when none is given."""
    physics = is_physics(name)
    found = [] if ast.get_docstring(tree) else [f"{name}: has no docstring"]
    for node in tree.body:
        if not isinstance(node, (ast.FunctionDef, ast.ClassDef)):
            continue
        if node.name.startswith("_") or (face is not None and node.name not in face):
            inner = complaints_about_inside(node)
        elif isinstance(node, ast.FunctionDef):
            inner = complaints_about_function(node, physics=physics) + complaints_about_inside(node, [node])
        else:
            inner = complaints_about_class(node, bases, physics=physics)
            inner += complaints_about_inside(node, [node, *methods_of(node, public=True)])
        found += [f"{name}.{node.name}, line {node.lineno}: {words}" for words in inner]
    return [words for words in found if name not in ALL_DC or "say rms" not in words]
