"""Panel of how sure the answer of a job is."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(__name__, submod_attrs={"answer_panel": ["SurePanel"]})
