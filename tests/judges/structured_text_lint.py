"""What no reader of the controller's text checks: names, reserved words, types, and that each timer is called once.

It looks at the tree that others parsed, and at the letters of the text; every complaint is a short sentence.
"""

import re

from plx.model.types import NamedTypeRef

# IEC 61131-3 edition 2, annex C (from memory), and names of standard functions and blocks.
RESERVED = frozenset(
    """ABS ACOS ACTION ADD AND ANY ARRAY ASIN AT ATAN BOOL BY BYTE CAL CALC CALCN CASE CLK CONCAT CONFIGURATION CONSTANT
    COS CTD CTU CTUD CU CD DATE DATE_AND_TIME DINT DIV DO DS DT DWORD ELSE ELSIF EN END END_ACTION END_CASE
    END_CONFIGURATION END_FOR END_FUNCTION END_FUNCTION_BLOCK END_IF END_PROGRAM END_REPEAT END_RESOURCE END_STEP
    END_STRUCT END_TRANSITION END_TYPE END_VAR END_WHILE ENO EQ ET EXIT EXP EXPT FALSE F_EDGE F_TRIG FIND FOR FROM
    FUNCTION FUNCTION_BLOCK GE GT IF IN INITIAL_STEP INSERT INT INTERVAL JMP LD LE LEFT LEN LIMIT LINT LN LOG LREAL LT
    LWORD MAX MID MIN MOD MOVE MUL MUX NE NEG NOT OF ON OR PRIORITY PROGRAM PT PV Q Q1 QD QU READ_ONLY READ_WRITE REAL
    RELEASE REPEAT REPLACE RESOURCE RET RETAIN RETURN RIGHT ROL ROR RS RTC R_EDGE R_TRIG SEL SEMA SHL SHR SIN SINGLE
    SINT SQRT SR ST STEP STRING STRUCT SUB TAN TASK THEN TIME TIME_OF_DAY TO TOD TOF TON TP TRANSITION TRUE TYPE UDINT
    UINT ULINT UNTIL USINT VAR VAR_ACCESS VAR_EXTERNAL VAR_GLOBAL VAR_INPUT VAR_IN_OUT VAR_OUTPUT WHILE WITH WORD XOR
    """.split()
)
_NAME = re.compile(r"(in|out|cfg|val|ok|hold|on|tmr)(_[a-z0-9]+)+", re.IGNORECASE)
_LONGEST = 120  # letters in a line
_LOGIC, _COMPARE, _SUM = {"AND", "OR"}, {"GE", "LE", "GT", "LT", "EQ", "NE"}, {"ADD", "SUB", "MUL", "DIV"}
_BLOCKS = ("input_vars", "output_vars", "constant_vars", "static_vars")


def complaints(text, pou):
    """All that is wrong with a text and the program that it was parsed to."""
    return [*_letters(text), *_Checked(pou).found]


def _letters(text):
    for number, line in enumerate(text.splitlines(), start=1):
        if not line.isascii() or len(line) > _LONGEST:
            yield f"line {number} is too long or not ASCII"
        bare = re.sub(r"\(\*.*?\*\)", "", line)
        if "(*" in bare or "*)" in bare or line.count("(*") > 1 or "//" in line:
            yield f"line {number} has a comment that does not end on it, or another one"
        if ";;" in bare or re.search(r"\d\.\d|T#(?!\d+ms\b)", bare):
            yield f"line {number} has an empty statement, a fraction or a time that is not in ms"
        if bare.count(":") - bare.count(":=") > 1:
            yield f"line {number} declares more than one variable"


class _Checked:
    def __init__(self, pou):
        self.found, self.types, self.blocks, self.used, self.written, self.called = [], {}, {}, set(), [], []
        for block in _BLOCKS:
            for variable in getattr(pou.interface, block):
                self._declared(variable, block)
        for statement in pou.networks[0].statements:
            self._statement(statement, top=True)
        self._at_the_end()

    def say(self, words):
        self.found.append(words)

    def _declared(self, variable, block):
        name = variable.name
        if name.lower() in map(str.lower, self.types):
            self.say(f"{name} is declared twice")
        if not _NAME.fullmatch(name) or name.upper() in RESERVED or len(name) > 40:
            self.say(f"{name} is no name that every reader takes")
        named = isinstance(variable.data_type, NamedTypeRef)
        kind = variable.data_type.name if named else variable.data_type.type.value
        self.types[name], self.blocks[name] = kind, block
        value = variable.initial_value
        if kind not in ("BOOL", "DINT", "TON"):
            self.say(f"{name} is of the type {kind}")
        if kind == "BOOL" and value not in ("TRUE", "FALSE") or kind == "DINT" and not _is_dint(value):
            self.say(f"{name} begins with {value}")
        if block in ("input_vars", "output_vars", "static_vars") and value not in (None, "FALSE", "0"):
            self.say(f"{name} does not begin with nothing")

    def _statement(self, statement, *, top):
        if statement.kind == "assignment":
            self.written.append(statement.target.name)
            kind = self._type(statement.value)
            if self.types.get(statement.target.name) != kind:
                self.say(f"{statement.target.name} gets a {kind}")
        elif statement.kind == "fb_invocation":
            self._call(statement, top=top)
        elif statement.kind == "if":
            if self._type(statement.if_branch.condition) != "BOOL" or not statement.if_branch.body:
                self.say("an IF that asks for no BOOL, or does nothing")
            for each in statement.if_branch.body:
                self._statement(each, top=False)

    def _call(self, statement, *, top):
        name = statement.instance_name
        if not top or self.types.get(name) != "TON" or name in self.called:
            self.say(f"{name} is called inside an IF, more than once, or is no TON")
        self.called.append(name)
        if set(statement.inputs) != {"IN", "PT"} or self._type(statement.inputs["IN"]) != "BOOL":
            self.say(f"{name} is called with other inputs than a BOOL and a time")
        elif statement.inputs["PT"].kind != "literal" or self._type(statement.inputs["PT"]) != "TIME":
            self.say(f"{name} has a time that is not fixed")

    def _type(self, expression):
        """The type of an expression; a complaint where its parts do not go together."""
        kind = expression.kind
        if kind == "literal":
            if expression.data_type.type.value == "DINT" and not _is_dint(expression.value):
                self.say(f"{expression.value} is no 32-bit number")
            return expression.data_type.type.value
        if kind == "variable_ref":
            return self._read(expression.name)
        if kind == "member_access":
            name = expression.struct.name
            if expression.member != "Q" or self._read(name) != "TON" or name not in self.called:
                self.say(f"{name}.{expression.member} is asked for before its call, or is no timer's Q")
            return "BOOL"
        if kind == "unary":
            return self._same(expression, [expression.operand], "BOOL" if expression.op.value == "NOT" else "DINT")
        wanted = "BOOL" if expression.op.value in _LOGIC else "DINT"
        self._same(expression, [expression.left, expression.right], wanted)
        return "DINT" if expression.op.value in _SUM else "BOOL"

    def _same(self, expression, parts, wanted):
        if any(self._type(part) != wanted for part in parts):
            self.say(f"{expression.op.value} is used on what is no {wanted}")
        return wanted

    def _read(self, name):
        self.used.add(name)
        if name not in self.types:
            self.say(f"{name} is not declared")
        return self.types.get(name)

    def _at_the_end(self):
        for name in self.written:
            if self.blocks.get(name) not in ("output_vars", "static_vars"):
                self.say(f"{name} is written, though it comes from outside or stays as it is")
        for name, block in self.blocks.items():
            if block == "output_vars" or name.startswith("on_"):
                if self.written.count(name) != 1:
                    self.say(f"{name} is not written exactly once")
            elif name not in self.used:
                self.say(f"{name} is declared and never used")
        for name, kind in self.types.items():
            if kind == "TON" and name not in self.called:
                self.say(f"{name} is never called")


def _is_dint(value):
    return value is not None and re.fullmatch(r"-?\d+", value) is not None and -(2**31) <= int(value) < 2**31
