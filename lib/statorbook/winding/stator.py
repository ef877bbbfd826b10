"""The salvaged stator: slots and poles in, coils with phase, polarity and angle out."""

from dataclasses import dataclass
from functools import cached_property
from math import cos, gcd, hypot, lcm, pi, radians, sin

from statorbook.errors import BadInput
from statorbook.quantities import require_count
from statorbook.winding.grouping import Grouping

# 60° belts of the star of slots, counted from the belt centred on 0°.
_BELTS = (("A", 1), ("C", -1), ("B", 1), ("A", -1), ("C", 1), ("B", -1))
PHASE_NAMES = "ABC"
_MOST_SLOTS = 144
_MOST_POLES = 144
# Below this a tooth coil sees so little of each pole that a miscount is likelier than the machine.
_LEAST_USUAL_FACTOR = 0.45
_GOOD_FACTOR = 0.8


@dataclass(frozen=True, kw_only=True)
class Coil:
    """One coil on one tooth."""

    number: int  # of the tooth, 1 at the reader's mark
    phase: str  # "A", "B" or "C"
    polarity: int  # +1, or −1 when start and finish are exchanged
    angle_deg: float  # electrical angle of its EMF before the polarity is applied


@dataclass(frozen=True, kw_only=True)
class Stator:
    """A three-phase stator with one coil on every tooth.

    Parameters
    ----------
    slots : int
        Slots, equal to teeth and coils [-].
    poles : int
        Magnet poles of the rotor, north and south together [-].
    phase_names : str
        What the reader calls the phases of the belts at 0°, 120° and 240°: "ABC" in any order.
    mark_teeth : int
        Teeth by which the reader's mark lies past the one where the pattern of the phases begins [-].

    Raises
    ------
    BadInput
        When the counts cannot make a balanced three-phase winding.

    Notes
    -----
    Equation: balanced only if slots / (3 gcd(slots, poles / 2)) is whole.
    Valid: tooth-coil windings, three phases, one coil per tooth.
    Source: Bianchi and Dai Prè, IEE Proc. EPA 153(3) 2006 (from memory, recomputed).
    Derivation: `winding.tooth_coil_factors`.
    """

    slots: int
    poles: int
    phase_names: str = PHASE_NAMES
    mark_teeth: int = 0

    def __post_init__(self):
        require_count(
            self.slots, "slots", 3, _MOST_SLOTS, "count the teeth again; one turn round the ring, from a mark"
        )
        require_count(self.poles, "poles", 2, _MOST_POLES, "count the magnet poles again; north and south together")
        if self.poles % 2:
            raise BadInput(
                f"{self.poles} poles were given",
                "poles come in pairs, so the count is even",
                "count the magnet poles again, north and south together",
                where="poles",
            )
        if sorted(self.phase_names) != list(PHASE_NAMES):
            raise BadInput(
                f"{self.phase_names!r} was given",
                "A, B and C in any order are allowed",
                "name each phase once",
                where="phase names",
            )
        require_count(self.mark_teeth, "teeth past the mark", 0, self.slots - 1, "count them from the mark")
        if not _is_balanced(self.slots, self.poles):
            near = ", ".join(f"{q}/{p}" for q, p in workable_counts_near(self.slots, self.poles))
            raise BadInput(
                f"{self.slots} slots with {self.poles} poles cannot make three equal phases",
                f"the nearest workable counts (slots/poles) are {near}",
                "count the teeth and the magnet poles again, a miscount by one is common",
                where="slots and poles",
            )

    @property
    def pole_pairs(self):
        """Pairs of magnet poles [-]."""
        return self.poles // 2

    @property
    def symmetry(self):
        """How often the winding pattern repeats round the ring, gcd(slots, pole pairs) [-]."""
        return gcd(self.slots, self.pole_pairs)

    @property
    def coils_per_phase(self):
        """Coils in each phase [-]."""
        return self.slots // 3

    @property
    def max_parallel_paths(self):
        """Most parallel paths with equal EMF that a phase can be split into [-]."""
        t = self.symmetry
        return 2 * t if (self.slots // t) % 2 == 0 else t

    @property
    def cogging_steps_per_rev(self):
        """Magnetic clicks felt in one turn of the rotor, lcm(slots, poles) [-]."""
        return lcm(self.slots, self.poles)

    @cached_property
    def coils(self):
        """All coils in tooth order, as a tuple of `Coil`."""
        return tuple(self._coil(k) for k in range(self.slots))

    def _coil(self, index):
        step = ((index + self.mark_teeth) * self.pole_pairs) % self.slots
        # Whole numbers keep the belt edges exact: belt = floor(angle / 60° + 1/2).
        phase, polarity = _BELTS[((12 * step + self.slots) // (2 * self.slots)) % 6]
        phase = self.phase_names[PHASE_NAMES.index(phase)]
        return Coil(number=index + 1, phase=phase, polarity=polarity, angle_deg=360.0 * step / self.slots)

    @cached_property
    def distribution_factor(self):
        """Length of the mean signed EMF phasor of a phase's coils [-]."""
        return self._mean_phasor(1)

    @cached_property
    def distribution_factor_third(self):
        """The same for the third-harmonic EMF, whose phasors stand at three times the angles [-]."""
        return self._mean_phasor(3)

    def _mean_phasor(self, order):
        angles = [(c.polarity, radians(order * c.angle_deg)) for c in self.coils if c.phase == "A"]
        real, imag = sum(s * cos(a) for s, a in angles), sum(s * sin(a) for s, a in angles)
        return hypot(real, imag) / len(angles)

    @property
    def pitch_factor(self):
        """Share of a pole's flux that one tooth coil links, |sin(π pole pairs / slots)| [-]."""
        return abs(sin(pi * self.pole_pairs / self.slots))

    @property
    def winding_factor(self):
        """Distribution factor times pitch factor, fundamental [-]."""
        return self.distribution_factor * self.pitch_factor

    @property
    def third_harmonic_factor(self):
        """Pitch factor of the third-harmonic EMF, |sin(3 π pole pairs / slots)|; at 0 a delta carries none [-]."""
        return abs(sin(3.0 * pi * self.pole_pairs / self.slots))

    @property
    def doubt(self):
        """A sentence when the counts are balanced but unusual, else an empty string."""
        if self.winding_factor >= _LEAST_USUAL_FACTOR:
            return ""
        return (
            f"{self.slots} slots with {self.poles} poles is possible but unusual "
            f"(winding factor {self.winding_factor:.2f}): count both again before going on."
        )

    def electrical_hz(self, speed_rpm):
        """Frequency of the EMF at a speed.

        Parameters
        ----------
        speed_rpm : float or ndarray
            Rotor speed [rpm].

        Returns
        -------
        float or ndarray
            Electrical frequency, same shape [Hz].

        Notes
        -----
        Equation: f = pole pairs × n / 60.
        Valid: any speed.
        Source: IEC 60034-1, synchronous speed (from memory).
        """
        return self.pole_pairs * speed_rpm / 60.0

    def speed_rpm(self, electrical_hz):
        """Rotor speed that makes a frequency.

        Parameters
        ----------
        electrical_hz : float or ndarray
            Electrical frequency [Hz].

        Returns
        -------
        float or ndarray
            Rotor speed, same shape [rpm].

        Notes
        -----
        Equation: n = 60 f / pole pairs.
        Valid: any frequency.
        Source: IEC 60034-1, synchronous speed (from memory).
        """
        return 60.0 * electrical_hz / self.pole_pairs

    def groupings(self):
        """List every legal grouping, star before delta, most coils in series first."""
        # The path counts are the divisors of `max_parallel_paths`: paths of equal EMF phasors, so that none drives
        # current through another. Bianchi and Dai Prè 2006 (from memory, recomputed by brute force).
        paths = [a for a in range(1, self.max_parallel_paths + 1) if self.max_parallel_paths % a == 0]
        return [
            Grouping(series=self.coils_per_phase // a, parallel=a, connection=c)
            for a in paths
            for c in ("star", "delta")
        ]


def workable_counts_near(slots, poles, how_many=3):
    """Name the balanced slot and pole counts nearest to a pair that is not.

    Parameters
    ----------
    slots : int
        Slots counted [-].
    poles : int
        Poles counted [-].
    how_many : int
        Pairs wanted at most [-].

    Returns
    -------
    list of tuple of int
        (slots, poles), nearest first.

    Notes
    -----
    Equation: least |Δslots| + |Δpoles| among balanced pairs with a good winding factor.
    Valid: counts within six of those given.
    Source: rule of `Stator`.
    """
    near = [
        (abs(q - slots) + abs(p - poles), q, p)
        for q in range(max(3, slots - 6), min(_MOST_SLOTS, slots + 6) + 1)
        for p in range(max(2, poles - 6), min(_MOST_POLES, poles + 6) + 1)
        if p % 2 == 0 and _is_balanced(q, p) and Stator(slots=q, poles=p).winding_factor > _GOOD_FACTOR
    ]
    return [(q, p) for _, q, p in sorted(near)[:how_many]]


def _is_balanced(slots, poles):
    return slots % (3 * gcd(slots, poles // 2)) == 0
