"""A second independent judge of a plan: the circuit simulator ngspice, given every coil by itself, from the netlist.

Several machines, each with bridge and bank of its own, stand side by side in one run.
"""

import re
import subprocess
from concurrent.futures import ThreadPoolExecutor
from math import log, pi
from pathlib import Path

# The diode of judges.ngspice_bridge: near-ideal, with a fixed drop.
SLOPE_OHM = 1e-3
_SATURATION_AMPS, _IDEALITY, _THERMAL_VOLTS = 1e-12, 0.1, 0.025865
_TIE_OHM, _STEPS_PER_PERIOD, _PERIODS = 1e6, 2000, 4
_READ = re.compile(r"^dc_amps_(\d+)\s*=\s*(\S+)", re.MULTILINE)


def machine(number, netlist, coil, bank):
    """The lines of one machine: coils as the netlist joins them, bridge, bank.

    `coil` holds emf_peak_v, ohm, henry, hz, slots and poles; `bank` volts, diode_drop_v and usual_amps.
    """
    node = {}
    for k, (name, ends) in enumerate(netlist.items()):
        short = f"t{name[-1].lower()}{number}" if name.startswith("lead ") else f"n{number}_{k}"
        node |= {end.label: short for end in ends}
    lines = []
    for tooth in range(1, coil["slots"] + 1):
        # The EMF drives current out of the finish: from start to finish the volts rise.
        angle = 180.0 * coil["poles"] * (tooth - 1) / coil["slots"] % 360.0
        me, start, finish = f"{number}_{tooth}", node[f"{tooth}S"], node[f"{tooth}F"]
        lines += [
            f"Ve{me} e{me} {start} SIN(0 {coil['emf_peak_v']} {coil['hz']} 0 0 {angle:.12g})",
            f"Rc{me} e{me} f{me} {coil['ohm']}",
            f"Lc{me} f{me} {finish} {coil['henry']} ic=0",
        ]
    # The exponential part of a diode takes a few millivolts, which are left out of its fixed drop.
    fixed = bank["diode_drop_v"] - _IDEALITY * _THERMAL_VOLTS * log(bank["usual_amps"] / _SATURATION_AMPS)
    for lead in "abc":
        me = f"{lead}{number}"
        lines += [
            f"Dp{me} t{me} p{me} near",
            f"Vp{me} p{me} plus{number} {fixed}",
            f"Vn{me} minus{number} q{me} {fixed}",
            f"Dn{me} q{me} t{me} near",
            f"Rk{me} t{me} minus{number} {_TIE_OHM}",
            f"Rj{me} t{me} plus{number} {_TIE_OHM}",
        ]
    return [*lines, f"Vdc{number} plus{number} minus{number} {bank['volts']}", f"Rg{number} minus{number} 0 1"]


def circuit(machines, hz):
    """A whole run, as text; every machine has the same frequency."""
    step, start, stop = 1.0 / (hz * _STEPS_PER_PERIOD), (_PERIODS - 1) / hz, _PERIODS / hz
    lines = [line for number, each in enumerate(machines) for line in machine(number, **each)]
    return "\n".join(
        [
            "machines coil by coil, each with six diodes and a bank",
            *lines,
            f".model near D(IS={_SATURATION_AMPS} N={_IDEALITY} RS={SLOPE_OHM})",
            ".options method=gear abstol=1e-5 gmin=1e-9 itl4=100",
            f".save {' '.join(f'I(Vdc{number})' for number in range(len(machines)))}",
            f".tran {step} {stop} {start} {step} uic",
            *(
                f".meas tran dc_amps_{number} AVG I(Vdc{number}) from={start} to={stop}"
                for number in range(len(machines))
            ),
            ".end",
            "",
        ]
    )


def dc_amps(batches, folder):
    """DC amps of every machine of every batch; a batch is a list of machines with one frequency, two run at a time."""

    def one(item):
        number, machines = item
        path = Path(folder) / f"plans_{number}.cir"
        path.write_text(circuit(machines, machines[0]["coil"]["hz"]), encoding="utf-8")
        said = subprocess.run(["ngspice", "-b", str(path)], capture_output=True, text=True, check=False, cwd=folder)
        found = {int(name): float(amps) for name, amps in _READ.findall(said.stdout)}
        if len(found) != len(machines):
            raise ArithmeticError(f"ngspice did not finish {path.name}: {said.stdout[-500:]} {said.stderr[-500:]}")
        return [found[k] for k in range(len(machines))]

    with ThreadPoolExecutor(max_workers=2) as pool:
        return list(pool.map(one, enumerate(batches)))


def coil_of(stator, emf_peak_v=3.0, ohm=0.4, reactance_ratio=1.2, hz=100.0):
    """One coil for all machines; reactance is in proportion to resistance, so that start-up is over in a period."""
    henry = reactance_ratio * ohm / (2.0 * pi * hz)
    return {
        "emf_peak_v": emf_peak_v,
        "ohm": ohm,
        "henry": henry,
        "hz": hz,
        "slots": stator.slots,
        "poles": stator.poles,
    }
