"""The drive of a job: one module a kind of drive, told apart in `kind`, put together in `part`."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(__name__, submod_attrs={"part": ["DrivePart"]})
