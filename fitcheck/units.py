"""The units that users may write, by dimension, with exact factors to the working unit.

The working units are coherent on the millimetre: mm, MPa, N, mm3, s, kg, N mm, mm3/MPa and mm3/mm, with degrees for
angles and degrees Celsius for temperatures. Factors are kept as two decimal texts, numerator and denominator, so that
a quantity is rounded once only. The international inch, pound and standard gravity are exact by definition
(NIST SP 811, 2008 edition, appendix B); the tests compare every factor with pint.
"""

from typing import Final, NamedTuple


class Dimension(NamedTuple):
    """A kind of quantity: name with article, working unit, unit shown by default, help for messages."""

    phrase: str
    working: str
    shown: str
    examples: tuple[str, str]
    common: str


class Unit(NamedTuple):
    """A unit as one word of ours: ``(value + offset) * numerator / denominator`` gives the working unit."""

    dimension: str
    pint: str
    numerator: str
    denominator: str
    decimals: int
    offset: str = "0"


DIMENSIONS: Final = {
    "length": Dimension("a length", "mm", "mm", ("25 mm", "1 in"), "mm, cm, m, in or ft"),
    "pressure": Dimension("a pressure", "MPa", "MPa", ("7 MPa", "1000 psi"), "kPa, MPa, bar or psi"),
    "force": Dimension("a force", "N", "N", ("350 N", "80 lbf"), "N, kN, lbf or kgf"),
    "angle": Dimension("an angle", "deg", "deg", ("32 deg", "0.5 rad"), "deg or rad"),
    "volume": Dimension("a volume", "mm3", "mL", ("12 mL", "0.5 in3"), "mm3, mL, cm3, L, in3 or fl oz (US)"),
    "time": Dimension("a time", "s", "s", ("30 min", "2 d"), "s, min, h, d or week"),
    "mass": Dimension("a mass", "kg", "kg", ("1.2 kg", "3 lb"), "g, kg, lb or oz"),
    "torque": Dimension("a torque", "N mm", "N m", ("15 N m", "11 lbf.ft"), "N m, lbf.ft or lbf.in"),
    "temperature": Dimension("a temperature", "degC", "degC", ("20 degC", "68 degF"), "degC, degF or K"),
    "give": Dimension(
        "a volume for each unit of pressure", "mm3/MPa", "mm3/bar", ("8 mm3/bar", "0.01 cm3/bar"), "mm3/bar or cm3/bar"
    ),
    "swelling": Dimension(
        "a volume for each unit of length", "mm3/mm", "cm3/m", ("1.1 cm3/m", "0.33 cc/ft"), "cm3/m or cc/ft"
    ),
}

_INCH_3: Final = "16387.064"  # 25.4 mm cubed
_POUND_FORCE: Final = "4.4482216152605"  # 0.45359237 kg times 9.80665 m/s2

_TABLE: Final = (
    # words of users, dimension, pint's name, numerator, denominator, decimals shown, offset
    ("um|µm|μm", Unit("length", "micrometer", "1", "1000", 1)),
    ("mm", Unit("length", "millimeter", "1", "1", 2)),
    ("cm", Unit("length", "centimeter", "10", "1", 3)),
    ("m", Unit("length", "meter", "1000", "1", 4)),
    ('in|inch|inches|"|″|”', Unit("length", "inch", "25.4", "1", 4)),
    ("ft|foot|feet|'|\u2032|\u2019", Unit("length", "foot", "304.8", "1", 4)),
    ("Pa", Unit("pressure", "pascal", "1", "1000000", 0)),
    ("kPa", Unit("pressure", "kilopascal", "1", "1000", 0)),
    ("MPa|N/mm2|N/mm²", Unit("pressure", "megapascal", "1", "1", 2)),
    ("bar", Unit("pressure", "bar", "1", "10", 1)),
    ("psi|lbf/in2", Unit("pressure", "psi", _POUND_FORCE, "645.16", 0)),
    ("N", Unit("force", "newton", "1", "1", 0)),
    ("kN", Unit("force", "kilonewton", "1000", "1", 3)),
    ("lbf", Unit("force", "force_pound", _POUND_FORCE, "1", 1)),
    ("kgf", Unit("force", "force_kilogram", "9.80665", "1", 1)),
    ("deg|°", Unit("angle", "degree", "1", "1", 1)),
    ("rad", Unit("angle", "radian", "180", "3.14159265358979323846", 4)),
    ("mm3|mm³", Unit("volume", "millimeter**3", "1", "1", 0)),
    ("mL|ml|cm3|cm³|cc", Unit("volume", "milliliter", "1000", "1", 2)),
    ("L|l", Unit("volume", "liter", "1000000", "1", 3)),
    ("in3|in³", Unit("volume", "inch**3", _INCH_3, "1", 3)),
    ("fl oz|fl oz (US)|US fl oz", Unit("volume", "US_fluid_ounce", "29573.5295625", "1", 2)),
    ("s", Unit("time", "second", "1", "1", 0)),
    ("min", Unit("time", "minute", "60", "1", 1)),
    ("h", Unit("time", "hour", "3600", "1", 2)),
    ("d|day|days", Unit("time", "day", "86400", "1", 2)),
    ("week|weeks", Unit("time", "week", "604800", "1", 2)),
    ("g", Unit("mass", "gram", "1", "1000", 0)),
    ("kg", Unit("mass", "kilogram", "1", "1", 3)),
    ("lb", Unit("mass", "pound", "0.45359237", "1", 2)),
    ("oz", Unit("mass", "ounce", "0.45359237", "16", 1)),
    ("N m|Nm|N.m|N·m", Unit("torque", "newton*meter", "1000", "1", 1)),
    (
        "lbf.ft|lbf-ft|lbf ft|lb.ft|lb-ft|lb ft|ft.lbf|ft-lbf|ft-lb",
        Unit("torque", "force_pound*foot", "1355.8179483314004", "1", 1),
    ),
    (
        "lbf.in|lbf-in|lbf in|lb.in|lb-in|lb in|in.lbf|in-lbf|in-lb",
        Unit("torque", "force_pound*inch", "112.9848290276167", "1", 0),
    ),
    ("degC|°C|C", Unit("temperature", "degree_Celsius", "1", "1", 1)),
    ("degF|°F|F", Unit("temperature", "degree_Fahrenheit", "5", "9", 1, "-32")),
    ("K", Unit("temperature", "kelvin", "1", "1", 1, "-273.15")),
    ("mm3/bar|mm³/bar", Unit("give", "millimeter**3/bar", "10", "1", 1)),
    ("mm3/MPa|mm³/MPa", Unit("give", "millimeter**3/megapascal", "1", "1", 0)),
    ("cm3/bar|cm³/bar|cc/bar|mL/bar|ml/bar", Unit("give", "centimeter**3/bar", "10000", "1", 4)),
    ("cm3/m|cm³/m|cc/m|mL/m|ml/m", Unit("swelling", "centimeter**3/meter", "1", "1", 2)),
    ("mm3/mm|mm³/mm", Unit("swelling", "millimeter**3/millimeter", "1", "1", 3)),
    ("cc/ft|cm3/ft|cm³/ft|mL/ft|ml/ft", Unit("swelling", "centimeter**3/foot", "1000", "304.8", 3)),
)

UNITS: Final = {word: unit for words, unit in _TABLE for word in words.split("|")}
"""Every unit word that is taken, as users write it."""
