"""Every part of a job by its name in the document."""

from statorbook.job.parts.bank import BankPart
from statorbook.job.parts.cable import CablePart
from statorbook.job.parts.control import ControlPart
from statorbook.job.parts.converter import ConverterPart
from statorbook.job.parts.drive import DrivePart
from statorbook.job.parts.dump import DumpPart
from statorbook.job.parts.fuse import FusePart
from statorbook.job.parts.guard import GuardPart
from statorbook.job.parts.heat import HeatPart
from statorbook.job.parts.inductance import HenriesPart
from statorbook.job.parts.inverter import InverterPart
from statorbook.job.parts.meters import MetersPart
from statorbook.job.parts.need import NeedPart
from statorbook.job.parts.prices import PricesPart
from statorbook.job.parts.program import ProgramPart
from statorbook.job.parts.protection import ProtectionPart
from statorbook.job.parts.reader import ReaderPart
from statorbook.job.parts.rectifier import RectifierPart
from statorbook.job.parts.refined import RefinedPart
from statorbook.job.parts.results import ChoicePart, CoilPart, PlanPart
from statorbook.job.parts.rotor import RotorPart
from statorbook.job.parts.service import ServicePart
from statorbook.job.parts.sessions import SessionsPart
from statorbook.job.parts.set_points import SetPointsPart
from statorbook.job.parts.site import SitePart
from statorbook.job.parts.stator import StatorPart
from statorbook.job.parts.water import WaterPart
from statorbook.job.parts.year import YearPart

PARTS = {
    "stator": StatorPart,
    "coil": CoilPart,
    "drive": DrivePart,
    "bank": BankPart,
    "choice": ChoicePart,
    "plan": PlanPart,
    "reader": ReaderPart,
    "service": ServicePart,
    "refined": RefinedPart,
    "henries": HenriesPart,
    "sessions": SessionsPart,
    "meters": MetersPart,
    "year": YearPart,
    "need": NeedPart,
    "prices": PricesPart,
    "converter": ConverterPart,
    "site": SitePart,
    "cable": CablePart,
    "rectifier": RectifierPart,
    "fuse": FusePart,
    "rotor": RotorPart,
    "guard": GuardPart,
    "heat": HeatPart,
    "protection": ProtectionPart,
    "set_points": SetPointsPart,
    "dump": DumpPart,
    "water": WaterPart,
    "inverter": InverterPart,
    "control": ControlPart,
    "program": ProgramPart,
}
