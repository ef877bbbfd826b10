"""One run of pytest that collects the tests once and forks for every mutant."""

import importlib
import os
import resource
import shutil
import signal
import sys
import tempfile
import time
import traceback
from importlib.machinery import SourceFileLoader

import pytest
from hypothesis import Phase, settings

from environment import Surroundings
from judges.mutation.learning import Listener, hear
from judges.mutation.swap import CannotSwap, changed_functions, forget_caches, functions_by_key, swap

_OPTIONS = ("-s", "-q", "--tb=line", "-m", "not slow")
PASSED, FAILED, CANNOT, BROKEN = 0, 1, 90, 91
OUTCOMES = {PASSED: "survived", FAILED: "killed", CANNOT: "not swapped", BROKEN: "not tried", None: "timed out"}


def forked(work):
    """Do something in a child with a temporary folder of its own; its exit code, or None if it was killed."""
    sys.stdout.flush()
    sys.stderr.flush()
    folder = tempfile.mkdtemp(prefix="statorbook-mutant-")
    child = os.fork()
    if child == 0:
        code = BROKEN
        try:
            os.environ["TMPDIR"] = tempfile.tempdir = folder
            code = work()
        except BaseException:
            traceback.print_exc()
        finally:
            sys.stdout.flush()
            sys.stderr.flush()
            os._exit(code)
    _child, status = os.waitpid(child, 0)
    shutil.rmtree(folder, ignore_errors=True)
    return os.WEXITSTATUS(status) if os.WIFEXITED(status) else None


def allow(seconds):
    """Let this process use so much more of the processor, and not sit idle for ever; then it ends."""
    used = time.process_time()
    resource.setrlimit(resource.RLIMIT_CPU, (int(used + 5.0 * seconds + 5.0), resource.RLIM_INFINITY))
    signal.alarm(int(60.0 * seconds + 120.0))


class _Unhurried:
    """What both ways have in common."""

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self):
        """A counterexample need not be made small."""
        settings.register_profile("mutants", parent=settings(), phases=(Phase.explicit, Phase.generate))
        settings.load_profile("mutants")


class Quick(_Unhurried):
    """A plug-in: instead of the tests, run for each mutant those that enter the changed function.

    `tell(mutant, outcome)` gets one of `OUTCOMES`, or "survived early": the changed function was entered before the
    first test ran, so that something may be left of the unchanged one.
    """

    def __init__(self, project, learned, mutants, *, tell, say, budget_seconds):
        self._project, self._learned, self._mutants = project, learned, mutants
        self._tell, self._say, self._budget = tell, say, budget_seconds
        self._trying, self._red = False, set()
        self._early = Listener(project.library)

    def pytest_configure(self):
        self._early.start()

    def pytest_runtest_logreport(self, report):
        if report.failed and self._trying:
            os._exit(FAILED)
        if report.failed:
            self._red.add(report.nodeid)

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session):
        early = self._early.stop()
        if session.testsfailed:
            raise pytest.UsageError("not every test could be collected")
        self._items = {item.nodeid: item for item in session.items}
        self._learn()
        library = self._project.library
        for file in {mutant.file for mutant in self._mutants}:
            importlib.import_module(f"{library.name}." + file.removesuffix(".py").replace("/", "."))
        functions, forget = functions_by_key(str(library)), forget_caches(self._folders())
        for mutant in self._mutants:
            self._tell(mutant, self._tried(mutant, functions, forget, early))
        return True

    def _folders(self):
        return str(self._project.library), str(self._project.tests)

    def _run(self, items):
        for item, then in zip(items, [*items[1:], None]):
            allow(self._learned.seconds(item.nodeid))
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=then)

    def _learn(self):
        missing = self._learned.missing(self._items.values())
        if not missing:
            return
        self._say(f"learning what {len(missing)} tests enter …")

        def work():
            hear(missing, self._project.library, self._learned, forget_caches(self._folders()), self._red)
            for test in sorted(self._red):
                self._say(f"red without any mutant, left out: {test}")
            return PASSED

        if forked(work) != PASSED or self._learned.missing(missing):
            raise pytest.UsageError("the tests could not be run to learn what they enter")

    def _tried(self, mutant, functions, forget, early):
        path = self._project.library / mutant.file
        source = path.read_text(encoding="utf-8")
        if is_compiled(source):
            return "not swapped"
        try:
            pairs = changed_functions(path, source, mutant.source)
        except CannotSwap:
            return "not swapped"
        entered = f"{mutant.file}:{pairs[-1][0].co_qualname}"
        tests = self._learned.entering([entered]) & self._items.keys()
        chosen = [self._items[test] for test in self._learned.within(self._budget, tests)]

        def work():
            self._trying = True
            try:
                swap(pairs, functions)
            except CannotSwap:
                return CANNOT
            forget()
            Surroundings().__enter__()
            self._run(chosen)
            return PASSED

        outcome = OUTCOMES[forked(work)] if chosen else "survived"
        return "survived early" if outcome == "survived" and entered in early else outcome


class Fresh(_Unhurried):
    """A plug-in for a process whose library has the mutant from its first import on: these tests, in this order."""

    def __init__(self, tests, learned, *, compiled):
        self._place = {test: place for place, test in enumerate(tests)}
        self._learned, self._more = learned, 120.0 * compiled + 6.0  # the first test loads what it needs

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items):
        known = [item for item in items if item.nodeid in self._place]
        items[:] = sorted(known, key=lambda item: self._place[item.nodeid])

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_setup(self, item):
        allow(self._learned.seconds(item.nodeid) + self._more)


def is_compiled(source):
    """Whether numba compiles functions of a module, which then do not heed an exchange."""
    return "numba" in source


def load_mutated(path, source):
    """From here on, whoever imports this file gets the changed source."""
    usual = SourceFileLoader.get_code

    def get_code(loader, name):
        if loader.path == str(path):
            return compile(source, str(path), "exec", dont_inherit=True)
        return usual(loader, name)

    SourceFileLoader.get_code = get_code


def run_quick(folders, plugin, log):
    """All mutants of a plug-in `Quick` in one process."""

    def work():
        _write_to(log)
        return int(pytest.main([*_OPTIONS, *folders], plugins=[plugin]))

    return forked(work)


def run_fresh(tests, learned, path, source, log):
    """Some tests on a library loaded with a changed file: what became of the mutant."""
    compiled = is_compiled(source)

    def work():
        _write_to(log)
        if compiled:
            os.environ["NUMBA_CACHE_DIR"] = tempfile.tempdir
        sys.dont_write_bytecode = True
        load_mutated(path, source)
        allow(30.0)
        files = list(dict.fromkeys(test.split("::")[0] for test in tests))
        plugin = Fresh(tests, learned, compiled=compiled)
        code = int(pytest.main([*_OPTIONS, "-x", *files], plugins=[plugin]))
        return {0: PASSED, 5: BROKEN}.get(code, FAILED)

    return OUTCOMES[forked(work)] if tests else "survived"


def _write_to(log):
    with open(log, "w", encoding="utf-8") as file:
        os.dup2(file.fileno(), 1)
        os.dup2(file.fileno(), 2)
