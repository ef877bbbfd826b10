"""Where a periodic steady state begins, by the shooting method: used by the sound bridge and by the faulted one."""

import numpy as np


def settled_start(start, mapped, *, settled, most_iterations, name):
    """Improve starts, shape (n, 2), until a period ends where it began; `mapped` gives ends and derivative of rows."""
    # Aprille and Trick, Proc. IEEE 60(1) 1972 (from memory). A plain step of the map always contracts, since every loop
    # has R > 0; it is taken where Newton's last step did not help.
    best, todo = np.full(len(start), np.inf), np.arange(len(start))
    for iteration in range(most_iterations):
        ends, slope = mapped(todo, start[todo])
        miss = ends - start[todo]
        size = np.abs(miss).max(axis=1)
        newton = np.linalg.solve(np.eye(2) - slope, miss[:, :, None])[:, :, 0]
        helped = (size < best[todo])[:, None] | (iteration % 3 == 0)
        best[todo] = np.minimum(best[todo], size)
        start[todo] += np.where(helped, newton, miss)
        todo = todo[size > settled]
        if not len(todo):
            return start
    raise ArithmeticError(f"the {name} did not settle for {len(todo)} of {len(start)} cases")
