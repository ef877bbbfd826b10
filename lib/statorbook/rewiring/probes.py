"""Where the two probes of the meter go: names for pairs of leads, single paths and single coils."""

import re
from dataclasses import dataclass

from statorbook.errors import BadInput
from statorbook.winding import PHASES, STAR_POINT, CoilEnd, ends_in_order

LEAD_PAIRS = ("A-B", "B-C", "C-A")
ALONE, FINISHED = "alone", "finished"
IRON = "iron"
_TWO_ENDS = re.compile(r"([0-9]{1,3})([sf])([0-9]{1,3})([sf])")


@dataclass(frozen=True, kw_only=True)
class Probe:
    """Two places that the meter is put on."""

    name: str  # "A-B" for two leads, "A-star", "A2" for a path not joined to others yet, "tooth 7" for a coil
    when: str  # ALONE before leads and star point are made, FINISHED after
    places: tuple  # two: a CoilEnd, or the name of a net such as "lead A" or "star point"

    @property
    def words(self):
        """Where to put the probes, in words."""
        return "from {} to {}".format(*self.place_words)

    @property
    def place_words(self):
        """The names of its two places."""
        return tuple(place.label if isinstance(place, CoilEnd) else place for place in self.places)

    @property
    def ends(self):
        """Those of its places that are coil ends."""
        return [place for place in self.places if isinstance(place, CoilEnd)]


def probes_of(wired):
    """Every pair of places that a check of this winding may ask for.

    Parameters
    ----------
    wired : Wiring
        The winding as it will be wired.

    Returns
    -------
    dict of str to Probe
        By name: paths alone first, then leads, then single coils.
    """
    found = [Probe(name=name, when=ALONE, places=ends_in_order(*path)) for name, path in wired.named_paths.items()]
    for pair in LEAD_PAIRS:
        found.append(Probe(name=pair, when=FINISHED, places=tuple(f"lead {phase}" for phase in pair.split("-"))))
    if wired.connection == "star":
        for phase in PHASES:
            found.append(Probe(name=f"{phase}-star", when=FINISHED, places=(f"lead {phase}", STAR_POINT)))
    for tooth in range(1, wired.stator.slots + 1):
        found.append(Probe(name=f"tooth {tooth}", when=FINISHED, places=ends_in_order((tooth, 1))))
    return {probe.name: probe for probe in found}


def probe_named(wired, name):
    """One of `probes_of`, a lead to the iron, or two coil ends, however the name was typed; refused when unknown."""
    probes = probes_of(wired)
    known = {squeezed(probe): probe for probe in probes}
    known |= {squeezed(f"{pair[2]}-{pair[0]}"): pair for pair in LEAD_PAIRS}
    known |= {str(tooth): f"tooth {tooth}" for tooth in range(1, wired.stator.slots + 1)}
    typed = squeezed(name)
    found = probes.get(known.get(typed)) or _lead_to_iron(typed) or _two_ends(wired, typed)
    if found is None:
        paths = list(wired.named_paths)
        raise BadInput(
            f"{name.strip()[:40]!r} was given",
            f"two leads such as A-B, a path from {paths[0]} to {paths[-1]}, a coil such as tooth 7, two coil ends such "
            "as 1F-4S, or a lead to the iron such as A-iron is allowed",
            "choose where the probes were",
            where="between",
        )
    return found


def between_ends(one, other):
    """Two coil ends as a probe in the middle of the work, named like "1F-4S", the lower tooth first."""
    first, second = sorted((one, other))
    return Probe(name=f"{first.label}-{second.label}", when=ALONE, places=(first, second))


def _lead_to_iron(typed):
    lead = typed.removesuffix(IRON).removeprefix("lead").upper()
    if not typed.endswith(IRON) or lead not in PHASES:
        return None
    return Probe(name=f"{lead}-{IRON}", when=FINISHED, places=(f"lead {lead}", IRON))


def _two_ends(wired, typed):
    found = _TWO_ENDS.fullmatch(typed)
    if not found or found[1] + found[2] == found[3] + found[4]:
        return None
    if not all(1 <= int(tooth) <= wired.stator.slots for tooth in found.group(1, 3)):
        return None
    ends = (CoilEnd(tooth=int(tooth), side=side.upper()) for tooth, side in (found.group(1, 2), found.group(3, 4)))
    return between_ends(*ends)


def squeezed(name):
    """A name however it was typed: small letters and digits alone."""
    return "".join(sign for sign in name.lower() if sign.isalnum())
