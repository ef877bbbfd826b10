"""Every check of the spin, shorted and ohms logs, those of the coil's constants, in one table."""

from statorbook.fits.constants import resting_c, terminal_constants
from statorbook.fits.model_checks import Check, ohms_checks, spin_checks
from statorbook.fits.shorted import ShortedRows
from statorbook.fits.shorted_model import shorted_checks


def log_checks(logs, stator, *, conductor="copper", magnet="ferrite", keep_all=False):
    """Check the spin, shorted and ohms logs of the machine as found against the model.

    Parameters
    ----------
    logs : Logs
        The readings.
    stator : Stator
        Slots and poles.
    conductor : str
        "copper" or "aluminium".
    magnet : str
        "ferrite" or "neodymium".
    keep_all : bool
        True uses every usable row, odd or not.

    Returns
    -------
    tuple of Check
        Of the volts, the amps, the ohms.

    Raises
    ------
    BadInput
        When the spin log or the ohms log has no usable row.
    """
    metals = {"conductor": conductor, "magnet": magnet}
    found = terminal_constants(logs, stator, **metals, keep_all=keep_all)
    return (
        *spin_checks(logs.spin, found.emf_fit),
        *_amps(logs, found, stator, metals),
        *ohms_checks(logs.ohms, found.ohms_fit, conductor=conductor),
    )


def shorted_rows_of(logs, found, stator, **metals):
    """The usable rows of the shorted log with the machine as warm as it was at rest.

    Parameters
    ----------
    logs : Logs
        The readings.
    found : TerminalConstants
        What the leads show.
    stator : Stator
        Slots and poles.
    **metals : str
        Conductor and magnet, as for `terminal_constants`.

    Returns
    -------
    ShortedRows
        The rows; none when there is no usable one.
    """
    usable = [r for r in logs.shorted if r.usable]
    return ShortedRows.at(usable, found.emf_v_per_rpm, found.ohm, stator, machine_c=resting_c(logs.ohms), **metals)


def _amps(logs, found, stator, metals):
    if found.inductance_fit is None:
        return (Check(name="The amps level off", words="join the leads and log the amps at four speeds or more"),)
    return shorted_checks(shorted_rows_of(logs, found, stator, **metals), found.inductance_fit.used_rows)
