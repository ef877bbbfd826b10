"""What the house takes hour by hour."""

from statorbook.charging.plan import HouseLoad

# Invented appliances of an invented house.
_USUAL = (
    HouseLoad(name="fridge", watts=90.0, surge_watts=500.0, from_hour=0, to_hour=24, minutes=20.0),
    HouseLoad(name="kettle", watts=1500.0, surge_watts=1500.0, from_hour=7, to_hour=8, minutes=6.0),
    HouseLoad(name="pump", watts=400.0, surge_watts=1200.0, from_hour=9, to_hour=10, minutes=15.0),
    HouseLoad(name="lamps and screens", watts=60.0, surge_watts=60.0, from_hour=18, to_hour=23, minutes=60.0),
)


def usual_house():
    """An invented house."""
    return _USUAL
