"""A bench drawing in words, for whoever cannot see it."""


def in_words(plan, names):
    """Say what the drawing of a plan shows.

    Parameters
    ----------
    plan : Plan
        The work as data.
    names : dict of int to str
        The path of each coil, such as "A2", by tooth.

    Returns
    -------
    str
        Every coil, every cut, every jumper, and what is on each ring in the end.
    """
    cuts = [
        f"cut {number}: {_labels(cut.ends, ' to ')}{f' off {cut.off}' if cut.off else ''}"
        for number, cut in enumerate(plan.cuts, 1)
    ]
    joins = [f"jumper {join.number}, path {join.path}: {_labels(join.ends, ' to ')}" for join in plan.joins]
    rings = [f"{name}: {_labels(ends, ', ')}" for name, ends in plan.buses.items()]
    coils = ", ".join(f"{tooth} {name}" for tooth, name in sorted(names.items()))
    return (
        f"Stator with {plan.found.stator.slots} teeth, tooth 1 at the mark on top, numbered clockwise, for "
        f"{plan.grouping.label}; on each coil the start S comes before the finish F. Path of each coil: {coils}. "
        f"Cuts: {'; '.join(cuts) or 'none'}. Jumpers: {'; '.join(joins) or 'none'}. "
        f"In the end each ring holds: {'; '.join(rings)}."
    )


def _labels(ends, between):
    return between.join(end.label for end in ends)
