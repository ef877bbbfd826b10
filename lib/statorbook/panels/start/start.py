"""Panel of the start page: open, create or restore a job, and see how far each chapter has come."""

from contextlib import suppress
from datetime import date

import ipywidgets as W

from statorbook.assembly import units_for
from statorbook.errors import BadInput
from statorbook.examples import write as write_example
from statorbook.job import (
    EXAMPLE,
    EXAMPLES,
    Job,
    JobFolder,
    base_folder,
    counted_states,
    current_name,
    job_folder,
    lost_jobs,
    open_current,
    sweep_imports,
)
from statorbook.panels.first_run.service import due_words
from statorbook.service import due_items
from statorbook.widgets import Answer, Panel, Table, button, choice, labelled

QUESTIONS = {
    "00_start_here": "What is this, what can hurt me, what would a quick guess say?",
    "01_know_your_stator": "What have I got?",
    "02_spin_and_log": "What does it make, and which reading is wrong?",
    "03_what_turns_it": "Who drives it, how fast, and how fast if it runs away?",
    "04_choose_a_grouping": "Which coil grouping charges my bank, how much, and how dangerous is it?",
    "04b_add_up_the_year": "Which grouping gives most kilowatt-hours over your year, and what may stand between?",
    "05_cut_and_join": "Which wires do I cut, which do I join, and what must my meter say?",
    "06_protect_it": "Which rectifier, cable, fuse, brake and guard, so that it does not burn, shock or blow up?",
    "07_charge_and_dump": "Where does the power go when the bank is full, and what holds the bank when a part fails?",
    "08_first_run": "Does it do what was promised, and when do I look at the bearings?",
}


class StartPanel(Panel):
    """Choose the job that all chapters work on.

    Parameters
    ----------
    job : Job or None
        The current job; opened by itself when None. Stays None when it cannot be opened, until one is.
    """

    def __init__(self, job=None):
        self._folder, self._broken, self._followers = job.folder.parent if job else base_folder(None), None, []
        with suppress(BadInput):  # a data folder that cannot be written to can still be read
            sweep_imports(self._folder)
        self.job = job or self._opened()
        self.jobs = choice("Open a job", self._listed(), self.job.name if self.job else None)
        self.name = W.Text(
            continuous_update=False, placeholder="letters, digits, - and _", **labelled("Name of a new job", 18, "text")
        )
        self.create_button = button("Create this job", self.guarded(lambda pressed: self.create()), main=True)
        super().__init__(
            system=units_for(self.job) if self.job else None,
            inputs=[self.jobs, self.name, self.create_button],
            actions={"Restore the examples": self.restore},
            sentence_lines=2,
        )
        self.buttons["Restore the examples"].button_style = ""  # few come for it
        self.jobs.observe(self.guarded(self._picked), "value")

    def _opened(self):
        """The current job, or None when it cannot be opened: the way to restore it must not be lost with it."""
        try:
            self._broken = self._folder_of(current_name(self._folder) or EXAMPLE)
            job = open_current(self._folder)
        except BadInput:
            return None
        if not job.notice:
            self._broken = None
        return job

    def _folder_of(self, name):
        """The folder of a job that may be damaged; None when there is no such folder."""
        with suppress(BadInput):
            folder = job_folder(self._folder, name)
            return JobFolder(folder=folder) if folder.is_dir() else None

    def _listed(self):
        """The jobs to choose from, those included whose job.json is gone but can be restored."""
        lost = [(f"{name} (its job.json is gone)", name) for name in lost_jobs(self._folder)]
        return [(name, name) for name in Job.names(self._folder)] + lost

    def _picked(self, change):
        """Open what the reader picked; a list that is only filled anew picks nothing."""
        if not self._working:
            self.open(change["new"])

    def open(self, name):
        """Make another job the current one.

        Parameters
        ----------
        name : str or None
            Its name; None changes nothing.
        """
        if name and (self.job is None or self._broken or name != self.job.name):
            self._broken = self._folder_of(name)
            try:
                job = Job.open(name, self._folder)
            except BadInput:
                self._tell()
                raise
            self._use(job, f"Opened {name}. In every other chapter press “Run the page” to use it.")

    def create(self):
        """Make a new, empty job of the name typed and open it."""
        job = Job.create(self.name.value.strip(), self._folder)
        self.name.value = ""
        self._use(job, f"Created {job.name}, empty. Next: open 01_know_your_stator and press “Run the page”.")

    def restore(self):
        """Write the example jobs anew; other jobs are not touched. The first is opened unless another one is open."""
        written = {name: write_example(self._folder, name) for name in EXAMPLES}
        opened = written.get(self.job.name if self.job else EXAMPLE, written[EXAMPLE])
        names = f"{', '.join(EXAMPLES[:-1])} and {EXAMPLES[-1]}"
        self._use(opened, f"The example jobs {names} are as they were shipped; {opened.name} is now open.")

    @property
    def job_folder(self):
        """The folder in which the jobs are kept, as a `Path`."""
        return self._folder

    @property
    def current(self):
        """The folder of the job that was asked for last, open or damaged, as a `JobFolder`; None when there is none."""
        return self._broken or (JobFolder(folder=self.job.folder) if self.job else None)

    def take_in(self, job, done):
        """Open a job that was brought in or restored.

        Parameters
        ----------
        job : Job
            The job.
        done : str
            What was done, such as "Brought in".
        """
        self._use(job, f"{done} {job.name}. In every other chapter press “Run the page” to use it.")

    def follow(self, call):
        """Let something else know when another job was asked for, made or restored.

        Parameters
        ----------
        call : callable
            Called without arguments.
        """
        self._followers.append(call)

    def _use(self, job, message):
        job.make_current()
        self.job, self._broken = job, None
        with self.together():
            self.jobs.options = self._listed()
            self.jobs.value = job.name
        self._tell()
        self.message.say(message)

    def _tell(self):
        for call in self._followers:
            call()

    def answer(self):
        """Say which job is open and how far it is; when none can be opened, why, and what can be done."""
        try:
            self.job = self.job or open_current(self._folder)
            now = self.job.read()
            states = now.states()
        except BadInput as trouble:
            return Answer(sentence=f"No job is open now: {trouble.where}: {trouble.given}. {self._ways_on()}")
        counted = counted_states(states)
        done = f"{counted.count('done')} of {len(counted)} chapters are done"
        sentence = f"Open job: {self.job.name}; {done}. {self.job.notice}".strip()
        return Answer(sentence=sentence, table=chapter_table(states), caution=_due(now))

    def _ways_on(self):
        """What the reader can press now."""
        others = "open another one, create one, or press “Restore the examples”"
        if self.current and self.current.folder.is_dir():
            return f"Go back to a version of {self.current.name} under “Look back, copy, bring in”, or {others}."
        return f"{others[:1].upper()}{others[1:]}."


def _due(job):
    """What the bearings need, for a machine that is at work; nothing for others."""
    try:
        return str(due_words(due_items(job, date.today())))
    except BadInput as missing:
        return str(missing)


def chapter_table(states):
    """The chapter map with its states."""
    rows = tuple((chapter, QUESTIONS.get(chapter, ""), state) for chapter, state in states.items())
    return Table(
        columns=("chapter", "its question", "in your job"),
        rows=rows,
        marks=tuple("chosen" if state == "done" else "" for _, _, state in rows),
    )
