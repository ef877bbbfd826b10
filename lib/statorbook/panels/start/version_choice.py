"""Which version of a job to go back to: first the file, then the day, then the version, every one that is kept."""

from statorbook.errors import count_of
from statorbook.job import DAMAGED, DOCUMENT, told
from statorbook.widgets import WIDEST, choice, stacked

_NOTHING = ("nothing to restore yet", "")
_DAMAGED = ("all versions of this day are damaged", "")
_LONGEST = 60
_WIDE = "calc(30ch + 36em)"


class VersionChoice:
    """Three lists; only the versions of the day chosen are read, so that hundreds of others cost nothing."""

    def __init__(self, guarded):
        self._kept, self._told, self._filling = (), {}, False
        self.file, self.day = choice("Go back in", [_NOTHING], ""), choice("to a day, UTC", [_NOTHING], "")
        self.version = choice("to a version", [_NOTHING], "")
        self.widget = stacked([self.file, self.day, self.version])
        self.widget.layout.width = WIDEST  # on a small page as wide as the page, and its lists no wider than it
        for box in self.widget.children:
            box.layout.width = _WIDE
        self.file.observe(guarded(lambda change: self._chosen(self._fill_days)), "value")
        self.day.observe(guarded(lambda change: self._chosen(self._fill_versions)), "value")

    @property
    def value(self):
        """The version chosen, as a `Version`; an empty text when there is none."""
        return self.version.value

    def offer(self, kept):
        """Offer all versions of a job; what was chosen stays chosen while it is there."""
        self._kept, self._told = tuple(kept), {}
        counts = _counted(version.file for version in self._kept)
        self._chosen(
            lambda: self._fill(
                self.file,
                [(f"{_label(file)}: {count_of(count, 'version')}", file) for file, count in counts.items()],
                self._fill_days,
            )
        )

    def _chosen(self, fill):
        if not self._filling:
            self._filling = True
            try:
                fill()
            finally:
                self._filling = False

    def _fill_days(self):
        counts = _counted(_day(version) for version in self._of_file())
        self._fill(
            self.day,
            [(f"{day}: {count_of(count, 'version')}", day) for day, count in counts.items()],
            self._fill_versions,
        )

    def _fill_versions(self):
        key = self.file.value, self.day.value
        if key not in self._told:
            found = [version for version in self._of_file() if _day(version) == self.day.value]
            self._told[key] = [version for version in told(found) if DAMAGED not in version.words]
        lines = [
            (f"before {version.until:%H:%M:%S}: {version.words[:_LONGEST]}", version) for version in self._told[key]
        ]
        self._fill(self.version, lines or ([_DAMAGED] if self.day.value else []))

    def _of_file(self):
        return (version for version in self._kept if version.file == self.file.value)

    @staticmethod
    def _fill(box, lines, then=None):
        before = box.value
        lines = lines or [_NOTHING]
        box.options = lines
        if before in [value for _, value in lines]:
            box.value = before
        if then:
            then()


def _counted(values):
    counts = {}
    for value in values:
        counts[value] = counts.get(value, 0) + 1
    return counts


def _day(version):
    return version.until.strftime("%Y-%m-%d")


def _label(file):
    return file if file == DOCUMENT else f"{file.removesuffix('.csv')} log"
