"""The controller's text read and run by others: blark parses it, plx-controls executes what it read.

Neither reads the other's programs, so `_bridge` hands the tree of the one over to the other, node by node: it knows no
more than the few words that our text uses, and fails on any other. Timers, latches and arithmetic are theirs.
"""

import re
from functools import cache, singledispatch

from blark import transform as tf
from blark.parse import parse_source_code
from plx.model.expressions import BinaryExpr, BinaryOp, LiteralExpr, MemberAccessExpr, UnaryExpr, UnaryOp, VariableRef
from plx.model.pou import POU, Network, POUInterface, POUType
from plx.model.statements import Assignment, FBInvocation, IfBranch, IfStatement
from plx.model.types import NamedTypeRef, PrimitiveType, PrimitiveTypeRef
from plx.model.variables import Variable
from plx.simulate import simulate

_OPERATORS = {
    ">=": "GE",
    "<=": "LE",
    ">": "GT",
    "<": "LT",
    "=": "EQ",
    "<>": "NE",
    "AND": "AND",
    "OR": "OR",
    "+": "ADD",
    "-": "SUB",
    "*": "MUL",
    "/": "DIV",
}
_BLOCKS = {"InputDeclarations": "input_vars", "OutputDeclarations": "output_vars"}


@cache
def parsed(text):
    """The one program of a text as blark's tree, refused when it is no Structured Text."""
    result = parse_source_code(text)
    if result.exception:
        raise result.exception
    (program,) = result.transform().items
    return program


@cache
def bridged(text):
    """The same as a program of plx-controls, and the line on which each of its statements stands."""
    program = parsed(text)
    blocks = {"input_vars": [], "output_vars": [], "static_vars": [], "constant_vars": []}
    for block in program.declarations:
        kind = _BLOCKS.get(type(block).__name__) or ("constant_vars" if block.attrs is not None else "static_vars")
        blocks[kind] += [_variable(each) for each in block.items]
    statements = program.body.statements
    body = [_bridge(each) for each in statements]
    pou = POU(
        pou_type=POUType.PROGRAM,
        name=str(program.name),
        interface=POUInterface(**blocks),
        networks=[Network(statements=body)],
    )
    return pou, [each.meta.line for each in statements]


def with_statement(text, line, source):
    """The program of a text in which the statement that begins on a line is another, or none; only it is parsed."""
    pou, lines = bridged(text)
    at, body = lines.index(line), list(pou.networks[0].statements)
    body[at : at + 1] = bridged(f"PROGRAM one\n{source}\nEND_PROGRAM\n")[0].networks[0].statements if source else []
    return pou.model_copy(update={"networks": [Network.model_construct(statements=body)]})


def with_declaration(text, source):
    """The program of a text in which one variable begins with another value."""
    pou, _ = bridged(text)
    name, _, value = (words.strip() for words in re.match(r"(\w+) : (\w+) := (.*);", source).groups())
    blocks = {
        block: [each.model_copy(update={"initial_value": value}) if each.name == name else each for each in variables]
        for block, variables in pou.interface
    }
    return pou.model_copy(update={"interface": POUInterface.model_construct(**blocks)})


class Run:
    """A program from the moment at which it is switched on, by plx-controls."""

    def __init__(self, pou, scan_ms):
        self._context = simulate(pou, scan_period_ms=scan_ms)
        self._outputs = [variable.name for variable in pou.interface.output_vars]

    @property
    def outputs(self):
        """What it gives, by name of its variables."""
        return {name: getattr(self._context, name) for name in self._outputs}

    def scan(self, inputs):
        """One scan with its inputs by name of their variables."""
        for name, value in inputs.items():
            setattr(self._context, name, value)
        self._context.scan()
        return self.outputs


def _variable(declared):
    (name,) = declared.variables
    kind, value = str(declared.init.spec.type), declared.init.value
    primitive = kind in PrimitiveType.__members__
    return Variable(
        name=str(name.variable.name),
        data_type=PrimitiveTypeRef(type=PrimitiveType[kind]) if primitive else NamedTypeRef(name=kind),
        initial_value=None if value is None else _literal(value),
    )


def _literal(value):
    """A number or a truth as it is written, a minus before it too."""
    if type(value).__name__ == "UnaryOperation":
        return f"{value.op}{_literal(value.expr)}"
    return str(value.value)


@singledispatch
def _bridge(tree):
    raise TypeError(f"the text uses {type(tree).__name__}, which the bridge does not know")


@_bridge.register
def _(tree: tf.AssignmentStatement):
    (target,) = tree.variables
    return Assignment(target=_bridge(target), value=_bridge(tree.expression))


@_bridge.register
def _(tree: tf.FunctionCallStatement):
    inputs = {str(each.name.name): _bridge(each.value) for each in tree.parameters}
    return FBInvocation(instance_name=str(tree.name.name), fb_type="TON", inputs=inputs)


@_bridge.register
def _(tree: tf.IfStatement):
    assert not tree.else_ifs and tree.else_clause is None
    body = [_bridge(each) for each in tree.statements.statements]
    return IfStatement(if_branch=IfBranch(condition=_bridge(tree.if_expression), body=body))


@_bridge.register
def _(tree: tf.BinaryOperation):
    return BinaryExpr(op=BinaryOp[_OPERATORS[str(tree.op)]], left=_bridge(tree.left), right=_bridge(tree.right))


@_bridge.register
def _(tree: tf.UnaryOperation):
    return UnaryExpr(op={"NOT": UnaryOp.NOT, "-": UnaryOp.NEG}[str(tree.op)], operand=_bridge(tree.expr))


@_bridge.register
def _(tree: tf.ParenthesizedExpression):
    return _bridge(tree.expr)


@_bridge.register
def _(tree: tf.SimpleVariable):
    return VariableRef(name=str(tree.name))


@_bridge.register
def _(tree: tf.MultiElementVariable):
    (field,) = tree.elements
    return MemberAccessExpr(struct=_bridge(tree.name), member=str(field.field.name))


@_bridge.register
def _(tree: tf.Integer):
    return LiteralExpr(value=str(tree.value), data_type=PrimitiveTypeRef(type=PrimitiveType.DINT))


@_bridge.register
def _(tree: tf.Boolean):
    return LiteralExpr(value=str(tree.value), data_type=PrimitiveTypeRef(type=PrimitiveType.BOOL))


@_bridge.register
def _(tree: tf.Duration):
    assert (tree.days, tree.hours, tree.minutes, tree.seconds, tree.negative) == (None, None, None, None, False)
    return LiteralExpr(value=f"T#{tree.milliseconds}ms", data_type=PrimitiveTypeRef(type=PrimitiveType.TIME))
