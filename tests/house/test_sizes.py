"""Functions, modules and lines stay short enough to read."""

import ast
import io
import tokenize

from house.sources import ROOT, complaints_in, modules, project_files

MOST_FUNCTION_LINES = 30
MOST_MODULE_LINES = 450
MOST_COLUMNS = 120
_NO_CODE = (
    tokenize.COMMENT,
    tokenize.NL,
    tokenize.NEWLINE,
    tokenize.INDENT,
    tokenize.DEDENT,
    tokenize.ENCODING,
    tokenize.ENDMARKER,
)


def code_lines(source):
    """Numbers of all lines that hold code."""
    found = set()
    for token in tokenize.generate_tokens(io.StringIO(source).readline):
        if token.type not in _NO_CODE:
            found.update(range(token.start[0], token.end[0] + 1))
    return found


def long_functions(source):
    """Functions whose body, without docstring, comments and empty lines, is too long."""
    code, found = code_lines(source), []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            body = node.body[1:] if ast.get_docstring(node) else node.body
            length = len(code & set(range(body[0].lineno, node.end_lineno + 1))) if body else 0
            if length > MOST_FUNCTION_LINES:
                found.append(f"{node.name}, line {node.lineno}: {length} lines of code")
    return found


def long_lines(source):
    """Numbers of the lines that are too wide."""
    return [number for number, line in enumerate(source.splitlines(), start=1) if len(line) > MOST_COLUMNS]


def test_functions_and_modules_are_short():
    names = [str(path.relative_to(ROOT)) for _, path in modules()]
    assert complaints_in(long_functions, names) == {}
    assert complaints_in(lambda source: len(source.splitlines()) > MOST_MODULE_LINES, names) == {}


def test_lines_are_short():
    names = [name for name in project_files() if name.endswith(".py") or name.startswith(".ci/")]
    assert complaints_in(long_lines, names) == {}


def test_a_long_function_is_named():
    lines = "".join(f"    a = {n}\n" for n in range(MOST_FUNCTION_LINES))
    assert long_functions(f"def f():\n    '''Doc.\n\n    More.\n    '''\n\n    # why\n{lines}") == []
    too_long = f"f, line 1: {MOST_FUNCTION_LINES + 2} lines of code"
    assert long_functions(f"def f():\n{lines}    return (\n        a)\n") == [too_long]


def test_a_wide_line_is_named():
    assert long_lines("a\n" + "Ω" * MOST_COLUMNS + "\n" + "x" * (MOST_COLUMNS + 1)) == [3]
