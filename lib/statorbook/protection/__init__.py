"""What keeps the machine from burning or running away."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__, submod_attrs={"joined_leads": ["brake", "highest_wind_m_s"]}
)
