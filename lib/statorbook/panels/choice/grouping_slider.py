"""The slider of chapter 04 over all groupings, from most volts to most amps, with the wall of the accepted volts."""

from statorbook.choice import REJECTED
from statorbook.widgets import Stops
from statorbook.winding import Winding

_LABEL = "Grouping, from most volts to most amps"
_ENDS = ("most volts", "most amps")


class GroupingSlider(Stops):
    """Every legal grouping is a stop; it follows what is recommended until the reader moves it."""

    def __init__(self, machine):
        windings = [Winding(stator=machine.stator, coil=machine.coil, grouping=g) for g in machine.stator.groupings()]
        # More volts between two leads at any speed is a smaller u, so this is the way along the one curve.
        windings.sort(key=lambda winding: -winding.line_volts_rms(1.0))
        self.groupings = [winding.grouping for winding in windings]
        self.follows, self._put_at = True, 0
        super().__init__(_LABEL, [grouping.label for grouping in self.groupings], _ENDS)
        self.mark_words = "recommended"

    @property
    def grouping(self):
        """The grouping at which it stands, a `Grouping`."""
        return self.groupings[self.value]

    def show(self, found):
        """Mark what is recommended, rejected and above the accepted volts; follow it unless the reader has moved it."""
        self.follows = self.follows and self.value == self._put_at
        rows, limit = [found.find(grouping) for grouping in self.groupings], found.setting.limit_dc_volts
        with self.hold_sync():
            self.beyond = sum(row.runaway.dc_volts_peak > limit for row in rows)
            self.crossed = [stop for stop, row in enumerate(rows) if row.verdict == REJECTED]
            self.marked = rows.index(found.recommended) if found.recommended else -1
            self.remarks = [_remark(row, found) for row in rows]
            self.note = self._note(limit)
            if self.follows:
                self.value = self.groupings.index(found.shown.grouping)
        self._put_at = self.value

    def move_to(self, grouping):
        """Put it at a grouping, where it then stays."""
        self.follows = False
        self.value = self.groupings.index(grouping)

    def follow(self, found):
        """Follow the recommended grouping again."""
        self.follows = True
        self._put_at = self.value = self.groupings.index(found.shown.grouping)

    def _note(self, limit_dc_volts):
        said = f"the {limit_dc_volts:.0f} V DC that you accept with the bank gone"
        if self.beyond == 0:
            wall = f"All of them stay within {said}."
        elif self.beyond == len(self.groupings):
            wall = f"Hatched: all of them are above {said}."
        else:
            wall = f"Hatched, left of the double line: above {said}."
        return f"{wall} × rejected." if self.crossed else wall


def _remark(row, found):
    words = {
        "recommended": row is found.recommended,
        "above the volts you accept": row.runaway.dc_volts_peak > found.setting.limit_dc_volts,
        "rejected": row.verdict == REJECTED,
    }
    return ", ".join(said for said, true in words.items() if true)
