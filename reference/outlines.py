"""Tooth outlines as polygons: how near two gears come on each flank, and how far one turns until it touches."""
from math import ceil

from shapely import STRtree
from shapely.affinity import rotate
from shapely.geometry import LineString, Polygon, box

PROBES = 20  # looks for the first touch on the way to the limit
HALVINGS = 50  # of the last probe interval, down to rounding


def polygon(points):
    shape = Polygon(points)
    if not shape.is_valid or shape.area == 0:
        raise ValueError("an outline crosses itself or has no area")
    return shape


def flank_gaps(pinion, spur):
    """Smallest distance of the outlines above and below the line of centres."""
    left, low, right, high = pinion.union(spur).bounds
    halves = [box(left, 0.0, right, high), box(left, low, right, 0.0)]
    return [pinion.intersection(half).distance(spur.intersection(half)) for half in halves]


def free_turn(pinion, spur, centre, sign, limit):
    """Largest angle, rad, by which the spur turns about its centre before it touches the pinion."""
    ring = list(pinion.exterior.coords)
    edges = STRtree([LineString(pair) for pair in zip(ring, ring[1:])])

    def touches(angle):
        turned = rotate(spur, sign * angle, origin=centre, use_radians=True)
        return edges.query(turned.exterior, predicate="intersects").size > 0

    low, high = 0.0, next(limit * k / PROBES for k in range(PROBES + 1) if touches(limit * k / PROBES))
    low = limit * (ceil(high / limit * PROBES) - 1) / PROBES if high else 0.0
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if touches(middle) else (middle, high)
    return low


def play(pinion, spur, centre, radius, expected):
    """Arc at a radius between both touches of the spur; searched up to four times what is expected."""
    limit = 4 * expected / radius
    return radius * sum(free_turn(pinion, spur, centre, sign, limit) for sign in (1, -1))
