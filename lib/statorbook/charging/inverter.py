"""The inverter between bank and sockets: what a usual one is, what it draws, and whether the house suits it."""

from statorbook.charging.plan import Inverter
from statorbook.protection import two_figures
from statorbook.quantities import INVERTER_EFFICIENCY, INVERTER_IDLE_WATTS, Fact, rounded_up, say

SURGE_RATIO = Fact(
    value=2.0,
    unit="watts for a few seconds over watts for hours",
    source="sheets of small inverters, common practice, no source",
    low=1.5,
    high=3.0,
)
ROOM = Fact(
    value=1.25,
    unit="inverter's watts for hours over the most that runs at once",
    source="common practice, no source",
    low=1.0,
    high=1.5,
)
_LEAST_WATTS = 100.0
_NAMED = 3  # appliances in a sentence


def usual_inverter(
    points, day, *, heater_watts=0.0, efficiency=INVERTER_EFFICIENCY.value, idle_watts=INVERTER_IDLE_WATTS.value
):
    """An inverter that a house would be given.

    Parameters
    ----------
    points : SetPoints
        Of the bank.
    day : HouseDay
        What the house takes.
    heater_watts : float
        Of a heater that the controller puts on it beside the house [W].
    efficiency : float
        AC watts over DC watts, the idle watts left out [-].
    idle_watts : float
        Taken with nothing plugged in [W].

    Returns
    -------
    Inverter
        With room above the most that runs, and a start of its own kind; it trips between the bank's cut-off and its
        lowest volts, and from its highest volts on.
    """
    asked = ROOM.value * (day.most_watts + heater_watts), (day.most_start_watts + heater_watts) / SURGE_RATIO.value
    rated = rounded_up(max(*asked, _LEAST_WATTS))
    return Inverter(
        rated_watts=rated,
        surge_watts=SURGE_RATIO.value * rated,
        efficiency=efficiency,
        idle_watts=idle_watts,
        trips_below_volts=0.5 * (points.cut_off_volts + points.least_volts),
        back_above_volts=points.return_volts,
        trips_above_volts=points.most_volts,
    )


def heater_watts_of(*heated):
    """The most that a heater on the inverter takes.

    Parameters
    ----------
    *heated : Cylinder or Room
        What it warms; None for none.

    Returns
    -------
    float
        The larger of them, since water is heated first and the room after it [W].
    """
    return max((each.heater_watts for each in heated if each), default=0.0)


def inverter_bank_watts(inverter, ac_watts):
    """Watts that an inverter draws from the bank while its sockets give some [W]."""
    # The efficiency is taken as the same at every load; small loads have less, in which the idle watts stand for most.
    return inverter.idle_watts + ac_watts / inverter.efficiency


def at_once_words(day, minute):
    """Names of what runs in a minute of a `HouseDay`, the largest of it, in a sentence."""
    names = day.names_at(minute)
    names = (*names[:_NAMED], "others") if len(names) > _NAMED + 1 else names
    return " and ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))


def feed_noun(inverter):
    """What feeds the house, as a noun: a DC house has no inverter."""
    return "feed" if inverter.efficiency == 1.0 and not inverter.idle_watts else "inverter"


def trips_words(inverter, day, heater_watts=0.0):
    """Whether what an inverter gives is enough for a `HouseDay` beside a heater, in sentences."""
    noun, said = feed_noun(inverter), []
    if day.most_watts > inverter.rated_watts:
        said.append(f"That is more than the {_watts(inverter.rated_watts)} of the {noun}: it trips then.")
    elif day.most_watts + heater_watts > inverter.rated_watts:
        said.append(
            f"With a heater of {_watts(heater_watts)} beside it that is more than the "
            f"{_watts(inverter.rated_watts)} of the {noun}: it trips when both run."
        )
    if day.most_start_watts > inverter.surge_watts:
        said.append(f"The {noun} gives {_watts(inverter.surge_watts)} for some seconds: it may trip at that start.")
    return " ".join(said) or f"The {noun} stands that."


def trip_volts_words(inverter, points):
    """What of its trip volts does not suit the set-points, in sentences; empty when all do."""
    said, noun = [], feed_noun(inverter)
    if inverter.trips_below_volts >= points.cut_off_volts:
        said.append(
            f"The {noun} trips at {_volts(inverter.trips_below_volts)}, before the cut-off at "
            f"{_volts(points.cut_off_volts)} acts: raise the cut-off, or lower its trip."
        )
    if inverter.trips_above_volts <= points.absorption_volts:
        said.append(
            f"The {noun} trips at {_volts(inverter.trips_above_volts)}, below the {_volts(points.absorption_volts)} of "
            "absorption: it stops each time the bank gets full, when heaters on it are needed most."
        )
    return " ".join(said)


def _watts(watts):
    return two_figures(watts, "W")


def _volts(volts):
    return say(volts, "V", form=".1f")
