"""From a control level to what the lamp makes of it, and back: square law, linear and S."""

from math import acos, pi, sin, sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite

SQUARE = Cite("iesna-dimming", "perceived light against measured light")
DIMMER = Cite("dimmer-curves")
_LEVEL = Var("control level", "%", 0, 100)
_OUT = Var("what the curve makes of the level", "%", 0, 100)
CURVES = {"linear": "Linear", "square": "Square law", "S": "S curve"}


@law("c = x**2", "Square law", c=_OUT, x=_LEVEL, source=SQUARE)
def square(*, x: float) -> float:
    """Output at a level under the square law: half the level is a quarter of the light."""
    return x**2


@law("x = sqrt(c)", "Level under the square law", x=_LEVEL, c=_OUT, source=SQUARE)
def level_of_square(*, c: float) -> float:
    """Level that gives an output under the square law; also perceived light of measured light."""
    return sqrt(c)


@law("c = x", "Linear", c=_OUT, x=_LEVEL, source=DIMMER)
def linear(*, x: float) -> float:
    """Output at a level of a linear curve."""
    return x


@law("x = c", "Level of a linear curve", x=_LEVEL, c=_OUT, source=DIMMER)
def level_of_linear(*, c: float) -> float:
    """Level that gives an output of a linear curve."""
    return c


@law("c = x**2*(3 - 2*x)", "S curve", c=_OUT, x=_LEVEL, source=DIMMER)
def s_curve(*, x: float) -> float:
    """Output at a level of a curve that is flat at both ends; makers' S curves differ."""
    return x**2 * (3 - 2 * x)


@law("x = 1/2 - sin((π/2 - acos(1 - 2*c))/3)", "Level of an S curve", x=_LEVEL, c=_OUT, source=DIMMER)
def level_of_s_curve(*, c: float) -> float:
    """Level that gives an output of the S curve."""
    return 1 / 2 - sin((pi / 2 - acos(1 - 2 * c)) / 3)


OUTPUT = {"linear": linear, "square": square, "S": s_curve}
LEVEL = {"linear": level_of_linear, "square": level_of_square, "S": level_of_s_curve}
