"""What the server's child compiles: all that page 07 calls, once, without a word, and without harm where it may not."""

import os
import sys
from subprocess import PIPE, Popen

import pytest
from filelock import FileLock
from numba.core.caching import _CacheLocator

from samples.charging_samples import plan
from statorbook.charging import check_plan, simulate
from statorbook.charging import compiled as in_turn
from statorbook.panels.start import compile_ahead

_COUNT = """
from statorbook.charging.day_kernel import advance
from statorbook.charging.rest_kernel import rest
from statorbook.panels.start.compile_ahead import compile_all
compile_all()
counts = [each.compiled.stats for each in (advance, rest)]
print([sum(each.cache_misses.values()) for each in counts], [sum(each.cache_hits.values()) for each in counts])
"""


@pytest.fixture
def child(tmp_path):
    """Starts the child with a cache and a place for its locks of its own."""
    (tmp_path / "locks").mkdir()
    places = {"NUMBA_CACHE_DIR": str(tmp_path / "cache"), "TMPDIR": str(tmp_path / "locks")}

    def started(*arguments):
        return Popen([sys.executable, *arguments], stdin=PIPE, stdout=PIPE, stderr=PIPE, env=os.environ | places)

    return started


def kept(tmp_path):
    return {path.name.partition(".")[0] for path in tmp_path.glob("cache/*/*.nbc")}


def test_what_it_compiles_is_what_the_page_calls():
    from statorbook.charging.day_kernel import advance
    from statorbook.charging.rest_kernel import rest

    compile_ahead.compile_all()
    for each in (plan(), plan(guard=None, inverter=None, cylinder=None, room=None, house=())):
        simulate(each, days=1)
        check_plan(each)
    assert [len(each.compiled.signatures) for each in (advance, rest)] == [1, 1]


@pytest.mark.slow
def test_a_page_after_it_compiles_nothing_and_it_says_nothing(tmp_path, child):
    first = child("-m", compile_ahead.__name__)
    assert (first.stdout.read(), first.stderr.read(), first.wait()) == (b"", b"", 0)
    assert kept(tmp_path) == {module for modules in compile_ahead.KEEPS.values() for module in modules}
    assert child("-c", _COUNT).communicate()[0] == b"[0, 0] [1, 1]\n"


def test_it_ends_with_the_server(tmp_path, child):
    first = child("-m", compile_ahead.__name__)
    assert first.communicate() == (b"", b"") and first.returncode == 0  # its pipe was closed at once
    assert kept(tmp_path) == set()


def test_a_second_one_leaves_it_to_the_first(tmp_path, child):
    with FileLock(tmp_path / "locks" / compile_ahead.lock_name()):
        second = child("-m", compile_ahead.__name__)
        assert (second.stdout.read(), second.wait()) == (b"", 0)
    assert kept(tmp_path) == set()


def test_it_is_started_once_and_only_when_something_is_missing(monkeypatch):
    started = []

    class Child:
        def __init__(self, command, **given):
            started.append(command[1:])

        def wait(self):
            return 0

    monkeypatch.setattr(compile_ahead, "Popen", Child)
    for is_kept, expected in ((True, 0), (False, 1)):
        compile_ahead.start.cache_clear()
        monkeypatch.setattr(compile_ahead, "is_kept", lambda is_kept=is_kept: is_kept)
        assert compile_ahead.start() is compile_ahead.start() and len(started) == expected
    assert started == [["-m", compile_ahead.__name__]]
    compile_ahead.start.cache_clear()
    monkeypatch.setattr(compile_ahead, "Popen", lambda *given, **options: (_ for _ in ()).throw(OSError("no more")))
    assert compile_ahead.start() is None
    compile_ahead.start.cache_clear()


def test_what_is_older_than_a_file_beside_it_is_missing(tmp_path):
    folder = tmp_path / "charging"
    (folder / "__pycache__").mkdir(parents=True)
    names = ("days.py", "__pycache__/day_kernel.a-1.nbi", "__pycache__/rest_kernel.a-1.nbi")
    for name in names[:2]:
        (folder / name).touch()
    assert not compile_ahead.is_kept(tmp_path)
    (folder / names[2]).touch()
    for at, name in enumerate(names):
        os.utime(folder / name, (100.0 + at, 100.0 + at))
    assert compile_ahead.is_kept(tmp_path)
    os.utime(folder / names[0], (101.5, 101.5))
    assert not compile_ahead.is_kept(tmp_path)


def test_where_nothing_can_be_written_it_is_compiled_all_the_same(tmp_path, monkeypatch):
    from statorbook.charging.day_controls import kept as kept_where_it_can_be

    def refuse(locator):
        raise PermissionError("read only")

    monkeypatch.setattr(_CacheLocator, "ensure_cache_path", refuse)
    (tmp_path / "file").touch()
    monkeypatch.setattr(in_turn, "gettempdir", lambda: str(tmp_path / "file"))
    twice = in_turn.compiled_in_turn(kept_where_it_can_be(lambda value: 2 * value), 1)
    assert [twice(3), twice(4)] == [6, 8]
