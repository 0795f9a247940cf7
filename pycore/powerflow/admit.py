"""Is it a network at all? Every problem at once; a number that is not finite never gets to the solver."""

from cmath import isfinite
from collections import Counter
from collections.abc import Iterator
from math import isnan

from pycore.base.problem import Problem, Refused
from pycore.powerflow.network import Branch, Load, Network

CHECK = "Check the entries of this part of the rig"


def admit(network: Network) -> None:
    """Raises `Refused` with every problem of the network."""
    found = [*_numbers(network), *_names(network)]
    if not found:
        found = [*_tree(network)]
    if found:
        raise Refused(*found)


def _numbers(network: Network) -> Iterator[Problem]:
    source = network.source
    values = [network.frequency, *source.emf.values(), *source.z.values(), *(source.z_harmonic or {}).values()]
    if not all(map(isfinite, values)) or not network.frequency > 0 or any(z.real < 0 for z in map(complex, source.z.values())):
        yield Problem("not-a-number", "The supply has an entry that is no usable number", CHECK, "supply")
    for b in network.branches:
        if not _branch_numbers(b):
            yield Problem("not-a-number", f"{b.id} has a resistance or reactance that is no usable number", CHECK, f"runs/{b.id}")
    for load in network.loads:
        if not _load_numbers(load):
            yield Problem("not-a-number", f"{load.id} has a power or voltage that is no usable number", CHECK, f"loads/{load.id}")


def _branch_numbers(b: Branch) -> bool:
    ohms = [v for w in b.wires for v in (w.r, w.joint, w.r_metre)]
    square = not b.mutual or (len(b.mutual) == len(b.wires) and all(len(row) == len(b.wires) for row in b.mutual))
    return square and all(map(isfinite, ohms)) and min(ohms, default=0.0) >= 0 and all(map(isfinite, [w.x for w in b.wires] + [x for row in b.mutual for x in row]))


def _load_numbers(load: Load) -> bool:
    plain = (load.power, load.reactive, load.voltage, load.exponent, load.low, load.fold, *(v for part in load.spectrum for v in part))
    limits = not isnan(load.high) and not isnan(load.stands)
    return all(map(isfinite, plain)) and limits and load.voltage > 0 and load.power >= 0 and all(h > 1 for h, _, _ in load.spectrum)


def _names(network: Network) -> Iterator[Problem]:
    source = network.source
    if set(source.emf) != set(source.z):
        yield Problem("supply-wires", "The supply has not one impedance for each of its conductors", CHECK, "supply")
    for kind, ids in (("runs", [b.id for b in network.branches]), ("loads", [load.id for load in network.loads])):
        for i, count in Counter(ids).items():
            if count > 1:
                yield Problem("id-twice", f"{i} is used twice", "Give each part a name of its own", f"{kind}/{i}")
    fed = Counter([source.node, *(b.end for b in network.branches)])
    for b in network.branches:
        if fed[b.end] > 1:
            yield Problem("fed-twice", f"{b.end} is fed more than once", "Feed each place from one side only", f"runs/{b.id}")


def _tree(network: Network) -> Iterator[Problem]:
    conductors = {network.source.node: set(network.source.emf)}
    fed = network.from_source()
    for b in fed:
        tops, bottoms = [w.top for w in b.wires], [w.bottom for w in b.wires]
        if not set(tops) <= conductors[b.start] or len({*tops}) < len(tops) or len({*bottoms}) < len(bottoms):
            yield Problem("wire-unfed", f"{b.id} has a conductor that {b.start} does not offer", "Choose conductors that are there", f"runs/{b.id}")
        conductors[b.end] = set(bottoms)
    for missing in {b.id for b in network.branches} - {b.id for b in fed}:
        yield Problem("not-fed", f"{missing} is not fed from the supply", "Choose what feeds it", f"runs/{missing}")
    for load in network.loads:
        if load.node not in conductors:
            yield Problem("not-fed", f"{load.id} is not fed from the supply", "Choose what feeds it", f"loads/{load.id}")
        elif load.a == load.b or not {load.a, load.b} <= conductors[load.node]:
            yield Problem("wire-unfed", f"{load.id} is plugged to a conductor that {load.node} does not offer", "Choose conductors that are there", f"loads/{load.id}")
