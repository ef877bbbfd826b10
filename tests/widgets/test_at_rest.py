"""What waits until the hand rests: called once, and told to the page as long as it is to come."""

import asyncio

import ipywidgets as W
import pytest

from samples.coroutines import run_apart
from statorbook.widgets.at_rest import OnceAtRest

MARK = "statorbook-awaiting"


class Shown:
    """As little of a panel as carries a mark."""

    def __init__(self):
        self.widget = W.VBox()

    @property
    def is_marked(self):
        return MARK in self.widget.get_state()["_dom_classes"]


@pytest.fixture
def shown():
    return Shown()


def test_many_changes_are_followed_once_after_the_last(shown):
    calls = []
    follow = OnceAtRest(lambda: calls.append(1), lambda: (shown,))

    async def hand():
        for _ in range(4):
            follow.ask()
            await asyncio.sleep(0.1)
        assert (calls, shown.is_marked) == ([], True)
        await asyncio.sleep(0.6)
        return calls, shown.is_marked

    assert run_apart(hand()) == ([1], False)


def test_the_mark_stays_while_it_is_called_and_goes_when_it_fails(shown):
    seen = []

    def fail():
        seen.append(shown.is_marked)
        raise OSError("the disk is full")

    follow = OnceAtRest(fail, lambda: (shown,))
    with pytest.raises(OSError):
        follow.ask()  # no loop runs here: at once
    assert (seen, shown.is_marked) == ([True], False)


def test_what_asks_again_while_it_is_called_keeps_the_mark(shown):
    calls = []

    def once_more():
        calls.append(1)
        if len(calls) == 1:
            follow.ask()

    follow = OnceAtRest(once_more, lambda: (shown,))

    async def hand():
        follow.ask()
        follow.now()
        seen = shown.is_marked
        follow.now()
        return calls, seen, shown.is_marked

    assert run_apart(hand()) == ([1, 1], True, False)


def test_what_was_called_now_is_not_called_again_at_rest(shown):
    calls = []
    follow = OnceAtRest(lambda: calls.append(1), lambda: (shown,))
    follow.now()
    assert calls == []  # nothing was asked for

    async def hand():
        follow.ask()
        follow.now()
        assert (calls, shown.is_marked) == ([1], False)
        await asyncio.sleep(0.6)
        return calls

    assert run_apart(hand()) == [1]
