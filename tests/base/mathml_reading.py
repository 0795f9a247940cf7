"""Reads MathML the way a person does: by what is drawn, blind to the grouping that is not.

Only boxes hold together without brackets: a fraction, a root, an index, a power. Everything else is a row of signs,
read with the usual precedence. A power stands on a single sign or a bracket, or the reader is misled.
"""

import math
from xml.etree import ElementTree

NS = "{http://www.w3.org/1998/Math/MathML}"
NAMED = {"ln": math.log, "lg": math.log10, "sin": math.sin, "cos": math.cos, "tan": math.tan, "arccos": math.acos, "arctan": math.atan, "exp": math.exp, "min": min, "max": max,
         "ceil": math.ceil, "floor": math.floor, "sinc": lambda x: math.sin(math.pi * x) / (math.pi * x) if x else 1.0, "log2": math.log2}  # fmt: skip
SIGNS = {"−": "-", "·": "*", "×": "*", "⋅": "*"}


def read(mathml, values):
    """(left side as text, value of the right side) of an equation."""
    row = signs(ElementTree.fromstring(mathml))
    cut = row.index("=")
    return "".join(map(str, row[:cut])), Reader(row[cut + 1 :], values).whole()


def signs(node):
    """The row of signs that a person sees: texts, and boxes as (kind, children)."""
    tag, children = node.tag.removeprefix(NS), list(node)
    if tag in ("math", "mrow"):
        return [s for child in children for s in signs(child)]
    if tag in ("mfrac", "msup", "msub", "msqrt"):
        return [(tag, children)]
    text = (node.text or "").strip()
    return [] if tag == "mtext" else [SIGNS.get(text, text)]


class Reader:
    """Reads a row of signs by recursive descent."""

    def __init__(self, row, values):
        self.row, self.at, self.values = row, 0, values

    def whole(self):
        result = self.sum()
        assert self.at == len(self.row), f"left over: {self.row[self.at :]}"
        return result

    def peek(self):
        return self.row[self.at] if self.at < len(self.row) else None

    def take(self):
        self.at += 1
        return self.row[self.at - 1]

    def sum(self):
        result = self.product()
        while self.peek() in ("+", "-"):
            result = result + self.product() if self.take() == "+" else result - self.product()
        return result

    def product(self):
        if self.peek() == "-":
            self.take()
            return -self.product()
        result = self.factor()
        while self.peek() == "*":
            self.take()
            result *= self.factor()
        return result

    def factor(self):
        sign = self.take()
        if isinstance(sign, tuple):
            return self.box(*sign)
        if sign == "(":
            return self.arguments()[0]
        if sign == "|":
            result = self.sum()
            assert self.take() == "|"
            return abs(result)
        if sign in NAMED:
            assert self.take() == "("
            return NAMED[sign](*self.arguments())
        return self.leaf(sign)

    def leaf(self, sign):
        if sign in self.values:
            return self.values[sign]
        return math.pi if sign == "π" else float(sign.replace("\u202f", "").replace("−", "-"))

    def arguments(self):
        found = [self.sum()]
        while self.peek() == ",":
            self.take()
            found.append(self.sum())
        assert self.take() == ")"
        return found

    def box(self, tag, children):
        inside = [signs(c) for c in children]
        if tag == "msub":
            if inside[0] == ["log"]:
                assert inside[1] == ["2"] and self.take() == "("
                return math.log2(*self.arguments())
            return self.values["_".join(str(s[0]) for s in inside)]
        parts = [Reader(row, self.values).whole() for row in inside]
        if tag == "msqrt":
            return math.sqrt(parts[0])
        if tag == "mfrac":
            return parts[0] / parts[1]
        assert _holds_together(inside[0]), f"a power on a bare row: {inside[0]}"
        return parts[0] ** parts[1]


def _holds_together(row):
    """Whether a row is one sign, one index or root, a pair of bars, or inside one pair of brackets."""
    if len(row) == 1:
        return isinstance(row[0], str) or row[0][0] in ("msub", "msqrt")
    if row[0] == row[-1] == "|":
        return True
    depth = 0
    for i, sign in enumerate(row):
        depth += (sign == "(") - (sign == ")")
        if depth == 0 and i < len(row) - 1:
            return False
    return row[0] == "("
