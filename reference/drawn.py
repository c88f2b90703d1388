"""Job files drawn around the example: each value of a list multiplied by a factor of its own, with a fixed seed."""
import random
import re

# Table, key and the largest factor either way.
DRAWN = [
    ("truck", "mass", 1.5), ("battery", "cell_voltage", 1.1), ("battery", "resistance", 2), ("motor", "kv", 1.4),
    ("motor", "resistance", 2), ("motor", "rotor_inertia", 2), ("motor", "current_lag", 2),
    ("controller", "drive_current", 1.5), ("controller", "brake_current", 1.5), ("driveline", "spur_inertia", 2),
    ("driveline", "ratio_after_spur", 1.4), ("driveline", "stiffness", 2), ("driveline", "damping_ratio", 2),
    ("driveline", "lash", 2), ("wheels", "mass", 1.4), ("wheels", "grip", 1.3), ("wheels", "vertical_stiffness", 1.5),
    ("wheels", "vertical_damping", 2), ("wheels", "relaxation_length", 2), ("suspension", "stiffness", 1.4),
    ("suspension", "damping", 1.5), ("suspension", "travel", 1.3), ("suspension", "stop_stiffness", 2),
]
CENTRE_MM = (36.02, 36.35)
LINE = re.compile(r'^(\w+) = "?([0-9.e+-]+)( [^"]*)?"?(\s*#.*)?$')


def job(text, seed):
    """The example's text with its values drawn."""
    draw, table, out = random.Random(seed), "", []
    factors = {(t, k): most ** draw.uniform(-1, 1) for t, k, most in DRAWN}
    centre_mm, met = draw.uniform(*CENTRE_MM), set()
    for line in text.split("[[findings]]")[0].splitlines():
        if line.startswith("["):
            table = line.strip("[]").split("]")[0]
        match = LINE.match(line)
        if match and (table, match[1]) in factors:
            met.add((table, match[1]))
            value = repr(float(match[2]) * factors[table, match[1]])
            line = f'{match[1]} = "{value}{match[3]}"' if match[3] else f"{match[1]} = {value}"
        elif match and (table, match[1]) == ("gears", "centre_distance"):
            line = f'centre_distance = "{centre_mm!r} mm"'
        out.append(line)
    if met != set(factors):
        raise RuntimeError(f"the example does not give {sorted(set(factors) - met)}")
    return "\n".join(out) + "\n"
