"""Panels of chapter 06: what keeps the plant from burning, shocking and running away."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "brake": ["BrakePanel"],
        "bridge": ["BridgePanel"],
        "cable": ["CablePanel"],
        "fuse": ["FusePanel"],
        "heat": ["HeatPanel"],
        "over_voltage": ["OverVoltagePanel"],
        "page": ["ProtectionPage", "ProtectionPanel"],
        "parts": ["PartsPanel"],
        "touch": ["TouchPanel"],
        "trade": ["TradePanel"],
        "what_if": ["WhatIfPanel"],
    },
)
