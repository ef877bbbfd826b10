"""What turns the machine: one module a drive, one small interface.

Every drive has `torque_nm(speed_rpm)` (scalar or array), `best_speed_rpm`, `runaway_speed_rpm`,
`source_watts` and `limits`, a plain sentence that says when its model is not true. Torque is 0 at the runaway speed.
"""
