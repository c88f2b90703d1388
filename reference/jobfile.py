"""A job file's point values in SI, read without the program: nested tables of plain numbers and words."""
import math
import re
import tomllib

UNITS = {
    "m": 1.0, "mm": 1e-3, "kg": 1.0, "g": 1e-3, "N": 1.0, "kN": 1e3, "s": 1.0, "ms": 1e-3, "min": 60.0, "rad": 1.0,
    "deg": math.pi / 180, "V": 1.0, "A": 1.0, "ohm": 1.0, "mohm": 1e-3, "rpm": math.pi / 30, "%": 0.01, "MPa": 1e6,
}
QUANTITY = re.compile(r"([-+]?[0-9.]+(?:[eE][-+]?[0-9]+)?)\s*([a-zA-Z%][a-zA-Z0-9/*^%]*)")


def factor(unit):
    """SI value of one of a unit such as "N*m/rad"; None for what is no unit of the table."""
    total, sign = 1.0, 1
    for token in re.split(r"([*/])", unit):
        if token in "*/":
            sign = 1 if token == "*" else -1
            continue
        name, _, power = token.partition("^")
        if name not in UNITS:
            return None
        total *= UNITS[name] ** (sign * int(power or 1))
    return total


def point(value):
    """The point value of whatever stands right of a key."""
    if isinstance(value, dict):
        return point(value["value"]) if "value" in value else {key: point(entry) for key, entry in value.items()}
    if isinstance(value, list):
        return [point(entry) for entry in value]
    match = QUANTITY.fullmatch(value) if isinstance(value, str) else None
    scale = factor(match[2]) if match else None
    return value if scale is None else float(match[1]) * scale


def read(path):
    with open(path, "rb") as handle:
        return point(tomllib.load(handle))
