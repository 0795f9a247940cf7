"""The limits of a strike plan in the words of the trade."""

from typing import NamedTuple


class Words(NamedTuple):
    """What is asked, what is demanded and allowed and in which unit, and what to do where it is broken. `least`: the allowed is the least."""

    question: str
    demand: str
    allowed: str
    unit: str
    remedy: str
    least: bool = False

    @property
    def relation(self) -> str:
        """Of demand to allowed."""
        return ">=" if self.least else "<="


WORDS = {
    "carry": Words("Does every device hold while they come up?", "current while they come up", "surely held for an hour", "A", "Spread the lamps over more circuits, or let the plan leave longer gaps"),
    "long": Words("Does every device carry them for hours?", "current when all burn", "continuous current", "A", "Spread the lamps over more circuits"),
    "surge": Words("Does every device bear the inrush?", "peak current at a strike", "surely borne at once", "A",
                   "Use a device with a slower curve (C or D), or put this lamp on a circuit of its own"),
    "kva": Words("Do the windings carry it?", "apparent power", "available here", "VA", "Use a larger set, corrected ballasts or fewer lamps"),
    "kw": Words("Does the engine carry it?", "active power", "available here", "W", "Use a larger set or fewer lamps"),
    "line": Words("Does each line of the set carry it?", "current of a line", "rated current of a line", "A", "Spread the lamps over the lines"),
    "peak": Words("Does the inverter stand the strikes?", "peak current at a strike", "peak that the inverter gives on a line", "A", "Use a larger inverter, or a lamp with a softer start"),
    "dip": Words("How far does the voltage dip?", "dip at a strike", "allowed dip", "%", "Use a larger set, or a lamp with a softer start"),
    "frequency": Words("How far does the frequency dip?", "dip of the frequency at a strike", "allowed dip", "%", "Use a larger set, or bring this lamp up from a low dim"),
    "hold": Words("Do the burning lamps ride through?", "voltage at a burning lamp in the dip", "voltage it holds", "V", "Strike this lamp before the ones that would drop out", least=True),
    "out": Words("Does every lamp get its voltage?", "voltage at a lamp", "voltage it holds", "V", "Larger cable, shorter run or a stiffer supply: see the run", least=True),
    "over": Words("Is the voltage too high for a lamp?", "voltage at a lamp", "voltage it stands", "V", "Do not connect it to this supply"),
    "collapse": Words("Can the cables carry them at all?", "share of a limit", "all", "%", "Larger cable or fewer lamps: see the runs"),
    "gap": Words("Is there time between the strikes?", "gap between two strikes", "least gap", "s", "Leave more time between strikes", least=True),
}
INVERTER = {  # which has neither windings nor an engine
    "kva": WORDS["kva"]._replace(question="Does the inverter carry it?", remedy="Use a larger inverter, corrected ballasts or fewer lamps"),
    "kw": WORDS["kw"]._replace(question="Does the inverter give the power?", remedy="Use a larger inverter or fewer lamps"),
    "line": WORDS["line"]._replace(question="Does each line of the inverter carry it?"),
}
