"""stallpoint: simulation of battery-powered, reversing DC motor circuits.

Start with :class:`Drive` for a whole reversing drive (``Drive.from_toml``, ``drive.start``, :func:`surge_study`, :func:`sweep`), or
with :class:`Circuit` for any circuit. Physical arguments are numbers in SI or texts with a unit; arrays are float64.
"""

import numpy  # noqa: F401 - before the native half, which needs it

from . import errors
from ._stallpoint import (
    Circuit,
    Control,
    Drive,
    Fault,
    OperatingPoint,
    Run,
    Start,
    State,
    SurgeStudy,
    Trace,
    __version__,
    surge_study,
)
from .errors import *  # noqa: F403
from .parts import (
    Battery,
    Breaker,
    Cable,
    Capacitor,
    Coil,
    CurrentSource,
    Diode,
    Inductor,
    Joint,
    Load,
    Motor,
    Part,
    Resistor,
    ReversingContactor,
    Switch,
    TestLamp,
    TripBand,
    VoltageSource,
    Voltmeter,
)
from .records import (
    Check,
    Counters,
    EnergyAccount,
    Event,
    Extremes,
    PartEnergy,
    StalledCase,
    StallThreshold,
    Surge,
)
from .sweeps import Sweep, sweep

__all__ = [
    "Battery",
    "Breaker",
    "Cable",
    "Capacitor",
    "Check",
    "Circuit",
    "Coil",
    "Control",
    "Counters",
    "CurrentSource",
    "Diode",
    "Drive",
    "EnergyAccount",
    "Event",
    "Extremes",
    "Fault",
    "Inductor",
    "Joint",
    "Load",
    "Motor",
    "OperatingPoint",
    "Part",
    "PartEnergy",
    "Resistor",
    "ReversingContactor",
    "Run",
    "StallThreshold",
    "StalledCase",
    "Start",
    "State",
    "Surge",
    "SurgeStudy",
    "Sweep",
    "Switch",
    "TestLamp",
    "Trace",
    "TripBand",
    "VoltageSource",
    "Voltmeter",
    "__version__",
    "errors",
    "surge_study",
    "sweep",
]
