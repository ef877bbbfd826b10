"""An independent judge of the bridge with faults: the circuit simulator ngspice, from the netlist in tests/published.

Run `python -m judges.ngspice_faults` in the folder tests/ to draw the cases anew and keep what the simulator says.
"""

from math import hypot, pi
from random import Random

from judges.ngspice_bridge import PUBLISHED, filled, simulate, window, write
from judges.ngspice_bridge import kept as kept_table

NETLIST, KEPT = PUBLISHED / "ngspice_faults.cir", PUBLISHED / "ngspice_faults.csv"
DIODES = ("pa", "pb", "pc", "na", "nb", "nc")
# Kind: diodes open, diodes shorted, lead a off, phase a off its star point or corner.
KINDS = {
    "sound": ((), (), False, False),
    "one open": (("pa",), (), False, False),
    "one shorted": (("pa",), ("pa",), False, False),
    "lead off": ((), (), True, False),
    "phase off": ((), (), False, True),
    "two open to plus": (("pa", "pb"), (), False, False),
    "two open crosswise": (("pa", "nb"), (), False, False),
    "two shorted to minus": (("na", "nb"), ("na", "nb"), False, False),
}
_LEADS = [f"lead_{lead}_amps_rms" for lead in "abc"]
_OF_DIODES = [f"diode_{diode}_amps_{what}" for what in ("mean", "rms", "peak") for diode in DIODES]
RESULTS = ("dc_amps_mean", "dc_amps_rms", "dc_amps_peak", "dc_volts_peak", "reverse_na_volts_peak")
RESULTS += (*_LEADS, *_OF_DIODES)
_GIVEN = ("emf_peak_v", "ohm", "henry", "hz", "bank_volts", "diode_drop_v", "diode_slope_ohm", "dc_ohm")
UNITS = {
    "case": "number",
    "kind": "text",
    "connection": "wiring",
    **dict(zip(_GIVEN, ("V", "Ω", "H", "Hz", "V", "V", "Ω", "Ω"), strict=True)),
    **{name: "V" if "volts" in name else "A" for name in RESULTS},
    "version": "text",
}
SEED, EACH = 20260417, 2
_OFF_OHM, _CLOSED_OHM, _SLOPE_OHM = 1e7, 1e-5, 1e-3
_MEASURED = {"mean": "AVG", "rms": "RMS", "peak": "MAX"}


def draw_cases():
    """Seeded cases of every kind: u 0.1–0.9, q 0.1–12, DC resistance 0–0.1 Ω, star and delta."""
    dice = Random(SEED)
    every = [(kind, wiring) for kind in KINDS for wiring in ("star", "delta") for _ in range(EACH)]
    return [_case(number, *what, dice) for number, what in enumerate(every)]


def _case(number, kind, connection, dice):
    emf, impedance, drop = dice.uniform(100, 400), dice.uniform(0.5, 4.0), dice.uniform(0.3, 1.1)
    u, q, hz = dice.uniform(0.1, 0.9), 0.1 * 120.0 ** dice.random(), dice.uniform(30, 400)
    ohm = impedance / hypot(1.0, q)
    line_peak = emf * (3.0**0.5 if connection == "star" else 1.0)
    values = (emf, ohm, q * ohm / (2.0 * pi * hz), hz, u * line_peak - 2.0 * drop, drop, _SLOPE_OHM)
    given = dict(zip(_GIVEN, (*values, dice.uniform(0.0, 0.1)), strict=True))
    return {"case": number, "kind": kind, "connection": connection, **given}


def netlist(case):
    """The circuit of one case, as text."""
    opened, shorted, lead_off, phase_off = KINDS[case["kind"]]
    # A shorted diode lets the current of one direction through half of the loops only: it settles no slower than L/R.
    return filled(
        case,
        NETLIST,
        a_joint=_OFF_OHM if phase_off else _CLOSED_OHM,
        a_lead=_OFF_OHM if lead_off else _CLOSED_OHM,
        **{f"{diode}_contact": _OFF_OHM if diode in opened else _CLOSED_OHM for diode in DIODES},
        **{f"{diode}_bypass": _CLOSED_OHM if diode in shorted else _OFF_OHM for diode in DIODES},
        measures="\n".join(_measures(*window(case))),
    )


def _measures(start, stop):
    """One line for each result."""
    of = {name: (_MEASURED[name.rsplit("_", 1)[1]], "I(Vdc)") for name in RESULTS[:3]}
    of |= {"dc_volts_peak": ("MAX", "V(dcv)"), "reverse_na_volts_peak": ("MAX", "V(rev)")}
    of |= {name: ("RMS", f"I(Vl{name[5]})") for name in _LEADS}
    of |= {name: (_MEASURED[name.rsplit("_", 1)[1]], f"I(V{name.split('_')[1]})") for name in _OF_DIODES}
    return [f".meas tran {name} {how} {signal} from={start} to={stop}" for name, (how, signal) in of.items()]


def run(cases, folder):
    """What the simulator says of every case."""
    return simulate(cases, folder, netlist=netlist, wanted=RESULTS)


def kept():
    """The cases and results kept beside the netlist, numbers as numbers."""
    return kept_table(KEPT, ("kind", "connection", "version"))


if __name__ == "__main__":
    import tempfile

    drawn = draw_cases()
    with tempfile.TemporaryDirectory() as scratch:
        write(KEPT, UNITS, [{**case, **found} for case, found in zip(drawn, run(drawn, scratch), strict=True)])
