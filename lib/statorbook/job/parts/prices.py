"""What cable and pipe cost the reader of a job, and what a kilowatt-hour is worth to them."""

from typing import ClassVar

from pydantic import model_validator

from statorbook.errors import BadInput
from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import BadField, field_facts, labelled
from statorbook.year import read_prices

_UNITS = {"cable_prices": "mm²", "pipe_prices": "mm"}


class PricesPart(AssumingPart):
    """Prices of cable and pipe, what a kilowatt-hour is worth, and for how many years it counts."""

    part_title: ClassVar[str] = "prices"
    part_noun: ClassVar[str] = "years"
    needed_first: ClassVar[tuple] = ("cable_prices", "pipe_prices", "kwh_price")
    cable_prices: str = labelled(
        "Cable, price a metre",
        "",
        "For a pair of wires, sizes in mm² or AWG, such as 16: 4.20, 25: 6.80; write /ft behind the price of a foot. "
        "Empty: kilowatt-hours by size alone.",
        default="",
        max_length=400,
        next_step="type size, colon, price, such as 16: 4.20",
    )
    pipe_prices: str = labelled(
        "Pipe, price a metre",
        "",
        "Bores in mm, such as 53: 3.10, 64: 4.40; write in behind inches. Only with drop and pipe of page 03.",
        default="",
        max_length=400,
        next_step="type bore, colon, price, such as 53: 3.10",
    )
    kwh_price: float | None = labelled(
        "Worth of 1 kWh, in the same money",
        "-",
        "What you would pay for it otherwise, such as fuel over the kilowatt-hours it gives.",
        default=None,
        gt=0,
        le=100_000,
        next_step="type what a kilowatt-hour costs you otherwise",
    )
    years: int = labelled(
        "Years that count",
        "count",
        "How long cable and pipe must pay.",
        default=10,
        assumed=True,
        ge=1,
        le=60,
        next_step="type a number of years",
    )

    @model_validator(mode="after")
    def _check(self):
        for name in _UNITS:
            try:
                self.prices(name)
            except BadInput as refusal:
                raise BadField.mended_in(name, refusal) from None
        return self

    def prices(self, name):
        """Sizes that the reader can buy.

        Parameters
        ----------
        name : str
            "cable_prices" or "pipe_prices".

        Returns
        -------
        dict of float to tuple
            As from `year.read_prices`, empty where none is typed.
        """
        return read_prices(getattr(self, name), _UNITS[name], where=field_facts(type(self), name).title)
