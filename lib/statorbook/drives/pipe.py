"""The pipe that feeds a jet: the head that it takes, and the blow when it is shut too fast."""

from dataclasses import dataclass
from functools import cached_property
from math import pi, sqrt

import numpy as np

from statorbook.cautions import PIPED, Instruction
from statorbook.drives.pipe_parts import MATERIALS, VALVES, WATER_STIFFNESS_GPA, WATER_VISCOSITY_CST, fittings_loss
from statorbook.errors import BadInput
from statorbook.quantities import GRAVITY_M_PER_S2, WATER_KG_PER_M3, require_count, require_number, say

_LEAST_REYNOLDS = 1.0  # below it the loss is nothing, and the friction factor has no end


@dataclass(frozen=True, kw_only=True)
class Pipe:
    """A full round pipe from the intake to the nozzle.

    Parameters
    ----------
    length_m : float
        Length [m].
    bore_mm : float
        Inner diameter [mm].
    material : str
        A name of `MATERIALS`.
    bends : int
        Elbows of 90° [-].
    valve : str
        "none", "ball", "gate" or "globe", fully open.
    strainer : bool
        True with a basket or screen at the intake.
    roughness_mm : float or None
        Sand roughness where it is known better than from the material [mm].
    friction_factor : float or None
        Darcy's, where it is known; at any flow [-].
    entrance_loss : float
        Loss at the intake, in velocity heads; a sharp edge is assumed [-].
    extra_loss : float
        Further losses, in velocity heads [-].
    wall_mm : float or None
        Thickness of the wall; assumed from the material when None [mm].
    viscosity_cst : float
        Kinematic viscosity of the water; 10 °C is assumed [cSt].

    Raises
    ------
    BadInput
        When a number is out of range, or material or valve have no such name.

    Notes
    -----
    Equation: h = (f L/D + ΣK) V²/2g, f by Colebrook's equation, 64/Re in laminar flow.
    Valid: full pipe, no air in it, water that does not freeze; f within about 10 %, old pipes worse.
    Source: Moody 1944; fittings from Crane, TP 410, by the library `fluids` (both from memory).
    """

    length_m: float
    bore_mm: float
    material: str
    bends: int = 0
    valve: str = "none"
    strainer: bool = False
    roughness_mm: float | None = None
    friction_factor: float | None = None
    entrance_loss: float = 0.5
    extra_loss: float = 0.0
    wall_mm: float | None = None
    viscosity_cst: float = WATER_VISCOSITY_CST.value

    def __post_init__(self):
        require_number(
            self.bore_mm,
            "pipe bore",
            "mm",
            above=3,
            at_most=1000,
            next_step=Instruction("measure the bore of a cut end", PIPED),
        )
        require_number(self.length_m, "pipe length", "m", above=0, at_most=20_000)
        require_number(self.viscosity_cst, "viscosity", "cSt", at_least=0.2, at_most=5)
        require_number(self.entrance_loss, "loss at the intake", "", at_least=0, at_most=10)
        require_number(self.extra_loss, "further losses", "", at_least=0, at_most=10_000)
        if self.roughness_mm is not None:
            require_number(self.roughness_mm, "pipe roughness", "mm", at_least=0, at_most=self.bore_mm / 10)
        if self.friction_factor is not None:
            require_number(self.friction_factor, "friction factor", "", above=0, at_most=0.2)
        if self.wall_mm is not None:
            require_number(self.wall_mm, "pipe wall", "mm", above=0, at_most=self.bore_mm)
        require_count(self.bends, "bends of 90°", 0, 200, "walk along the pipe and count again")
        _require_name(self.material, "pipe material", tuple(MATERIALS))
        _require_name(self.valve, "valve in the pipe", VALVES)

    @cached_property
    def fittings_loss(self):
        """Losses of intake, strainer, bends, valve and whatever else, in velocity heads [-]."""
        inside = fittings_loss(self.bore_mm, bends=self.bends, valve=self.valve, strainer=self.strainer)
        return self.entrance_loss + inside + self.extra_loss

    def _speed_m_s(self, flow_l_s):
        return flow_l_s / 1000.0 / (pi / 4.0 * (self.bore_mm / 1000.0) ** 2)

    def darcy_factor(self, flow_l_s):
        """Friction factor at a flow.

        Parameters
        ----------
        flow_l_s : float or ndarray
            Flow [L/s].

        Returns
        -------
        float or ndarray
            Darcy's friction factor, same shape [-].

        Notes
        -----
        Equation: 1/√f = −2 lg(ε/(3.7 D) + 2.51/(Re √f)); f = 64/Re below Re 2040.
        Valid: see the class.
        Source: Colebrook 1939 (from memory), solved by `fluids.friction.friction_factor`.
        """
        from fluids.vectorized import friction_factor

        flow = np.asarray(flow_l_s, dtype=float)
        if self.friction_factor is not None:
            found = np.full(flow.shape, float(self.friction_factor))
        else:
            rough = MATERIALS[self.material].roughness_mm.value if self.roughness_mm is None else self.roughness_mm
            reynolds = self._speed_m_s(flow) * self.bore_mm / 1000.0 / (self.viscosity_cst * 1e-6)
            found = friction_factor(np.maximum(reynolds, _LEAST_REYNOLDS), rough / self.bore_mm)
        return found if flow.ndim else float(found)

    def loss_m(self, flow_l_s):
        """Head that the pipe takes.

        Parameters
        ----------
        flow_l_s : float or ndarray
            Flow, 0 or more [L/s].

        Returns
        -------
        float or ndarray
            Loss of head, same shape [m].

        Raises
        ------
        BadInput
            When a flow is below 0 or no number.

        Notes
        -----
        Equation: see the class.
        Valid: see the class.
        Source: see the class.
        Derivation: `drives.piped_flow`.
        """
        _require_flow(flow_l_s)
        heads = self.darcy_factor(flow_l_s) * self.length_m / (self.bore_mm / 1000.0) + self.fittings_loss
        return heads * self._speed_m_s(flow_l_s) ** 2 / (2.0 * GRAVITY_M_PER_S2.value)

    @property
    def wave_m_s(self):
        """Speed of a pressure wave in the pipe; the wall is assumed from the material when not given [m/s]."""
        made_of = MATERIALS[self.material]
        wall_share = made_of.wall_share.value if self.wall_mm is None else self.wall_mm / self.bore_mm
        give = WATER_STIFFNESS_GPA.value / made_of.stiffness_gpa.value / wall_share
        return sqrt(WATER_STIFFNESS_GPA.value * 1e9 / WATER_KG_PER_M3.value / (1.0 + give))

    @property
    def wave_seconds(self):
        """Time of a pressure wave to the intake and back: closing faster than this is sudden [s]."""
        return 2.0 * self.length_m / self.wave_m_s

    def surge_bar(self, speed_m_s):
        """Pressure on top of the standing one when the water is stopped suddenly.

        Parameters
        ----------
        speed_m_s : float or ndarray
            Speed of the water in the pipe before [m/s].

        Returns
        -------
        float or ndarray
            Rise of pressure, same shape [bar].

        Notes
        -----
        Equation: Δp = ρ a V, a = √(K/ρ) / √(1 + K D / (E e)).
        Valid: closing within 2 L / a, thin wall free to move, no air in the water.
        Source: Joukowsky 1898, Korteweg 1878 (from memory).
        """
        return WATER_KG_PER_M3.value * self.wave_m_s * speed_m_s / 1e5

    def closing_caution(self, flow_l_s):
        """How slowly the valve has to be shut, and why.

        Parameters
        ----------
        flow_l_s : float
            Flow before [L/s].

        Returns
        -------
        str
            The blow of a sudden closing and the time that softens it to a tenth.

        Notes
        -----
        Equation: ten times 2 L / a; the rise falls as the closing time grows, Δp = 2 ρ L V / t.
        Valid: even closing, longer than 2 L / a.
        Source: Michaud 1878 (from memory).
        """
        blow = say(self.surge_bar(self._speed_m_s(flow_l_s)), "bar", figures=2)
        wall = "; the thickness of the pipe's wall is assumed" if self.wall_mm is None else ""
        return (
            f"Shut the valve slowly, over {max(10.0 * self.wave_seconds, 5.0):.0f} s or more: shut within "
            f"{self.wave_seconds:.2g} s it adds {blow} to the pressure, which can burst a joint or throw the pipe about"
            f"{wall}."
        )


@dataclass(frozen=True, kw_only=True)
class MeasuredLoss:
    """A pipe known by one gauge beside the nozzle, read with the valve shut and with the water running.

    Parameters
    ----------
    static_m : float
        Gauge with the valve shut, as metres of water [m].
    running_m : float
        Gauge with the water running [m].
    flow_l_s : float
        Flow while it ran [L/s].

    Raises
    ------
    BadInput
        When a number is out of range or the running gauge stands at or above the static one.

    Notes
    -----
    Equation: h = (static − running) (Q / Q measured)².
    Valid: rough flow within about half to twice the measured flow; off by the velocity head in the pipe at the gauge.
    Source: Darcy's equation with a friction factor that stays.
    """

    static_m: float
    running_m: float
    flow_l_s: float

    def __post_init__(self):
        require_number(self.static_m, "static head", "m", above=0, at_most=1000)
        require_number(self.running_m, "net head", "m", above=0, at_most=1000)
        require_number(self.flow_l_s, "flow", "L/s", above=0, at_most=1000)
        if self.running_m >= self.static_m:
            running, static = (say(head_m, "m", form=".4g") for head_m in (self.running_m, self.static_m))
            raise BadInput(
                f"{running} running and {static} with the valve shut were given",
                "a running gauge below the static one is allowed",
                Instruction("read the gauge again both times, it must stand in the pipe just before the nozzle", PIPED),
                where="net head",
            )

    def loss_m(self, flow_l_s):
        """Head that the pipe takes.

        Parameters
        ----------
        flow_l_s : float or ndarray
            Flow, 0 or more [L/s].

        Returns
        -------
        float or ndarray
            Loss of head, same shape [m].

        Raises
        ------
        BadInput
            When a flow is below 0 or no number.

        Notes
        -----
        Equation: see the class.
        Valid: see the class.
        Source: see the class.
        """
        _require_flow(flow_l_s)
        return (self.static_m - self.running_m) * (flow_l_s / self.flow_l_s) ** 2


def _require_name(value, name, names):
    if value not in names:
        allowed = f"{', '.join(names[:-1])} or {names[-1]} is allowed"
        raise BadInput(f"{value!r} was given", allowed, "choose the one that comes nearest", where=name)


def _require_flow(flow_l_s):
    """Refuse a flow that runs uphill; written so that no number at all is refused as well."""
    if not np.all(np.greater_equal(flow_l_s, 0.0)):
        raise BadInput(
            f"{say(np.min(flow_l_s), 'L/s', form='.4g')} was given",
            "0 or more is allowed",
            "measure again",
            where="flow",
        )
