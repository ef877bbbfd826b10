"""Work in slices: all of it where no page is, one at a time where one is, and a step that fails is the last."""

import asyncio

from samples.coroutines import run_apart
from statorbook.panels.charging.slices import Slices
from statorbook.widgets.guard import MessageLine


def counting(seen, *, until=4, fails_at=None, pause_s=None):
    for number in range(until):
        if number == fails_at:
            raise ValueError("no such step")
        seen.append(number)
        yield pause_s


def test_without_a_page_only_what_is_needed_is_done_and_at_once():
    slices, needed, ahead = Slices(lambda call: call), [], []
    slices.begin(counting(needed))
    slices.begin_ahead(counting(ahead))
    assert (needed, ahead, slices.busy) == ([0, 1, 2, 3], [], False)


def test_what_is_begun_anew_or_dropped_goes_no_further():
    async def run():
        slices, old, new, dropped = Slices(lambda call: call), [], [], []
        slices.begin(counting(old))
        slices.begin_ahead(counting(new))
        assert old == new == [] and slices.busy
        while slices.busy:
            await asyncio.sleep(0.005)
        slices.begin(counting(dropped))
        slices.drop()
        await asyncio.sleep(0.05)
        assert (old, new, dropped, slices.busy) == ([], [0, 1, 2, 3], [], False)
        slices.begin(counting(old, pause_s=30.0))
        await asyncio.sleep(0.05)
        assert old == [0] and slices.busy  # it waits as long as its step says

    run_apart(run())


def test_a_step_that_fails_is_told_and_is_the_last():
    async def run():
        message, seen = MessageLine(), []
        slices = Slices(message.guarded)
        slices.begin(counting(seen, fails_at=2))
        while slices.busy:
            await asyncio.sleep(0.005)
        assert seen == [0, 1] and "no such step" in message.text

    run_apart(run())
