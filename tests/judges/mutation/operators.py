"""What is changed: the telling ones of cosmic-ray's replacements, one a place, and a few of our own."""

import ast

import parso
from cosmic_ray.operators import binary_operator_replacement as binary
from cosmic_ray.operators import boolean_replacer, break_continue
from cosmic_ray.operators import comparison_operator_replacement as comparison
from cosmic_ray.operators import unary_operator_replacement as unary
from cosmic_ray.operators.operator import Operator

_ARITHMETIC = {
    "Add": "Sub",
    "Sub": "Add",
    "Mul": "Div",
    "Div": "Mul",
    "FloorDiv": "Mul",
    "Mod": "Mul",
    "Pow": "Mul",
    "BitOr": "BitAnd",
    "BitAnd": "BitOr",
    "BitXor": "BitAnd",
    "LShift": "RShift",
    "RShift": "LShift",
}
# Against a number the edge is asked for; between two quantities, which are never quite equal, the direction.
_EDGE = {"Lt": "LtE", "LtE": "Lt", "Gt": "GtE", "GtE": "Gt"}
_DIRECTION = {"Lt": "GtE", "LtE": "Gt", "Gt": "LtE", "GtE": "Lt"}
_EQUAL = {"Eq": "NotEq", "NotEq": "Eq", "Is": "IsNot", "IsNot": "Is"}
_BINARY_PARENTS = {"arith_expr", "term", "power", "expr", "and_expr", "xor_expr", "shift_expr", "expr_stmt"}


class _OneOfEach(Operator):
    """An operator with the first replacement that it has for a place, and only where `fits` says so."""

    def __init__(self, operator, fits=lambda node: True):
        self._operator, self._fits = operator, fits

    def mutation_positions(self, node):
        places = self._operator.mutation_positions(node) if self._fits(node) else ()
        return list(dict.fromkeys(places))

    def mutate(self, node, index):
        return self._operator.mutate(node, index)

    @classmethod
    def examples(cls):
        return ()


class _Rewrite(Operator):
    """An operator of our own: a child of some nodes is written anew."""

    def mutation_positions(self, node):
        return [(node.children[at].start_pos, node.children[at].end_pos) for at in self._children(node)]

    def mutate(self, node, index):
        at = self._children(node)[index]
        old = node.children[at]
        node.children[at] = parso.parse(f" {self._written(old.get_code(include_prefix=False))}")
        return node

    @classmethod
    def examples(cls):
        return ()


class NegateCondition(_Rewrite):
    """The opposite of what an if, elif, while, `… if … else …` or a comprehension asks."""

    def _children(self, node):
        if node.type in ("if_stmt", "while_stmt"):
            asked = [at + 1 for at, child in enumerate(node.children) if child in ("if", "elif", "while")]
        elif node.type == "ternary" or (node.type == "test" and len(node.children) == 5):
            asked = [2]
        elif node.type == "comp_if":
            asked = [1]
        else:
            asked = []
        return [at for at in asked if not self._is_mutated_anyway(node.children[at])]

    @staticmethod
    def _is_mutated_anyway(condition):
        return condition.type == "not_test" or (
            condition.type == "comparison"
            and len(condition.children) == 3
            and not (_is_against_a_number(condition) and condition.children[1] in ("<", "<=", ">", ">="))
        )

    @staticmethod
    def _written(code):
        return f"not ({code})"


class TurnMembership(_Rewrite):
    """`in` to `not in` and back."""

    def _children(self, node):
        if node.type != "comparison":
            return []
        return [at for at in range(1, len(node.children), 2) if self._operator(node.children[at]) in ("in", "not in")]

    @staticmethod
    def _operator(node):
        return " ".join(node.get_code().split())

    @staticmethod
    def _written(code):
        return "in" if code.startswith("not") else "not in"


class ReturnNothing(_Rewrite):
    """None instead of what is returned."""

    def _children(self, node):
        return [1] if node.type == "return_stmt" and node.children[1].get_code().strip() != "None" else []

    @staticmethod
    def _written(code):
        return "None"


class ChangeNumber(Operator):
    """One more; a tenth more where one more would be lost among the digits."""

    def mutation_positions(self, node):
        return [(node.start_pos, node.end_pos)] if node.type == "number" else []

    def mutate(self, node, index):
        value = ast.literal_eval(node.value)
        more = value + 1 if abs(value) < (100 if isinstance(value, int) else 10) else type(value)(value * 11 / 10)
        return parso.python.tree.Number(repr(more), node.start_pos, prefix=node.prefix)

    @classmethod
    def examples(cls):
        return ()


def _is_against_a_number(node):
    sides = [child.children[-1] if child.type == "factor" else child for child in getattr(node, "children", ())]
    return any(side.type == "number" for side in sides)


def _is_between_two(node):
    return node.parent is not None and node.parent.type in _BINARY_PARENTS


def _comparisons(pairs, fits):
    return [_OneOfEach(getattr(comparison, f"ReplaceComparisonOperator_{a}_{b}")(), fits) for a, b in pairs.items()]


def telling():
    """All operators that are used, by name."""
    made = [
        _OneOfEach(getattr(binary, f"ReplaceBinaryOperator_{a}_{b}")(), _is_between_two) for a, b in _ARITHMETIC.items()
    ]
    made += _comparisons(_EDGE, _is_against_a_number)
    made += _comparisons(_DIRECTION, lambda node: not _is_against_a_number(node))
    made += _comparisons(_EQUAL, lambda node: True)
    made += [
        _OneOfEach(operator())
        for operator in (
            unary.ReplaceUnaryOperator_Delete_USub,
            unary.ReplaceUnaryOperator_Delete_Not,
            unary.ReplaceUnaryOperator_Delete_Invert,
            boolean_replacer.ReplaceTrueWithFalse,
            boolean_replacer.ReplaceFalseWithTrue,
            boolean_replacer.ReplaceAndWithOr,
            boolean_replacer.ReplaceOrWithAnd,
            break_continue.ReplaceBreakWithContinue,
            break_continue.ReplaceContinueWithBreak,
        )
    ]
    return [*made, ChangeNumber(), NegateCondition(), TurnMembership(), ReturnNothing()]
