"""A water jet as a kind of drive: nozzle, flow and runner; where its head is known from stands in `head`."""

from statorbook.cautions import PIPED, Exposure, Instruction
from statorbook.errors import BadInput
from statorbook.job.parts.drive.head import PIPE, RUNNING, HeadFields, head_asks, head_needs, kept_loss, pipe_of
from statorbook.job.parts.drive.kind import Kind, own_fields
from statorbook.job.parts.fields import labelled

_JET, _RUNNER = (Exposure.WATER,), (Exposure.WATER, Exposure.TURNING)


class WaterJetFields(HeadFields):
    """Head, jet and runner."""

    nozzle_mm: float | None = labelled(
        "Nozzle bore",
        "mm",
        "Bore of one nozzle; leave empty when the flow is given.",
        default=None,
        gt=0,
        le=500,
        next_step="measure the bore again",
        exposes=PIPED,
    )
    largest_nozzle_mm: float | None = labelled(
        "Largest nozzle bore",
        "mm",
        "The largest that you may ever fit; wires and fuse are sized for it. Empty when it is the one that runs.",
        default=None,
        gt=0,
        le=500,
        next_step="measure it, or leave it empty",
        exposes=_JET,
    )
    gauge_nozzle_mm: float | None = labelled(
        "Nozzle bore at the running gauge",
        "mm",
        "Of the nozzle that ran when the gauge was read; empty when it is the one above.",
        default=None,
        gt=0,
        le=500,
        next_step="measure that bore, or leave it empty",
        exposes=PIPED,
    )
    flow_l_s: float | None = labelled(
        "Flow",
        "L/s",
        "Of all nozzles together; leave empty when the bore is given.",
        default=None,
        gt=0,
        le=1000,
        next_step="time the filling of a bucket again",
        exposes=_JET,
    )
    bucket_l: float | None = labelled(
        "Bucket",
        "L",
        "Instead of the flow: a bucket under all nozzles.",
        default=None,
        gt=0,
        le=10_000,
        next_step="read how much the bucket holds",
        exposes=_JET,
    )
    bucket_s: float | None = labelled(
        "Time to fill it", "s", "Of that bucket.", default=None, gt=0, le=3600, next_step="time it again", exposes=_JET
    )
    jets: int = labelled(
        "Jets", "count", "Nozzles on the runner.", default=1, ge=1, le=6, next_step="count the nozzles"
    )
    pitch_diameter_mm: float | None = labelled(
        "Pitch diameter",
        "mm",
        "Circle on the runner that the jet touches.",
        default=None,
        gt=0,
        le=5000,
        next_step="measure the runner again",
        exposes=_RUNNER,
    )
    bucket_width_mm: float | None = labelled(
        "Bucket width",
        "mm",
        "Across one bucket; leave empty when not measured.",
        default=None,
        gt=0,
        le=2000,
        next_step="measure a bucket from edge to edge",
        exposes=_RUNNER,
    )
    efficiency: float = labelled(
        "Runner efficiency",
        "-",
        "Shaft power ÷ water power at the best speed.",
        default=0.7,
        assumed=True,
        gt=0,
        le=0.95,
        next_step="keep 0.7 unless you have measured it",
    )


class WaterJetKind(Kind):
    """One or more jets on a bucket runner, at the end of a pipe or beside a gauge."""

    name, noun, fields = "water jet", "a water jet", WaterJetFields
    first_too = ("head_from", "nozzle_mm")
    borrowed = ("runaway_ratio",)
    mended_in = {
        "nozzle or flow": "nozzle_mm",
        "Nozzle bore or Flow": "nozzle_mm",
        "runner and jet": "pitch_diameter_mm",
        "Bucket": "bucket_s",
    }
    said_too_by = {"nozzle_mm": ("flow_l_s", "bucket_l", "bucket_s")}

    def needs(self, given):
        """Those of the head, and the runner."""
        return (*head_needs(given), "pitch_diameter_mm")

    def asks(self, given):
        """Jet, runner, and of the head what belongs to the way that it is known."""
        silent = {*own_fields(HeadFields), "gauge_nozzle_mm"}.difference(head_asks(given))
        return tuple(name for name in super().asks(given) if name not in silent)

    def to_drive(self, part):
        """A `WaterJet`, or a `PipedJet` when a pipe or two gauges were given."""
        from statorbook.drives import PipedJet, WaterJet, require_bucket_width

        flow = _flow_l_s(part)
        if part.nozzle_mm is None and flow is None:
            raise BadInput(
                "neither was given but a water jet needs one",
                "a bore, a flow, or a bucket with its seconds is allowed",
                Instruction("measure the bore, or time the filling of a bucket", (Exposure.WATER, Exposure.PRESSURE)),
                where="Nozzle bore or Flow",
            )
        as_given = ("nozzle_mm", "largest_nozzle_mm", "jets", "pitch_diameter_mm", "efficiency", "runaway_ratio")
        jet = {name: getattr(part, name) for name in as_given} | {"flow_l_s": flow}
        if part.head_from == RUNNING:
            drive = WaterJet(head_m=part.head_m, **jet)
        else:
            drive = PipedJet(gross_head_m=part.gross_head_m, pipe=pipe_of(part, flow), **jet)
        if part.bucket_width_mm is not None:
            require_bucket_width(drive.jet_mm, part.bucket_width_mm)
        return drive

    def assumed_besides(self, part):
        """What a pipe is like inside."""
        return (("roughness and wall of the pipe, from its material", part.head_from == PIPE),)

    def cautions(self, part, drive):
        """A valve that is shut too fast, and a bucket that is narrow for the jet."""
        from statorbook.drives import bucket_caution

        closing = drive.pipe.closing_caution(drive.total_flow_l_s) if part.head_from == PIPE else ""
        width = part.bucket_width_mm
        return (closing, "" if width is None else bucket_caution(drive.jet_mm, width))

    def fields_for(self, part, values):
        """As every kind; the loss that two gauges showed stays."""
        return kept_loss(part, values) | super().fields_for(part, values)


def _flow_l_s(part):
    """The flow as given, or from the bucket; half a bucket reading is refused."""
    if (part.bucket_l is None) != (part.bucket_s is None):
        raise BadInput(
            "only one of the bucket and its seconds was given",
            "both or neither are allowed",
            "type the bucket's litres and the seconds that it takes to fill",
            where="Bucket",
        )
    if part.bucket_l is None:
        return part.flow_l_s
    if part.flow_l_s is not None:
        raise BadInput(
            "the flow and a timed bucket were given", "one of the two is allowed", "empty the other", where="Flow"
        )
    return part.bucket_l / part.bucket_s
