"""Geometry, root factors and stiffness of a spur gear pair and its motor shaft (ISO 21771, ISO 6336-1 and -3).

Lengths in m, angles in rad; gear 0 is the pinion, gear 1 the spur. Written from the formulas, not from the crates.
"""
from math import acos, cos, hypot, pi, radians, sin, sqrt, tan

STEEL = 206e9  # Pa


def inv(angle):
    return tan(angle) - angle


class Pair:
    def __init__(self, gears, centre_distance):
        self.m, self.alpha = gears["module"], gears["pressure_angle"]
        self.ha, self.hf, self.rho = gears["addendum"], gears["dedendum"], gears["root_radius"]
        both = [gears["pinion"], gears["spur"]]
        self.z, self.x = [gear["teeth"] for gear in both], [gear["shift"] for gear in both]
        self.a = centre_distance
        self.r = [self.m * z / 2 for z in self.z]
        self.rb = [r * cos(self.alpha) for r in self.r]
        self.ra = [r + self.m * (self.ha + x) for r, x in zip(self.r, self.x)]
        self.thickness = [
            self.m * (pi / 2 + 2 * x * tan(self.alpha)) - gear["thinning"] for gear, x in zip(both, self.x)]
        self.aw = acos(sum(self.rb) / self.a)
        path = sum(sqrt(ra**2 - rb**2) for ra, rb in zip(self.ra, self.rb)) - self.a * sin(self.aw)
        self.eps = path / (pi * self.m * cos(self.alpha))

    def normal_backlash(self):
        working = [self.a * z / sum(self.z) for z in self.z]
        arcs = [2 * rw * (s / (2 * r) + inv(self.alpha) - inv(self.aw))
                for rw, r, s in zip(working, self.r, self.thickness)]
        return (2 * pi * working[0] / self.z[0] - sum(arcs)) * cos(self.aw)

    def root_factors(self, i):
        """YF and YS with the load at the outer point of single contact, at the tip when eps <= 1."""
        al, z, x, rho = self.alpha, self.z[i], self.x[i], self.rho
        e = pi / 4 - self.hf * tan(al) - (1 - sin(al)) * rho / cos(al)
        g, h = rho - self.hf + x, 2 / z * (pi / 2 - e) - pi / 3
        theta = pi / 6
        for _ in range(100):
            theta = 2 * g / z * tan(theta) - h
        sfn = z * sin(pi / 3 - theta) + sqrt(3) * (g / cos(theta) - rho)
        rho_f = rho + 2 * g**2 / (cos(theta) * (z * cos(theta) ** 2 - 2 * g))
        ra, rb = self.ra[i] / self.m, self.rb[i] / self.m
        re = ra if self.eps <= 1 else hypot(sqrt(ra**2 - rb**2) - pi * cos(al) * (self.eps - 1), rb)
        ae = acos(rb / re)
        ge = (pi / 2 + 2 * x * tan(al)) / z + inv(al) - inv(ae)
        afe = ae - ge
        hfe = ((cos(ge) - sin(ge) * tan(afe)) * 2 * re - z * cos(pi / 3 - theta) - g / cos(theta) + rho) / 2
        share = sfn / hfe
        stress = (1.2 + 0.13 * share) * (sfn / (2 * rho_f)) ** (1 / (1.21 + 2.3 / share))
        return 6 * hfe * cos(afe) / (sfn**2 * cos(al)), stress

    def tooth_stiffness(self, width):
        """Mean stiffness of the mesh of two steel gears over a width, N/m."""
        (z1, z2), (x1, x2) = self.z, self.x
        q = (0.04723 + 0.15551 / z1 + 0.25791 / z2 - 0.00635 * x1 - 0.11654 * x1 / z1 - 0.00193 * x2
             - 0.24188 * x2 / z2 + 0.00529 * x1**2 + 0.00182 * x2**2)
        rack = (1 + 0.5 * (1.2 - self.hf)) * (1 - 0.02 * (20 - self.alpha / radians(1)))
        return 0.8 * rack / q * (0.75 * max(1.0, self.eps) + 0.25) * 1e9 * width


def shaft_stiffness(diameter, load, support, support_stiffness):
    """Force over deflection at `load` of a cantilever with a spring at `support`, N/m."""
    ei = STEEL * pi * diameter**4 / 64

    def influence(i, j):
        near, far = sorted((i, j))
        return near**2 * (3 * far - near) / (6 * ei)

    reaction = influence(load, support) / (influence(support, support) + 1 / support_stiffness)
    return 1 / (influence(load, load) - reaction * influence(load, support))
