"""Words of the controller's text: comments of one line each, in plain ASCII."""

from textwrap import wrap
from unicodedata import normalize

WIDTH = 96  # letters in a line of the text, but for a rule's latch
_SPELT = str.maketrans(
    {
        "°": " deg ",
        "Ω": " ohm",
        "µ": "u",
        "²": "2",
        "×": "x",
        "±": "+-",
        "≥": ">=",
        "≤": "<=",
        "…": "...",
        "–": "-",
        "−": "-",
        "“": '"',
        "”": '"',
        "’": "'",
    }
)
_ENDS = ("(*", "*)", "//", "$", "{", "}")  # what begins or ends a comment, or is more than a letter, in some readers


def ascii_words(words):
    """Words as they may stand in a comment of the text: ASCII, one line, nothing that begins or ends a comment."""
    plain = normalize("NFKD", words.translate(_SPELT)).encode("ascii", "ignore").decode()
    plain = "".join(letter if letter.isprintable() else " " for letter in plain)
    for sign in _ENDS:
        plain = plain.replace(sign, " ")
    return " ".join(plain.split())


def comment(words):
    """Comments of one line each: some readers take none that runs over several."""
    return [f"(* {line} *)" for line in wrap(ascii_words(words), WIDTH - 6)]
