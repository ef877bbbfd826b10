"""The compiled seconds of simulated days as plain Python, so that a few of them are tried in no time."""

from samples.charging_samples import plan
from statorbook.charging.days import day_plan, empty_record, faults_at, first_midnight


def uncompile(monkeypatch):
    """Put in the place of every compiled function what it was compiled from."""
    from statorbook.charging import day_bus, day_controls, day_kernel, rest_kernel

    for module in (day_bus, day_controls, day_kernel, rest_kernel):
        for name, value in list(vars(module).items()):
            if plain := getattr(value, "py_func", None):
                plain.py_func = plain  # for those who ask the compiled one for it
                monkeypatch.setattr(module, name, plain)


def changed(row, **changes):
    """A named tuple with some of its fields changed."""
    kind = type(row)
    return kind(**dict(zip(kind.__annotations__, row, strict=True)) | changes)


class Moment:
    """A plan at some moment: what the kernel takes, to be changed at will."""

    def __init__(self, made=None, *, charge=0.5, events=(), second=0, **changes):
        self.made = plan() if made is None else made
        self.plan = changed(day_plan(self.made), **changes)
        self.state, self.record = first_midnight(self.made, self.plan, charge), empty_record(2)
        self.happen(*events, second=second)

    @property
    def now(self):
        """Volts, amps, temperatures."""
        return self.state.now

    @property
    def mode(self):
        """What is latched."""
        return self.state.mode

    @property
    def watts(self):
        """Where they flow."""
        return self.state.watts

    def happen(self, *events, second=0):
        """From now on these events are so."""
        self.faults = faults_at(events, second)
