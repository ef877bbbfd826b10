"""What the reader calls teeth and phases: the machine's pattern under the names and the mark of the traced wires."""

from dataclasses import replace
from itertools import permutations

from statorbook.winding.stator import PHASE_NAMES


def named_as_traced(stator, phase_of_tooth):
    """The stator with those phase names and that mark which disagree with the traced wires about the fewest teeth."""
    # Leads are named by whoever traces them, the mark is anywhere, and the teeth may be counted either way round: that
    # is the same machine, whose pattern begins at another tooth under other letters.
    plain = replace(stator, phase_names=PHASE_NAMES, mark_teeth=0)
    best = (_misfits(plain, phase_of_tooth), plain)
    for teeth in range(stator.slots // stator.symmetry):  # after that the pattern repeats
        for letters in permutations(PHASE_NAMES):
            if best[0] == 0:
                return best[1]
            named = replace(stator, phase_names="".join(letters), mark_teeth=teeth)
            best = min(best, (_misfits(named, phase_of_tooth), named), key=lambda pair: pair[0])
    return best[1]


def naming_words(stator):
    """What the reader calls differently from what tooth order alone would say.

    Parameters
    ----------
    stator : Stator
        From `named_as_traced`.

    Returns
    -------
    str
        A sentence or two; empty when nothing differs.
    """
    said = []
    pairs = zip(PHASE_NAMES, stator.phase_names, strict=True)
    if moved := ", ".join(f"{usual} is your {own}" for usual, own in pairs if usual != own):
        said.append(f"The phases carry your own names: in the usual pattern {moved}.")
    if stator.mark_teeth:
        said.append(
            f"Your mark, tooth 1, stands where the usual pattern has tooth {stator.mark_teeth + 1}; your "
            "tooth numbers are kept."
        )
    return " ".join(said)


def _misfits(stator, phase_of_tooth):
    return sum(phase_of_tooth.get(coil.number) != coil.phase for coil in stator.coils)
