"""Networks of any shape for the properties: every system, every kind of load, trees up to eight branches."""

from hypothesis import strategies as st

from pycore.powerflow.network import Branch, Load, Network, wire
from pycore.powerflow.source import supply

CONDUCTORS = {"single-phase": ("L1", "N"), "split-phase": ("L1", "L2", "N"), "three-phase wye": ("L1", "L2", "L3", "N")}
EXPONENTS = (0.0, 0.0, 1.0, 1.6, 2.0, 2.2)
OHMS = st.floats(0.01, 1.0)


@st.composite
def networks(draw, systems=tuple(CONDUCTORS), power=st.floats(10.0, 3000.0), most=8):
    """A network that is sound as data; whether it has an operating point is another matter."""
    system = draw(st.sampled_from(systems))
    conductors, voltage = CONDUCTORS[system], draw(st.sampled_from([120.0, 230.0]))
    nodes, branches = ["S"], []
    for n in range(draw(st.integers(1, most))):
        start = draw(st.sampled_from(nodes))
        branches.append(Branch(id=f"K{n}", start=start, end=f"n{n}", wires=tuple(wire(c, draw(OHMS), draw(st.floats(0, 0.2))) for c in conductors)))
        nodes.append(f"n{n}")
    loads = tuple(draw(_load(f"A{n}", nodes, conductors, voltage, power)) for n in range(draw(st.integers(1, most))))
    z = complex(draw(st.floats(0, 0.2)), draw(st.floats(0, 0.2)))
    return Network(source=supply(node="S", system=system, voltage=voltage, line=z, neutral=z), branches=tuple(branches), loads=loads, frequency=draw(st.sampled_from([50.0, 60.0])))


@st.composite
def _load(draw, name, nodes, conductors, voltage, power):
    a, b = draw(st.permutations(conductors))[:2]
    nominal = voltage if "N" in (a, b) else voltage * (2 if len(conductors) == 3 else 3**0.5)
    active = draw(power)
    spectrum = ((3, draw(st.floats(0, 0.9)), draw(st.floats(-3, 3))), (5, draw(st.floats(0, 0.6)), 0.0)) if draw(st.booleans()) else ()
    return Load(id=name, node=draw(st.sampled_from(nodes)), a=a, b=b, power=active, reactive=draw(st.floats(-0.5, 1.7)) * active, voltage=nominal,
                exponent=draw(st.sampled_from(EXPONENTS)), low=draw(st.sampled_from([0.0, 0.0, 0.8 * nominal])), high=1.3 * nominal, spectrum=spectrum)
