"""The logs of the controller: what the house takes hour by hour, the rules, and the relays; read in `charging`."""

from statorbook.bench.columns import NOTE
from statorbook.bench.log import Column, Log, spelt

HOUSE_LOADS_LOG = Log(
    name="house_loads",
    columns=(
        Column(name="appliance", label="Appliance", unit="text", usual=("appliance", "load", "what", "device")),
        Column(name="watts", label="Watts", unit="W", limits=(0, 50_000), usual=("W", "power", "watts")),
        Column(
            name="surge_watts",
            label="Watts at the start",
            unit="W",
            limits=(0, 100_000),
            usual=("surge", "start watts", "starting watts", "inrush"),
            may_be_missing=True,
        ),
        Column(name="from_hour", label="From", unit="h", limits=(0, 23), usual=("from", "from hour", "hour")),
        Column(name="to_hour", label="To", unit="h", limits=(1, 24), usual=("to", "to hour", "until")),
        Column(
            name="minutes",
            label="On in each hour",
            unit="min",
            limits=(0, 60),
            usual=("minutes", "min", "minutes an hour", "on minutes"),
        ),
        NOTE,
    ),
)
CONTROL_RULES_LOG = Log(
    name="control_rules",
    columns=(
        Column(name="rule", label="Rule", unit="name", usual=("rule", "name")),
        Column(name="output", label="Switches", unit="output", usual=("output", "switches")),
        Column(name="action", label="Action", unit="on or off", words=spelt("on", "off"), usual=("action",)),
        Column(name="input", label="Looks at", unit="input", usual=("input", "looks at")),
        Column(
            name="side",
            label="Takes hold",
            unit="side",
            words=spelt("at or above", "at or below", "yes", "no"),
            usual=("side", "takes hold", "when"),
        ),
        Column(name="on_at", label="Limit", unit="number", usual=("limit", "on at")),
        Column(name="off_at", label="Lets go at", unit="number", usual=("lets go", "off at", "back at")),
        Column(name="on_delay_s", label="Held for", unit="s", limits=(0, 86_400), usual=("held for", "on delay")),
        Column(
            name="off_delay_s",
            label="Let go after",
            unit="s",
            limits=(0, 86_400),
            usual=("let go", "off delay"),
            rare=True,
        ),
        Column(
            name="least_on_s", label="At least on", unit="s", limits=(0, 86_400), usual=("at least on", "minimum on")
        ),
        Column(name="only_if", label="Only if", unit="names", usual=("only if", "needs")),
        Column(name="priority", label="Priority", unit="number", limits=(1, 99), usual=("priority",)),
        NOTE,
    ),
)
CONTROL_RELAYS_LOG = Log(
    name="control_relays",
    columns=(
        Column(name="relay", label="Relay", unit="number", limits=(1, 32), usual=("relay", "relay number")),
        Column(name="output", label="Switches", unit="output", usual=("output", "switches")),
        Column(
            name="contact",
            label="Contact",
            unit="contact",
            words=spelt("normally open", "normally closed"),
            usual=("contact", "NO or NC"),
        ),
        Column(
            name="contact_volts",
            label="Contact's volts",
            unit="V",
            limits=(1, 1_500),
            usual=("contact volts", "rated volts"),
            may_be_missing=True,
        ),
        Column(
            name="contact_amps",
            label="Contact's amps",
            unit="A",
            limits=(0.01, 1_000),
            usual=("contact amps", "rated amps"),
            may_be_missing=True,
        ),
        Column(
            name="contact_current",
            label="AC or DC",
            unit="kind",
            words=spelt("AC", "DC"),
            usual=("AC or DC", "rated for"),
            may_be_missing=True,
        ),
        NOTE,
    ),
)
