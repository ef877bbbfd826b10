"""Which tests enter which function of the library, and how long each takes: learned once, then kept."""

import getpass
import hashlib
import json
import os
import sys
import tempfile
import threading
import time
from pathlib import Path


class Listener:
    """Notes every function of the library that is entered, generators and nested ones included."""

    def __init__(self, folder):
        self._folder = f"{folder}/"
        self._seen, self._codes = set(), []

    def _heard(self, frame, _event, _argument):
        code = frame.f_code
        if id(code) not in self._seen:
            self._seen.add(id(code))
            self._codes.append(code)  # kept, so that no other code gets its id

    def start(self):
        self._seen, self._codes = set(), []
        threading.settrace(self._heard)
        sys.settrace(self._heard)

    def stop(self):
        """The functions entered since the start, as `drives/pipe.py:Pipe.loss_m`."""
        sys.settrace(None)
        threading.settrace(None)
        ours = [code for code in self._codes if code.co_filename.startswith(self._folder)]
        return {f"{code.co_filename[len(self._folder) :]}:{code.co_qualname}" for code in ours}


class Learned:
    """By test: processor seconds, the functions that it enters, and whether it is red.

    A file's tests are learned again when the file or the package that it belongs to has changed.
    """

    def __init__(self, project):
        self._root, self._library, self._folder_of_tests = project.root, project.library, project.tests
        self._folder = Path(tempfile.gettempdir()) / f"statorbook-mutation-{getpass.getuser()}"
        self._tests, self._sources = {}, {}

    def _place(self, file):
        package = file.relative_to(self._folder_of_tests).parts[0].removeprefix("test_").removesuffix(".py")
        if package not in self._sources:
            files = [self._library / f"{package}.py", *sorted((self._library / package).rglob("*.py"))]
            texts = [path.read_bytes() for path in files if path.is_file()]
            self._sources[package] = b"".join(texts)
        name = file.relative_to(self._root).as_posix().encode()
        return self._folder / hashlib.sha256(name + file.read_bytes() + self._sources[package]).hexdigest()[:24]

    def missing(self, items):
        """The tests of the files that are not known yet."""
        by_file = {}
        for item in items:
            by_file.setdefault(item.path, []).append(item)
        found = []
        for file, tests in by_file.items():
            try:
                kept = json.loads(self._place(file).read_text(encoding="utf-8"))
            except (OSError, ValueError):
                kept = {}
            if all(test.nodeid in kept for test in tests):
                self._tests.update({test.nodeid: kept[test.nodeid] for test in tests})
            else:
                found += tests
        return found

    def load(self, folders):
        """Know what is written down of all tests below some folders."""
        for folder in folders:
            for file in sorted(folder.rglob("test_*.py")) if folder.is_dir() else [folder]:
                if (place := self._place(file)).is_file():
                    self._tests.update(json.loads(place.read_text(encoding="utf-8")))

    def keep(self, file, tests):
        """Write down what was heard of the tests of a file."""
        self._folder.mkdir(exist_ok=True)
        half = self._folder / f"half-{os.getpid()}"
        half.write_text(json.dumps(tests), encoding="utf-8")
        os.replace(half, self._place(file))

    def __contains__(self, test):
        return test in self._tests

    def seconds(self, test):
        """Processor seconds of a test; three for one that is not known."""
        return self._tests.get(test, (3.0,))[0]

    def about(self, files, also):
        """The tests that enter any function of these files, and all tests of a test file of which `also` holds."""
        start = tuple(f"{file}:" for file in files)
        found = {
            test
            for test, (_seconds, entered, _red) in self._tests.items()
            if any(each.startswith(start) for each in entered)
        }
        places = {test.split("::")[0] for test in self._tests}
        told = {place for place in places if also(self._root / place)}
        return found | {test for test in self._tests if test.split("::")[0] in told}

    def others_than(self, tests):
        """All other tests, quickest first."""
        return sorted(self._tests.keys() - tests, key=self.seconds)

    def within(self, seconds, tests):
        """As many of some tests, in their order or else quickest first, as so many seconds allow; one at least."""
        green = [test for test in tests if not self._tests[test][2]]
        found = []
        for test in green if isinstance(tests, list) else sorted(green, key=self.seconds):
            seconds -= self.seconds(test)
            if seconds < 0.0 and found:
                break
            found.append(test)
        return found

    def entering(self, functions):
        """The tests that enter one of these functions."""
        wanted = set(functions)
        return {test for test, (_seconds, entered, _red) in self._tests.items() if wanted.intersection(entered)}


def hear(items, library, learned, forget, red):
    """Run tests one by one, each with fixtures and caches of its own, and write down what they enter.

    Tests that are `red` as it is say nothing about a mutant.
    """
    by_file = {}
    for item in items:
        by_file.setdefault(item.path, []).append(item)
    listener = Listener(library)
    for file, tests in by_file.items():
        heard = {}
        for item in tests:
            forget()
            start = time.process_time()
            listener.start()
            try:
                item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)
            finally:
                entered = listener.stop()
            heard[item.nodeid] = [round(time.process_time() - start, 4), sorted(entered), item.nodeid in red]
        learned.keep(file, heard)
