"""Wrong copies of the controller's text: each differs from the right one in one sign, number, name or statement."""

import re

from judges.structured_text import bridged, with_declaration, with_statement

_SWAPS = (
    *((r">=", ">"), (r"<=", "<"), (r">=", "<="), (r"<=", ">="), (r"\bAND\b", "OR"), (r"\bOR\b", "AND")),
    *((r"\bNOT ", ""), (r":= (?=on_)", ":= NOT "), (r" - ", " + "), (r"\* ", "/ "), (r"\b250\b", "251")),
    *((r"/ 10\b", "/ 11"), (r"\bval_bank_25_mv\b(?! :=)", "in_bank_mv"), (r"\bcfg_on_", "cfg_off_")),
    *((r"\bcfg_off_", "cfg_on_"), (r"\bcfg_least_", "cfg_most_"), (r"\.Q\b", ".Q AND FALSE")),
)
_DELAY, _NUMBER, _START = re.compile(r"T#(\d+)ms"), re.compile(r"(cfg_\w+ : DINT := )(-?\d+)"), re.compile(r"FALSE;")


def statements_of(text):
    """Each statement's first line, counted from 1, and its source."""
    rows, found = text.splitlines(), []
    for line in bridged(text)[1]:
        end = "END_IF;" if rows[line - 1].startswith("IF ") else ";"
        last = next(at for at in range(line - 1, len(rows)) if rows[at].rstrip().endswith(end))
        found.append((line, "\n".join(rows[line - 1 : last + 1])))
    return found


def mutants_of(text):
    """Pairs of words and what makes the wrong program, in the order of the text."""
    for line in text.splitlines():
        bare = re.sub(r"\(\*.*?\*\)", "", line).strip()
        if match := _NUMBER.match(bare):
            for step in (-1, 1):
                yield _declared(text, f"{match[1]}{int(match[2]) + step};")
        if bare.startswith(("out_", "hold_")) and _START.search(bare) and ": BOOL" in bare:
            yield _declared(text, bare.replace("FALSE", "TRUE"))
    for line, source in statements_of(text):
        yield _stated(text, line, "")
        for pattern, other in _SWAPS:
            for match in re.finditer(pattern, source):
                yield _stated(text, line, source[: match.start()] + other + source[match.end() :])
        for match in _DELAY.finditer(source):
            for ms in (int(match[1]) + 1, int(match[1]) - 100):
                yield _stated(text, line, source[: match.start()] + f"T#{ms}ms" + source[match.end() :])


def _declared(text, source):
    return source, lambda: with_declaration(text, source)


def _stated(text, line, source):
    return f"line {line}: {source or 'left out'}", lambda: with_statement(text, line, source)
