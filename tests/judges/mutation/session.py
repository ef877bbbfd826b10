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

from judges.mutation.learning import Learned, hear
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


class Quick:
    """A plug-in: instead of the tests, run for each mutant those that enter the changed function.

    `tell(mutant, outcome)` gets one of `OUTCOMES`.
    """

    def __init__(self, root, library, mutants, *, tell, say, budget_seconds):
        self._root, self._library, self._mutants = root, library, mutants
        self._tell, self._say, self._budget = tell, say, budget_seconds
        self._learned = Learned(root, library)
        self._trying, self._red = False, set()

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self):
        """A counterexample need not be made small."""
        phases = (Phase.explicit, Phase.generate)
        settings.register_profile("mutants", parent=settings.get_profile("statorbook"), phases=phases)
        settings.load_profile("mutants")

    def pytest_runtest_logreport(self, report):
        if report.failed and self._trying:
            os._exit(FAILED)
        if report.failed:
            self._red.add(report.nodeid)

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session):
        if session.testsfailed:
            raise pytest.UsageError("not every test could be collected")
        self._items = {item.nodeid: item for item in session.items}
        self._learn()
        for file in {mutant.file for mutant in self._mutants}:
            importlib.import_module("statorbook." + file.removesuffix(".py").replace("/", "."))
        functions, forget = functions_by_key(str(self._library)), forget_caches(self._folders())
        for mutant in self._mutants:
            self._tell(mutant, self._tried(mutant, functions, forget))
        return True

    def _folders(self):
        return str(self._library), str(self._root / "tests")

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
            hear(missing, self._library, self._learned, forget_caches(self._folders()), self._red)
            for test in sorted(self._red):
                self._say(f"red without any mutant, left out: {test}")
            return PASSED

        if forked(work) != PASSED or self._learned.missing(missing):
            raise pytest.UsageError("the tests could not be run to learn what they enter")

    def _tried(self, mutant, functions, forget):
        path = self._library / mutant.file
        source = path.read_text(encoding="utf-8")
        if is_compiled(source):
            return "not swapped"
        try:
            pairs = changed_functions(path, source, mutant.source)
        except CannotSwap:
            return "not swapped"
        tests = self._learned.entering([f"{mutant.file}:{pairs[-1][0].co_qualname}"])
        tests = [test for test in tests if test in self._items]
        chosen = [self._items[test] for test in self._learned.within(self._budget, tests)]

        def work():
            from environment import Surroundings

            self._trying = True
            try:
                swap(pairs, functions)
            except CannotSwap:
                return CANNOT
            forget()
            Surroundings().__enter__()
            self._run(chosen)
            return 0

        return OUTCOMES[forked(work)] if chosen else "survived"


class Fresh:
    """A plug-in for a process whose library has the mutant from its first import on: all tests, quickest first."""

    def __init__(self, learned, *, budget_seconds):
        self._learned, self._budget = learned, budget_seconds

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items):
        order = {test: place for place, test in enumerate(self._learned.within(self._budget))}
        unknown = [item for item in items if item.nodeid not in self._learned]
        items[:] = unknown + sorted(
            (each for each in items if each.nodeid in order), key=lambda each: order[each.nodeid]
        )

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_setup(self, item):
        allow(self._learned.seconds(item.nodeid))


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


def run_fresh(folders, plugin, path, source, log):
    """The tests on a library loaded with a changed file: what became of the mutant."""

    def work():
        _write_to(log)
        if is_compiled(source):
            os.environ["NUMBA_CACHE_DIR"] = tempfile.tempdir
        sys.dont_write_bytecode = True
        load_mutated(path, source)
        allow(30.0)
        code = int(pytest.main([*_OPTIONS, "-x", *folders], plugins=[plugin]))
        return PASSED if code == pytest.ExitCode.OK else FAILED

    return OUTCOMES[forked(work)]


def _write_to(log):
    with open(log, "w", encoding="utf-8") as file:
        os.dup2(file.fileno(), 1)
        os.dup2(file.fileno(), 2)
