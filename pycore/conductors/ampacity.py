"""What current a cable may carry, and how warm it gets below that.

The tables hold for a cable laid out in free air at 30 °C. Other conditions are refused here, not guessed.
"""

from pycore.base.law import Var, law
from pycore.base.problem import Refused, refuse
from pycore.base.result import Term, estimates
from pycore.base.source import Cite
from pycore.base.table import table
from pycore.base.units import from_si
from pycore.rig.model import Run

# Table and columns to look in, first fit first; a table with more cores loaded is on the safe side.
METRIC = {60: (("flexible-60", ("two_core", "three_to_five_core")), ("flexible-cords", ("two_core",))),
          90: (("flexible-90", ("two_core", "three_to_five_core")), ("flexible-cords", ("two_core",)))}
METRIC_SINGLES = {60: (("flexible-60", ("two_singles",)),), 90: (("flexible-90", ("two_singles",)),)}
AMERICAN = {60: (("cords-na", ("two_core",)),), 90: (("portable-power-90-na", ("two_core",)), ("cords-na", ("two_core",)))}
AMERICAN_SINGLES = {90: (("portable-power-90-na", ("three_to_five_core",)),)}


@law("θ = θ_a + (θ_m - θ_a)*(I/I_z)**2", "Conductor temperature at this current",
     θ=Var("conductor temperature", "°C"), θ_a=Var("air around the cable", "°C", -60, 100), θ_m=Var("conductor temperature limit", "°C", 0, 250),
     I=Var("current", "A", 0), I_z=Var("current it may carry", "A", 0.1), source=Cite("iec-60287", "heat grows with the square of the current"))
def conductor_temperature(*, θ_a: float, θ_m: float, I: float, I_z: float) -> float:  # noqa: E741
    """Steady conductor temperature in K: the rise above air grows with the square of the current (A)."""
    return θ_a + (θ_m - θ_a) * (I / I_z) ** 2


def current_rating(run: Run, *, american: bool) -> Term:
    """The current that the table allows a run of one phase, in A.

    Raises `Refused` where no table here covers the cable or its surroundings.
    """
    if run.size is None or run.insulation is None or run.ambient is None:
        raise refuse("entry-missing", "Size, temperature limit or ambient of the cable is missing", "Enter them", f"runs/{run.id}/size")
    if abs(from_si(run.ambient.value, "°C") - 30) > 0.5:
        raise refuse("ambient-not-covered", "The tables here hold at 30 °C in the air around the cable", "Enter 30 °C, or use the factor of your local code", f"runs/{run.id}/ambient")
    for name, columns in _places(run, american):
        for column in columns:
            try:
                cell = table(name).cell(run.size.value, column, "current it may carry")
            except Refused:
                continue
            return Term(quantity=cell.quantity, name=cell.name, origin=cell.origin, cite=cell.cite, leans_on=estimates((run.size, run.insulation)))
    raise refuse("no-rating", f"No table here rates {run.size.quantity} laid this way", "Take the rating from the cable's own data or your local code", f"runs/{run.id}/size")


def _places(run: Run, american: bool) -> tuple[tuple[str, tuple[str, ...]], ...]:
    limit = round(from_si(run.insulation.value, "°C")) if run.insulation else 0
    singles = run.cores == "single cores"
    metric, gauge = (METRIC_SINGLES, AMERICAN_SINGLES) if singles else (METRIC, AMERICAN)
    if limit not in metric and limit not in gauge:
        raise refuse("no-rating", f"No table here is for a limit of {limit} °C", "Enter 60 °C or 90 °C", f"runs/{run.id}/insulation")
    # A size is found in one family only, so both may be asked; the rig's own rule set first.
    first, second = (gauge, metric) if american else (metric, gauge)
    return first.get(limit, ()) + second.get(limit, ())
