"""What the meter should say at every step of the work, worked out from the job's own constants."""

from functools import lru_cache
from math import inf, isinf

from statorbook.cautions import SPUN, STILL, Exposure, Instruction, together
from statorbook.operation import highest_touch_rpm
from statorbook.quantities import DRY_AC_VOLTS, Fact, require_number
from statorbook.rewiring.checks.bands import LOW_OHM, OPEN_OHM, MeterCheck, insulation_row, ohm_band, volt_band
from statorbook.rewiring.circuit import CoilCircuit, coil_values
from statorbook.rewiring.joining_limit import MOST_SHARE
from statorbook.rewiring.probes import ALONE, FINISHED, IRON, LEAD_PAIRS, between_ends, probes_of
from statorbook.rewiring.work_steps import ties_after
from statorbook.winding import PHASES

CORNER_SHARE = Fact(
    value=0.3,
    unit="of the phase's volts",
    source="three times the third harmonic of a tooth coil; one phase reversed shows 2; common practice, no source",
    low=0.1,
    high=0.5,
)
STEADY_HZ = Fact(
    value=40.0, unit="Hz", source="where AC ranges of plain meters begin, common practice, no source", low=20, high=50
)
_HARDLY_ANY_THIRD = 0.05
_LOW_OHM_WORDS = Instruction(
    "Ohms below 1 are too few for a plain meter: read what the probes show when they touch and take it off, or "
    "better, send 1 A through from a bench supply and read millivolts beside the clips: each millivolt is 1 mΩ.",
    (*STILL, Exposure.SUPPLY),
)
_ROTOR_BACK = Instruction(
    "Before volts are read: bend every loose end outward, sleeve each one and tie it down clear of the rotor. Put the "
    "rotor back and turn it slowly once round by hand: it touches nothing. Fit the guard. When the volts are read, let "
    "it stand, and take it out or tie it again before the next joint.",
    (Exposure.MAGNETS, *SPUN),
)
_SPIN_WORDS = Instruction(
    "Guard on, leads open and each in an insulated terminal, nobody near the rotor, a low speed first. The "
    "volts between the leads rise in step with the speed, all three alike. After one minute nothing hums, rubs or "
    "smells. Stop it and feel the coils: a warm one with open leads carries a circulating current, so go no further. "
    "Only then, at rest, the rectifier, and last the fused bank.",
    (*SPUN, Exposure.HEAT, Exposure.BANK),
)


def bench_checks(
    plan,
    made,
    coil_part,
    stator_part,
    copper_c=20.0,
    hand_rpm=60.0,
    *,
    speed_from_hz=False,
    limit_share=MOST_SHARE.value,
    highest_volts_rms=None,
):
    """List every check of a plan in the order of the work.

    Parameters
    ----------
    plan : Plan
        The work.
    made : tuple of Step
        The plan written out, from `rewiring.work_steps.steps`.
    coil_part : CoilPart
        What one coil does, each constant with its ±.
    stator_part : StatorPart
        What wire and magnets are made of.
    copper_c : float
        Temperature of winding and magnets at the bench [°C].
    hand_rpm : float
        Speed at which volts are read [rpm].
    speed_from_hz : bool
        True when the speed is taken from the meter's frequency, which narrows the bands of the volts.
    limit_share : float
        How far paths may differ before they are joined, from `parallel_limit` [-].
    highest_volts_rms : float or None
        Highest AC line volts of the finished machine, rms; taken as up to 500 V when None [V].

    Returns
    -------
    tuple of MeterCheck
        In the order of the work.

    Raises
    ------
    BadInput
        When temperature or speed is out of range.

    Notes
    -----
    Equation: nodal analysis of the coils with what is tied after each step; ohms (k + θ) / (k + 20).
    Valid: all coils alike; magnets at the winding's temperature; fundamental only.
    Source: Bird, Electrical Circuit Theory and Technology, ch. 31; IEC 60034-1, resistance method (from memory).
    """
    require_number(copper_c, "winding temperature", "°C", at_least=-20, at_most=60)
    require_number(hand_rpm, "hand speed", "rpm", at_least=5, at_most=600)
    at_bench = (copper_c, hand_rpm, speed_from_hz, limit_share, highest_volts_rms)
    bench = _Bench(plan, made, coil_part, stator_part, *at_bench)
    found = [*bench.as_found(), *bench.parted(), *bench.paths_joined(), *bench.paths_together(), *bench.gaps()]
    return tuple(bench.with_rotor_back(found)) + tuple(bench.at_the_end())


class _Bench:
    """Plan, constants and conditions, and the checks of each part of the work."""

    def __init__(
        self, plan, made, coil_part, stator_part, copper_c, hand_rpm, speed_from_hz, limit_share, highest_volts_rms
    ):
        self.plan, self.made, self.coil_part, self.hand_rpm = plan, made, coil_part, hand_rpm
        self.speed_from_hz, self.limit_share, self.highest_volts_rms = speed_from_hz, limit_share, highest_volts_rms
        stator = plan.found.stator
        self.hz = stator.electrical_hz(hand_rpm)
        coils = coil_values(stator, coil_part.to_coil(stator_part), hand_rpm, copper_c, copper_c)
        self.circuit = lru_cache(None)(lambda step: CoilCircuit(coils=coils, ties=ties_after(plan, made, step)))
        self.coils = coils
        self.probes = probes_of(plan.wired)
        self.paths = [probe for probe in self.probes.values() if probe.when == ALONE]
        self.path_volts = CoilCircuit(coils=coils, ties=plan.wired.links).volts_rms(*self.paths[0].places)
        self.last = len(made)
        self.told_low = self.told_volts = False

    def as_found(self):
        if not (self.plan.cuts or self.plan.joins):
            return
        for pair in LEAD_PAIRS:
            words = "Ohms between each two leads"
            yield from self._ohms(pair, self.probes[pair].places, 0, "As found, ohms", words)

    def parted(self):
        """Each cut: open where no other coils lead round it, else by eye."""
        step = next((step for step in self.made if step.check == "parted"), None)
        if step is None:
            return
        circuit, seen, told = self.circuit(step.number), [], []
        for cut in self.plan.cuts:
            left = sorted(self.plan.stays[cut.off][1])[:1] if cut.off else []
            ends = (*cut.ends, *left)
            if len(ends) < 2:
                continue
            probe = between_ends(*ends)
            if circuit.connected(*ends):
                seen.append(probe.name)
            else:
                told.append(self._open(probe.name, step.number))
        if seen:
            words = Instruction(
                f"Between {', '.join(seen)} the meter finds a way round through other coils: look that each wire is "
                "parted and bent away.",
                STILL,
            )
            yield _look(step.number, words, "Cuts, ohms")
        yield from told

    def paths_joined(self):
        """Ohms of each path once its jumpers are in."""
        for probe in self.paths:
            step = next((step.number for step in self.made if step.check == probe.name), None)
            if step is not None:
                yield from self._path_ohms(probe, step)

    def paths_together(self):
        """Before anything is brought together: ohms not read yet, and volts of each path."""
        parallel, delta = self.plan.grouping.parallel > 1, self.plan.grouping.connection == "delta"
        if not (self.plan.cuts or self.plan.joins or self.plan.bus_mm) or not (parallel or delta):
            return
        gate = next((step.number for step in self.made if step.kind == "bus"), self.last) - 1
        read = {step.check for step in self.made}
        for probe in self.paths:
            if probe.name not in read:
                yield from self._path_ohms(probe, gate)
        for probe in self.paths:
            volts = self.circuit(gate).volts_rms(*probe.places)
            yield self._volts(probe.name, volts, gate, "Paths, volts", "Each path from end to end")

    def with_rotor_back(self, checks):
        """In the order of the work; the rotor is out since the first step, so it goes back before the first volts."""
        for check in sorted(checks, key=lambda check: check.step):
            if check.kind == "volts" and not self.told_volts:
                self.told_volts = True
                # No two loose ends can show more than two paths that hang together at one end.
                for words in (_ROTOR_BACK, self._volts_words(2.0 * self.path_volts)):
                    yield _look(check.step, words, check.group)
            yield check

    def gaps(self):
        """Across each joint that closes a loop, just before it is made: next to nothing, or it must not be closed."""
        for step in self.made:
            if step.kind in ("join", "bus"):
                circuit = self.circuit(step.number - 1)
                for one, other in _loops(circuit, step.ends, self._phase_of):
                    yield self._gap(one, other, step)

    def at_the_end(self):
        """The finished winding: ohms, insulation, volts, first spin."""
        circuit = self.circuit(self.last)
        ready = [probe for probe in self.probes.values() if probe.when == FINISHED and "tooth" not in probe.name]
        for probe in ready:
            between = probe.name in LEAD_PAIRS
            group = f"Finished winding, ohms {'between leads' if between else 'from lead to star point'}"
            alike = "All three lead pairs alike within 3 %" if between else "All three legs alike"
            yield from self._ohms(probe.name, probe.places, self.last, group, f"{alike}: ohms")
        yield self._insulation()
        volts = {probe: circuit.volts_rms(*probe.places) for probe in ready if probe.name in LEAD_PAIRS}
        group = "Finished winding, volts between leads"
        yield _look(self.last, self._volts_words(max(volts.values()), again=self.told_volts), group)
        for probe, expected in volts.items():
            yield self._volts(probe.name, expected, self.last, group, "All three lead pairs alike within 3 %")
        yield _look(self.last, _SPIN_WORDS, "First spin")

    def _phase_of(self, end):
        return self.plan.found.stator.coils[end.tooth - 1].phase

    def _path_ohms(self, probe, step):
        ohm, coils = self.circuit(step).ohms(*probe.places), self.plan.grouping.series
        alone = ohm > 0.999 * coils * self.coils[1].ohm
        many = "1 coil" if coils == 1 else f"{coils} coils in series"
        what = many if alone else "other coils beside it, so less than its own coils"
        words = f"Each path, {what}: ohms from end to end"
        yield from self._ohms(probe.name, probe.places, step, "Paths, ohms", words)

    def _ohms(self, name, places, step, group, words):
        ohm = self.circuit(step).ohms(*places)
        if isinf(ohm):
            yield self._open(name, step)
            return
        if ohm < LOW_OHM.value and not self.told_low:
            self.told_low = True
            yield _look(step, _LOW_OHM_WORDS, group)
        low, high = ohm_band(ohm, self.coil_part.resistance)
        said = Instruction(f"{words}; what the probes touching read is taken off.", STILL)
        band = {"expected": ohm, "low": low, "high": high, "unit": "Ω"}
        yield MeterCheck(name=name, kind="ohms", step=step, group=group, words=said, **band)

    def _open(self, name, step):
        words = Instruction("Cut ends bent apart: ohms across each cut, nothing leads across.", STILL)
        band = {"expected": inf, "low": OPEN_OHM.value, "high": None, "unit": "Ω"}
        return MeterCheck(name=name, kind="ohms", step=step, group="Cuts, ohms", words=words, **band)

    def _volts(self, name, volts, step, group, words):
        low, high = volt_band(volts, self.coil_part.emf, speed_from_hz=self.speed_from_hz)
        said = Instruction(f"{words}: AC volts at {self.hand_rpm:g} rpm.", SPUN)
        band = {"expected": volts, "low": low, "high": high, "unit": "V"}
        return MeterCheck(name=name, kind="volts", step=step, group=group, words=said, **band)

    def _gap(self, one, other, step):
        corner = self._round_the_delta(one, other, step)
        third = corner and self.plan.found.stator.third_harmonic_factor > _HARDLY_ANY_THIRD
        share = CORNER_SHARE.value if third else self.limit_share
        probe = between_ends(one, other)
        why = "the loop of the delta" if third else "paths side by side or the loop of a delta"
        words = Instruction(
            f"Before the next step joins these two ends, which closes {why}: AC volts across the open joint at "
            f"{self.hand_rpm:g} rpm. More than that drives a current round: do not join.",
            SPUN,
        )
        third_words = "The third harmonic of a delta shows here; one phase reversed shows twice a phase's volts."
        words = together(words, third_words if third else "")
        expected, high = self.circuit(step.number - 1).volts_rms(one, other), share * self.path_volts
        group = f"Open {'corner of the delta' if third else 'joints'}, volts"
        band = {"expected": expected, "high": high, "unit": "V"}
        return MeterCheck(name=probe.name, kind="volts", step=step.number - 1, group=group, words=words, **band)

    def _round_the_delta(self, one, other, step):
        """Whether the way from one end to the other leads through coils of other phases."""
        phase = self._phase_of(one)
        own = {coil.number: self.coils[coil.number] for coil in self.plan.found.stator.coils if coil.phase == phase}
        alone = CoilCircuit(coils=own, ties=self.circuit(step.number - 1).ties)
        return phase != self._phase_of(other) or not alone.connected(one, other)

    def _volts_words(self, most_volts, *, again=False):
        """How the rotor is turned when any two ends show at most so many volts at hand speed."""
        most_rpm = highest_touch_rpm(most_volts / self.hand_rpm)
        pairs = self.plan.found.stator.pole_pairs
        limit = f"at most {most_rpm:g} rpm, where no two bare ends show more than {DRY_AC_VOLTS.value:g} V AC"
        speed = f"at {self.hand_rpm:g} rpm, {limit}"
        if self.hand_rpm > most_rpm:
            speed = f"{limit}, not at the {self.hand_rpm:g} rpm of this table, and type the speed"
        if again:
            return Instruction(f"Volts, taken like those before: turn the rotor steadily {speed}.", SPUN)
        words = (
            f"Volts: clip the meter on, set to AC, then turn the rotor steadily by hand or by a slow drill {speed}. "
            "Keep your hands dry. The meter's own frequency gives the speed far closer than counting: rpm = 60 × Hz / "
            f"{pairs}, {self.hz:.3g} Hz at {self.hand_rpm:g} rpm."
        )
        faster = Instruction("turn faster, within that limit, and type the speed.", SPUN)
        swims, weak = self.hz < STEADY_HZ.value, self.path_volts < 1.0
        in_reach = self.plan.found.stator.electrical_hz(most_rpm) >= STEADY_HZ.value
        steadier = faster if in_reach else Instruction("read it five times and type the middle one.", SPUN)
        return together(
            Instruction(words, SPUN),
            steadier.within(f"Below {STEADY_HZ.value:g} Hz a plain meter's AC reading swims: ") if swims else "",
            faster.within("A path makes less than 1 V at this speed: ") if weak else "",
        )

    def _insulation(self):
        tester, least = insulation_row(self.highest_volts_rms)
        words = Instruction(
            f"Electronics off, the three leads joined, from them to bare iron at {tester:g} V DC of an "
            "insulation tester. Its volts bite, and the winding keeps a charge: do not touch, then join leads and "
            "iron for a few seconds. With a plain meter the top of its range is a weaker proof: OL there, dry and "
            "after an hour in a damp place.",
            (*STILL, Exposure.TESTER),
        )
        name, band = f"A-{IRON}", {"low": least, "unit": "MΩ"}
        return MeterCheck(name=name, kind="megohm", step=self.last, group="Insulation", words=words, **band)


def _look(step, words, group):
    return MeterCheck(name="", kind="look", step=step, group=group, words=words)


def _loops(circuit, ends, phase_of):
    """Pairs of these ends that a joint would close a loop between: within a phase first, then phase to phase."""
    firsts, tied = {}, []
    for end in sorted(ends, key=lambda end: (PHASES.index(phase_of(end)), end)):
        if any(circuit.connected(end, other) and circuit.ohms(end, other) < 1e-12 for other in tied):
            continue
        tied.append(end)
        known = firsts.setdefault(phase_of(end), [])
        own = next((first for first in known if circuit.connected(first, end)), None)
        if own is not None:
            yield own, end
            continue
        across = [first for phase, others in firsts.items() if phase != phase_of(end) for first in others]
        known.append(end)
        partner = next((first for first in across if circuit.connected(first, end)), None)
        if partner is not None:
            yield partner, end
