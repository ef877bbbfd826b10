"""What the panels of chapter 06 share: the job that they show, its plant, and word of every part that one saves."""

from functools import lru_cache

from statorbook.assembly import choice_of, plant_from, units_for, with_parts
from statorbook.cautions import Instruction
from statorbook.job import Drafts, inputs_fingerprint
from statorbook.quantities import reader_units
from statorbook.widgets import Form, OnceAtRest, Panel, job_prefix


class ProtectionPage:
    """One job's plant for all panels of the page.

    Parameters
    ----------
    job : Job
        The reader's job; the example is shown while its machine is not filled in.
    """

    def __init__(self, job):
        self.job, self.shown = job, with_parts(job, "stator", "coil", "drive", "bank")
        self._panels, self._plants = (), lru_cache(maxsize=8)(self._made)
        self._shown_anew = OnceAtRest(self._redraw_all, lambda: self._panels)
        self._grouping = lru_cache(maxsize=2)(lambda mark, chosen: choice_of(self.now).to_grouping())
        self.read()

    @property
    def system(self):
        """The units of the shown job, "metric" or "US"."""
        return self._system

    def read(self):
        """Take the job as it is on the disk now."""
        self.now, self._changes = self.shown.read(), getattr(self, "_changes", -1) + 1
        self._system = units_for(self.now)

    def in_units(self, system):
        """Tell every panel of the page in other units.

        Parameters
        ----------
        system : str
            "metric" or "US".
        """
        self._system, self._changes = system, self._changes + 1  # a plant's words were said in the other units
        for panel in self._panels:
            panel.in_units(system)

    def plant(self, **typed):
        """The plant of the job as it was read last.

        Parameters
        ----------
        **typed : dict
            Parts that a form holds and that may not be saved, by name, as `assembly.plant_from` takes them.

        Returns
        -------
        Plant
            Worked out once for the same parts.
        """
        return self._plants(self._changes, *typed.items())

    def _made(self, change, *typed):
        with reader_units(self.system):
            return plant_from(self.now, self._grouping(inputs_fingerprint(self.now), self.now.choice), **dict(typed))

    def add(self, panel):
        """Let a panel show anew whenever another one saved something.

        Parameters
        ----------
        panel : Panel
            The panel.
        """
        self._panels = (*self._panels, panel)

    def save(self, name, part):
        """Save a part into the reader's own job, and show every panel anew once the hand rests.

        Parameters
        ----------
        name : str
            Name of the part.
        part : Part
            The part.
        """
        self.job.save_part(name, part)
        self.tell()

    def tell(self):
        """Show every panel anew once the hand rests: something was saved."""
        self.read()
        self._shown_anew.ask()

    def _redraw_all(self):
        for panel in self._panels:
            panel.redraw()


class ProtectionPanel(Panel):
    """A panel of the page; one with a form names the part that its form fills in, `part_name`.

    Parameters
    ----------
    page : ProtectionPage
        The page that it stands on.
    inputs : sequence
        As `Panel`.
    **given : object
        As `Panel`.
    """

    part_name, save_words = "", "Save"
    inputs_beside = True

    def __init__(self, page, *, inputs=(), **given):
        self.page = page
        super().__init__(inputs=inputs, system=page.system, **given)
        page.add(self)

    def form_for(self, page, part_class, *, name="", save_words="", **given):
        """Make the form of a part; call it before `super().__init__`.

        Parameters
        ----------
        page : ProtectionPage
            The page.
        part_class : type
            Of the part.
        name : str
            Of the part; the panel's own when empty.
        save_words : str
            On the button; the panel's own when empty.
        **given : object
            As `Form`.

        Returns
        -------
        Form
            The reader's own, also while the example is shown.
        """
        name = name or self.part_name
        # While the example is shown the form is still the reader's own: saving it must not copy an invented part.
        saved = getattr(page.now if page.shown is page.job else page.job.read(), name)
        return Form(
            part_class,
            saved,
            save=self.guarded_save(page) if name == self.part_name else lambda part: page.save(name, part),
            on_change=lambda form: self.redraw(),
            save_words=save_words or self.save_words,
            system=page.system,
            drafts=Drafts(page.job.folder, name),
            **{"now": None if page.shown is not page.job else lambda: getattr(page.job.read(), name), **given},
        )

    def whose(self, said):
        """Put the name of the job before what is said, where the example is shown.

        Parameters
        ----------
        said : str or Instruction
            Words.

        Returns
        -------
        str or Instruction
            The words, with the name or without.
        """
        prefix = job_prefix(self.page.shown)
        return said.within(prefix) if isinstance(said, Instruction) else f"{prefix}{said}"

    def guarded_save(self, page):
        """What the form's button does.

        Parameters
        ----------
        page : ProtectionPage
            The page.

        Returns
        -------
        callable
            Takes the part.
        """
        return lambda part: page.save(self.part_name, part)
