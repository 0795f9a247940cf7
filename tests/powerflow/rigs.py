"""Small networks for the tests."""

from pycore.powerflow.network import Branch, Load, Network, Wire, wire
from pycore.powerflow.source import supply

FOUR = ("L1", "L2", "L3", "N")
SYSTEM = {2: "single-phase", 3: "split-phase", 4: "three-phase wye"}


def load(name="A", a="L1", b="N", node="box", voltage=230.0, **more) -> Load:
    """A load at the box."""
    return Load(id=name, node=node, a=a, b=b, voltage=voltage, **more)


def one_cable(*loads, wires=2, r=0.1, x=0.0, voltage=230.0, source=0j, neutral=None, frequency=50.0, **ohms) -> Network:
    """A supply, one cable F of `wires` conductors to a box, and loads there; `ohms` sets the resistance of single wires."""
    names = FOUR[: wires - 1] + ("N",)
    made = tuple(ohms[c] if isinstance(ohms.get(c), Wire) else wire(c, ohms.get(c, r), x) for c in names)
    at_source = supply(node="S", system=SYSTEM[wires], voltage=voltage, line=source, neutral=source if neutral is None else neutral)
    return Network(source=at_source, branches=(Branch(id="F", start="S", end="box", wires=made),), loads=loads, frequency=frequency)


def across(flow) -> list[float]:
    """Voltage at every load, V, in the order of the network."""
    return [abs(flow.loads[x.id].voltage) for x in flow.network.loads]
