"""Which reading to take next: the one that parts most of what is still possible, the easiest places first."""

from dataclasses import replace

import numpy as np

from statorbook.cautions import SPUN, STILL, Instruction
from statorbook.operation import highest_touch_rpm
from statorbook.quantities import say
from statorbook.rewiring.faults.words import named_together
from statorbook.rewiring.probes import ALONE, LEAD_PAIRS

# What is worth a walk round the machine: leads hang free, the star point is sleeved, coil joints are sleeved and deep.
_EASE = {"leads": 1.0, "star": 0.9, "coils": 0.7}
_MOST_CLASSES, _LEAST_CHANCE, _LEAST_GAIN = 40, 1e-4, 1e-3
# The common scale is not known sharply, so the next reading tells a little less than its own sigma.
_WIDER = 1.5
# A step of this many sigma parts two outcomes.
_OUTCOME_SIGMAS = 3.0
_MOST_OUTCOMES = 4


def next_reading(evidence, chance, wired):
    """Name of the next probe, kinds of reading there, and its Instruction; empty when nothing would be learnt."""
    # Equation: gain = Σ pi pj (1 − exp(−d²/8)), d = difference of the expected readings over sigma: the drop of the
    #     chance that two draws from what is possible are taken for the same.
    # Valid: normal errors; the Bhattacharyya overlap of two normal curves of one width.
    # Source: Bhattacharyya coefficient of two normals (from memory).
    table = evidence.table
    likely = np.zeros(len(chance))
    np.add.at(likely, table.alike, chance)
    rows = [row for row in np.argsort(-likely, kind="stable")[:_MOST_CLASSES] if likely[row] > _LEAST_CHANCE]
    open_now = _open_probes(evidence)
    if len(rows) < 2 or not open_now:
        return "", (), ""
    told = _overlap_lost(evidence, rows, open_now)
    weight = np.outer(likely[rows], likely[rows])
    gains = np.array([(weight * part).sum() for part in told])
    scores = gains * [_EASE[_sort_of(name)] for name in open_now]
    best = int(np.argmax(scores))
    if gains[best] < _LEAST_GAIN:
        return "", (), ""
    name = list(open_now)[best]
    return name, open_now[name], _words(_slow_enough(evidence), name, open_now[name], rows, likely, wired)


def _slow_enough(evidence):
    """The hand no faster than keeps the healthy machine's open ends within the touch limit."""
    volts = evidence.table.line_volts_rms
    most = highest_touch_rpm(float(np.max(volts[np.isfinite(volts)], initial=0.0)) / evidence.speed_rpm)
    return replace(evidence, hand_rpm=min(evidence.hand_rpm, most))


def _open_probes(evidence):
    """Kinds of reading that are still missing at each pair of places that can be reached now."""
    done = {(name, reading.kind) for name, reading in zip(evidence.probes, evidence.measured, strict=True)}
    found = {}
    for name, probe in evidence.table.probes.items():
        kinds = tuple(kind for kind in ("ohms", "volts") if (name, kind) not in done)
        if kinds and (evidence.table.apart or probe.when != ALONE):
            found[name] = kinds
    return found


def _sort_of(name):
    return "leads" if name in LEAD_PAIRS else "star" if name.endswith("star") else "coils"


def _overlap_lost(evidence, rows, open_now):
    """For each probe, how surely its readings part each two of the faults."""
    table, total = evidence.table, []
    places = np.array([table.columns[name] for name in open_now])
    for kind, values in (("ohms", table.ohms), ("volts", table.line_volts_rms)):
        wanted = np.array([kind in kinds for kinds in open_now.values()])
        expected = values[np.ix_(rows, places)].T
        size = np.where(np.isfinite(expected), expected, 0.0)
        sigma = _WIDER * np.hypot(evidence.sigma_share * size, evidence.floors[kind])
        gap = size[:, :, None] - size[:, None, :]
        apart = gap**2 / np.maximum(sigma[:, :, None], sigma[:, None, :]) ** 2
        there = np.isfinite(expected)
        # Open or not is plain to see on ohms, less so on volts, which wander.
        apart = np.where(there[:, :, None] & there[:, None, :], apart, 0.0)
        apart += np.where(there[:, :, None] != there[:, None, :], 60.0 if kind == "ohms" else 6.0, 0.0)
        total.append(np.where(wanted[:, None, None], apart, 0.0))
    return 1.0 - np.exp(-(total[0] + total[1]) / 8.0)


def _words(evidence, name, kinds, rows, likely, wired):
    probe = evidence.table.probes[name]
    turned = f"the rotor turned by hand or by a slow drill at {say(evidence.hand_rpm, 'rpm')}, no faster"
    volts = f"the volts with the leads open, the meter clipped on first and {turned}"
    doing = {"ohms": "the ohms with the rotor still", "volts": volts}
    what = " and ".join(doing[kind] for kind in kinds)
    # What has less than a hundredth of the chance is not worth words.
    told = [row for row in rows if likely[row] > 0.01 * likely[rows].max()]
    outcomes = _outcomes(evidence, name, kinds, told if len(told) > 1 else rows[:2], likely, wired)
    spun = SPUN if "volts" in kinds else ()
    words = f"Measure {what}, {probe.words}{_through(probe, wired)}. {' '.join(outcomes)}"
    return Instruction(words, (*(STILL if "ohms" in kinds else ()), *spun))


def _through(probe, wired):
    """For a stretch of coils, which coils lie in it, so that the joints can be counted along the path."""
    ends = probe.ends
    if len(ends) < 2 or ends[0].tooth == ends[1].tooth:
        return ""
    for path in wired.named_paths.values():
        teeth = [tooth for tooth, _ in path]
        if ends[0].tooth in teeth:
            inside = teeth[teeth.index(ends[0].tooth) : teeth.index(ends[1].tooth) + 1]
            return f" (the joints before and after the coils {', '.join(map(str, inside))})"
    return ""


def _outcomes(evidence, name, kinds, rows, likely, wired):
    """What the likelier values of the more telling kind would mean, each a sentence."""
    bins = max((_bins(evidence, name, kind, rows) + (kind,) for kind in kinds), key=lambda binned: len(binned[0]))
    groups, values, kind = bins
    found = []
    for group, value in zip(groups, values, strict=True):
        faults = tuple(
            f for row in group for k, f in enumerate(evidence.table.faults) if evidence.table.alike[k] == row
        )
        shown = _shown(value, kind, evidence)
        found.append((float(likely[list(group)].sum()), shown, faults))
    found.sort(key=lambda outcome: -outcome[0])
    shown = found[:_MOST_OUTCOMES]
    said = [f"{value}: {named_together(faults, wired)}." for _, value, faults in shown]
    return said + (["Anything else: type it in and see."] if len(found) > len(shown) else [])


def _shown(value, kind, evidence):
    """An expected reading in words, volts at the hand speed."""
    unit = "Ω" if kind == "ohms" else "V"
    if not np.isfinite(value):
        return "OL" if kind == "ohms" else "Volts that wander"
    value *= 1.0 if kind == "ohms" else evidence.hand_rpm / evidence.speed_rpm
    return f"About {say(value, unit)}" if value > evidence.floors[kind] else f"Nearly 0 {unit}"


def _bins(evidence, name, kind, rows):
    """Faults sorted by expected reading and parted where the step is plain."""
    table = evidence.table
    values = (table.ohms if kind == "ohms" else table.line_volts_rms)[rows, table.columns[name]]
    values = np.where(np.isfinite(values), values, np.inf)
    groups, means, last = [], [], None
    for place in np.argsort(values, kind="stable"):
        value = values[place]
        sigma = np.hypot(evidence.sigma_share * value, evidence.floors[kind]) if np.isfinite(value) else 0.0
        new = last is None or (value != last and value - last > _OUTCOME_SIGMAS * sigma)
        if new:
            groups.append([])
            means.append([])
        groups[-1].append(rows[place])
        means[-1].append(value)
        last = value
    return groups, [float(np.mean(values)) for values in means]
