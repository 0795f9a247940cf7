"""The chain worked out once more, in plain arithmetic and apart from the core: nothing here imports it.

One lamp on one run. The figures that are not entries of the rig are typed off the printed tables:
IEC 60228 class 5 at 20 °C, 0.00393 per kelvin (IEC 60287-1-1, Table 1), BS 7671 Tables 4F1A and 4F3A, 0.08 mΩ/m.
"""

from cmath import phase, rect
from math import acos, cos, pi, sqrt, tan

OHM_PER_KM = {1.5: 13.3, 2.5: 7.98, 4: 4.95, 6: 3.30, 10: 1.91, 16: 1.21}
MAY_CARRY = {1.5: 16, 2.5: 25, 4: 30, 6: 39, 10: 51, 16: 73}  # two cores, 60 °C, 30 °C air
PER_KELVIN = 0.00393
REACTANCE = 0.08e-3  # Ω/m
AIR = 30.0


def ohm_per_metre(size, warm):
    """Resistance of one metre of copper at a temperature in °C."""
    return OHM_PER_KM[size] / 1000 * (1 + PER_KELVIN * (warm - 20))


def head_resistance(length, size):
    """Out and back, taken at 60 °C."""
    return 2 * length * ohm_per_metre(size, 60)


def pulse(theta, points=4000):
    """P*R/E² and (harmonics/fundamental)² of pulses E*sqrt(2)*(cos x - cos theta)/R, x within theta, by adding up strips."""
    strips = [theta * (2 * (k + 0.5) / points - 1) for k in range(points)]
    amps = [sqrt(2) * (cos(x) - cos(theta)) for x in strips]  # of E/R
    width = 2 * theta / points
    mean, square = sum(amps) * width / pi, sum(i * i for i in amps) * width / pi
    first = sum(i * cos(x) for i, x in zip(amps, strips, strict=True)) * width * 2 / pi / sqrt(2)  # rms
    return sqrt(2) * cos(theta) * mean, square / first**2 - 1


def pulse_with(rising, wanted):
    """The half-angle below that of the most power at which a rising figure reaches what is wanted."""
    low, high = 0.05, 1.16
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if rising(middle) < wanted else (low, middle)
    return low


COUNTS = 0.875  # of a reactance: the core's own figure, since the reservoir is not as stiff as this pulse takes it


def leaning(theta, ratio, points=3000):
    """As `pulse` behind a reactance of `ratio` times the resistance, marched from its start; and the current's first order, of E/R."""
    width = 3.0 / points
    x, amps, mean, square, first = -theta, 0.0, 0.0, 0.0, 0j
    while True:
        drive = sqrt(2) * (cos(x + width / 2) - cos(theta))
        after = (amps * (ratio / width - 0.5) + drive) / (ratio / width + 0.5)
        if after <= 0 and x > 0:
            break
        i, x, amps = (amps + after) / 2, x + width, after
        mean, square, first = mean + i * width / pi, square + i * i * width / pi, first + i * rect(1, -(x - width / 2)) * width * sqrt(2) / pi
    return sqrt(2) * cos(theta) * mean, square / abs(first) ** 2 - 1, first


class Circuit:
    """Source, cable and ballast. Draws `watts` at `displacement`, or `watts` times (V/230) to the power `follows`.

    A ballast that holds its power pays for what its harmonics heat, at the fundamental; the skin effect, under 0.1 % of that
    here, is left out.
    """

    def __init__(self, watts, *, size, length=60.0, displacement=0.99, factor=0.98, source=230.0, loop=0.25, follows=0.0, pulses=False):
        self.watts, self.size, self.length, self.factor = watts, size, length, factor
        self.lag, self.source, self.loop, self.follows = tan(acos(displacement)), source, loop, follows
        self.harmonics = 0 if follows else (displacement / factor) ** 2 - 1  # their square over the fundamental's
        self.narrow = pulse_with(lambda theta: -pulse(theta)[1], -self.harmonics) if pulses else None
        self.late, self.warm = 0.0, AIR
        before = None
        while self.warm != before:
            if pulses:
                self.harmonics = self.widened()
            before, self.volts = self.warm, self.highest()
            if self.volts is None:
                return
            self.first = abs(self.taken(self.volts)) / self.volts
            self.amps = self.first * (displacement / factor if follows else sqrt(1 + self.harmonics))
            self.warm = round(min(AIR + 30 * min(self.amps / MAY_CARRY[size], 2) ** 2, 200), 4)

    def widened(self):
        """Square of the harmonics over the fundamental's, with the pulses as wide and as late as all impedance up to the source makes them."""
        inside, outside = pulse(self.narrow)[0] * 230**2 / self.watts, self.loop + self.cable.real
        whole = inside + outside
        ratio = COUNTS * self.cable.imag / whole
        theta = pulse_with(lambda theta: leaning(theta, ratio)[0], self.watts * whole / self.source**2)
        _, harmonics, first = leaning(theta, ratio)
        power = (1 - complex(outside / whole, ratio) * first) * first.conjugate()
        self.late = power.imag / power.real
        return harmonics

    @property
    def cable(self):
        """Impedance of the cable, out and back."""
        return complex(2 * self.length * ohm_per_metre(self.size, self.warm), 2 * self.length * REACTANCE)

    @property
    def drawn(self):
        """Power at the voltage found."""
        return self.watts * (self.volts / 230) ** self.follows

    def at_fundamental(self, volts):
        """Power taken at the fundamental: P1 = P + R*k*(P1² + Q1²)/V² with Q1 = Q + t*P1, the smaller of its two solutions."""
        own = self.watts * (volts / 230) ** self.follows
        a = (self.loop + self.cable.real) * self.harmonics / volts**2
        if not a:
            return own
        square, middle = a * (1 + self.late**2), 1 - 2 * a * own * self.lag * self.late
        rest = middle**2 - 4 * square * (own + a * (own * self.lag) ** 2)
        return (middle - sqrt(rest)) / (2 * square) if rest >= 0 else float("inf")

    def taken(self, volts):
        """Power and reactive power at the fundamental."""
        power = self.at_fundamental(volts)
        return complex(power, self.watts * (volts / 230) ** self.follows * self.lag + self.late * power)

    def needed(self, volts, impedance):
        """Voltage that must stand at the other end of an impedance for `volts` at the ballast."""
        return abs(volts + impedance * self.taken(volts).conjugate() / volts)

    def highest(self):
        """The highest voltage that the source can hold at the ballast, searched from above; None where there is none."""
        whole, step = self.loop + self.cable, self.source / 1000
        volts = 1.2 * self.source
        while volts > step:
            if self.needed(volts - step, whole) < self.source <= self.needed(volts, whole):
                low, high = volts - step, volts
                for _ in range(60):
                    middle = (low + high) / 2
                    low, high = (middle, high) if self.needed(middle, whole) < self.source else (low, middle)
                return high
            volts -= step
        return None

    @property
    def outlet(self):
        """Voltage at the outlet, under load."""
        return self.needed(self.volts, self.cable)

    @property
    def lost(self):
        """Power lost in the cable, by the harmonics too."""
        return self.first**2 * (1 + self.harmonics) * self.cable.real

    @property
    def most(self):
        """The most power that the cold path could carry at this displacement."""
        ohms = self.loop + 2 * self.length * ohm_per_metre(self.size, AIR)
        z = complex(ohms * (1 + self.harmonics), 2 * self.length * REACTANCE + self.late * ohms * self.harmonics)
        angle = acos(1 / sqrt(1 + (self.lag + self.late) ** 2))
        return self.source**2 * cos(angle) / (2 * abs(z) * (1 + cos(phase(z) - angle)))
