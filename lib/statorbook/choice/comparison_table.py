"""The comparison as a table for the reader."""


def table(comparison):
    """The comparison as a table for the reader.

    Parameters
    ----------
    comparison : Comparison
        What `compare` returned.

    Returns
    -------
    pandas.DataFrame
        One line per grouping, units in the column names.
    """
    import pandas as pd

    def line(row):
        empty, half, charging = row.points
        return {
            "grouping": row.grouping.label,
            "verdict": row.verdict,
            "runaway [V DC peak]": round(row.runaway.dc_volts_peak),
            "runaway [V AC line rms]": round(row.runaway.line_volts_rms),
            "guard fails [V DC peak]": round(row.unguarded.dc_volts_peak),
            "danger": row.runaway.word,
            "most amps DC": round(row.most.dc_amps, 1),
            "cut-in [rpm]": round(row.cut_in_rpm),
            "speed [rpm]": round(half.speed_rpm),
            "amps DC": round(half.dc_amps, 1),
            "watts": round(half.bank_watts),
            "watts, empty": round(empty.bank_watts),
            "watts, charging": round(charging.bank_watts),
            "watts, cold": round(row.cold_point.bank_watts),
            "coil [A rms]": round(row.coil_amps_rms, 2),
            "coil [A/mm²]": round(row.amps_per_mm2, 1),
            "open [V AC line rms]": round(row.working.line_volts_rms),
            "why": row.reason,
        }

    return pd.DataFrame([line(row) for row in comparison.rows])
