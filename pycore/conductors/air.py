"""The factor for air that is warmer than the tables' own; both rule sets' tables hold at 30 °C."""

from pycore.base.problem import refuse
from pycore.base.result import Term
from pycore.base.units import to_si
from pycore.conductors import lookup
from pycore.conductors.rules import Laying, whole

TABLES_HOLD_AT = to_si(30, "°C")


def factor_for_air(laying: Laying, table_id: str, column: str) -> Term:
    """The factor of a rule set's table for the air around a run; cooler air than 30 °C is not counted.

    Raises `Refused` where nobody said how warm the air is, and beyond the table's end.
    """
    around = laying.run.ambient
    if around is None:
        raise refuse("entry-missing", "Air around the cable is missing or cannot be read", "Enter the air around the cable", f"{laying.at}/ambient")
    if around.value <= TABLES_HOLD_AT + 0.01:
        return whole("factor for the air", "the tables hold at 30 °C", around)
    return lookup.next_above(table_id, around, column, "factor for the air")
