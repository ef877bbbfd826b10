"""What sizes of cable or pipe come to, in sentences."""

from math import isfinite


def pays_words(names, kwh, prices, found, *, years):
    """Which of the sizes on offer pays.

    Parameters
    ----------
    names : sequence of str
        Sizes, as they are called.
    kwh : ndarray
        Of a year, shape (n,) [kWh].
    prices : ndarray
        Of the whole run, shape (n,) [in the reader's money].
    found : Payback
        Worked out from them.
    years : float
        How many years are counted [-].

    Returns
    -------
    str
        Sentences.
    """
    best, first = found.best, found.order[0]
    said = [
        f"Of the sizes priced {names[best]} leaves most over {years:g} years: {kwh[best]:.0f} kWh a year for "
        f"{prices[best]:.0f}"
    ]
    if best != first:
        said[0] += (
            f", over {names[first]} {kwh[best] - kwh[first]:+.1f} kWh a year for "
            f"{prices[best] - prices[first]:.0f} more"
        )
    dearer = found.order[found.order.index(best) + 1 :]
    if dearer:
        step = found.step_years[dearer[0]]
        said.append(
            f"The step to {names[dearer[0]]} would pay back in {step:.3g} years"
            if isfinite(step)
            else f"The step to {names[dearer[0]]} never pays back"
        )
    else:
        said.append("It is the dearest of them: a larger one may pay too, price one more")
    return ". ".join(said) + "."


def sizes_words(names, kwh, works):
    """What the sizes give, in a sentence or two.

    Parameters
    ----------
    names : sequence of str
        Sizes from small to large, as they are called, behind what the job has.
    kwh : ndarray
        Of a year, shape (n,); not a number where the water cannot run through [kWh].
    works : sequence of bool
        Which of them can be used.

    Returns
    -------
    str
        What the smallest and the largest that can be used give beside what the job has.
    """
    said = f"As it is ({names[0]}): {kwh[0]:.0f} kWh a year."
    usable = [at for at in range(1, len(names)) if works[at]]
    if not usable:
        return said
    low, high = usable[0], usable[-1]
    said += "".join(f" {names[at]}: {kwh[at]:.0f} kWh." for at in dict.fromkeys((low, high)))
    if kwh[low] - kwh[high] > 0.5:
        said += (
            " Thicker gives less here, since its few ohms hold the rotor slower than is best: that is no reason for a "
            "thin cable, but one to look at another grouping or at what may stand between."
        )
    return said
