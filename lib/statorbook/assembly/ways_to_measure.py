"""How each thing that an answer hangs on is measured, and what is left of its own ± then."""

from dataclasses import dataclass

from statorbook.cautions import SPUN, SPUN_HOT, Exposure, Instruction
from statorbook.choice import COPPER_STEP_K, MAGNET_STEP_K
from statorbook.quantities import Fact

_TRADE = "common practice, no source"
MORE_ROWS = Fact(value=0.5, unit="± over ± before", source=f"what a few more rows reach, {_TRADE}", low=0.3, high=0.9)
_COUNTED_OUT = 0.0  # a typed value is reckoned with as if it were exact
_HOT_AT_REST = (Exposure.STANDING, Exposure.BANK, Exposure.HEAT)
_ON_SKIN = (Exposure.STANDING, Exposure.BANK)
_RUN = (*SPUN, Exposure.BANK)
_COPPER_LEFT = COPPER_STEP_K.low / COPPER_STEP_K.value
_MAGNET_LEFT = MAGNET_STEP_K.low / MAGNET_STEP_K.value
# Of these the ± is that of a measurement already where they were measured: a second one narrows nothing.
AT_WORK = ("copper_c", "magnet_c")


@dataclass(frozen=True)
class Way:
    """A way to measure something."""

    instruction: Instruction  # a clause
    left: float  # of its own ±, over what it was before [-]


def _run_log(also, what):
    return (
        f"once it runs, log speed, bank volts and amps on page 08_first_run {also}: by the share that the source gives "
        f"more or less than promised, change the {what} on page 03_what_turns_it"
    )


_RUNAWAY = Way(
    Instruction(
        "ask its maker and type it on page 03_what_turns_it; never let it run away to find out", harmless="a question"
    ),
    _COUNTED_OUT,
)
# By the name of an input: how it is measured, and what is left of its ± then.
WAYS = {
    "emf_v_per_rpm": Way(
        Instruction(
            "log more rows of volts at known speed on page 02_spin_and_log, as fast as is safe with the meter clipped "
            "on, with a volt meter of a better class",
            SPUN,
        ),
        MORE_ROWS.value,
    ),
    "ohm": Way(
        Instruction(
            "log the ohms of all three pairs of leads again on page 01_know_your_stator, by a known current of about "
            "1 A and the volts across the leads",
            (Exposure.STANDING, Exposure.SUPPLY),
        ),
        MORE_ROWS.value,
    ),
    "henry": Way(
        Instruction(
            "log more rows with joined leads on page 02_spin_and_log, as fast as the leads stay cool, seconds only",
            SPUN_HOT,
        ),
        MORE_ROWS.value,
    ),
    "copper_c": Way(
        Instruction(
            "after hours at steady amps stop it, read the ohms between two leads within half a minute, and type the "
            "long run on page 06_protect_it",
            _HOT_AT_REST,
        ),
        _COPPER_LEFT,
    ),
    "magnet_c": Way(
        Instruction(
            "after hours at steady amps stop it, hold a thermometer's tip on the ring beside a magnet, and type it "
            "under “How hot the winding gets” on page 06_protect_it as magnets at work",
            (*_HOT_AT_REST, Exposure.MAGNETS),
        ),
        _MAGNET_LEFT,
    ),
    "diode_drop_v": Way(
        Instruction(
            "with the rectifier off and on the bench, let a known current of some amps from a supply with a current "
            "limit flow through one diode for a moment, read the volts across it, and type them on page "
            "04_choose_a_grouping; its data sheet will do as well",
            (Exposure.STANDING, Exposure.BANK, Exposure.SUPPLY),
        ),
        _COUNTED_OUT,
    ),
    "cable_ohm": Way(
        Instruction("pace the run, read the size printed on the cable, and type both on page 06_protect_it", _ON_SKIN),
        _COUNTED_OUT,
    ),
    "ac_cable_ohm": Way(
        Instruction("pace the run, read the size printed on the cable, and type both on page 06_protect_it", _ON_SKIN),
        _COUNTED_OUT,
    ),
    "converter_efficiency": Way(
        Instruction("read it in the converter's manual and type it on page 04b_add_up_the_year", harmless="reading"),
        _COUNTED_OUT,
    ),
    "converter_idle_watts": Way(
        Instruction("read it in the converter's manual and type it on page 04b_add_up_the_year", harmless="reading"),
        _COUNTED_OUT,
    ),
    "drag_nm": Way(
        Instruction(
            "hang a spring scale on a lever of known length, read the pull that just keeps the unloaded rotor turning "
            "by hand, and type it on page 03_what_turns_it",
            (Exposure.LEVER, Exposure.VOLTS),
        ),
        _COUNTED_OUT,
    ),
    "efficiency": Way(
        Instruction(
            _run_log("while the gauge beside the nozzle shows the head", "runner efficiency"),
            (*_RUN, Exposure.PRESSURE, Exposure.WATER),
        ),
        _COUNTED_OUT,
    ),
    "power_coefficient": Way(
        Instruction(_run_log("together with the wind at the hub", "power coefficient"), (*_RUN, Exposure.HEIGHT)),
        _COUNTED_OUT,
    ),
    "tip_speed_ratio": Way(
        Instruction(
            "ask whoever made or drew the blades for the tip speed ratio of most power, and type it on page "
            "03_what_turns_it",
            harmless="a question",
        ),
        _COUNTED_OUT,
    ),
    "shear_exponent": Way(
        Instruction(
            "read the wind at the height of the hub itself, with an anemometer that is hoisted from the ground, and "
            "type wind and height on page 03_what_turns_it",
            (Exposure.HEIGHT,),
        ),
        _COUNTED_OUT,
    ),
    "storm_m_s": Way(
        Instruction(
            "ask the weather service for the strongest gust of 50 years, and type it on page 03_what_turns_it",
            harmless="a question",
        ),
        _COUNTED_OUT,
    ),
    "chain_efficiency": Way(
        Instruction(
            _run_log("while a meter in crank or pedals shows the rider's watts", "chain or belt efficiency"),
            (*_RUN, Exposure.CHAIN),
        ),
        _COUNTED_OUT,
    ),
    "cadence_rpm": Way(
        Instruction(
            "count the turns of a crank in a minute of riding, and type them on page 03_what_turns_it",
            (Exposure.CHAIN, *SPUN),
        ),
        _COUNTED_OUT,
    ),
    "droop": Way(
        Instruction(
            "read the engine's speed at full load and without load, and type what it gains on page 03_what_turns_it",
            (Exposure.ENGINE, *SPUN),
        ),
        _COUNTED_OUT,
    ),
    "belt_efficiency": Way(
        Instruction("ask the belt's maker for it, and type it on page 03_what_turns_it", harmless="a question"),
        _COUNTED_OUT,
    ),
    "runaway_ratio": _RUNAWAY,
    "overspeed_ratio": _RUNAWAY,
    "hours": Way(
        Instruction(
            "type a weather record's hours at each wind, or a year's log of your own, on page 04b_add_up_the_year",
            (Exposure.HEIGHT,),
        ),
        _COUNTED_OUT,
    ),
}
# Why nothing narrows the others.
NO_WAY = {
    "source": "that much is taken of every reading of a source, however good",
    "speed_ratio": "no page asks for it",
    "inner_ohm": "no page asks for it yet",
    "cold_c": "the coldest night to come cannot be measured",
}
