//! The equations of the shock model once more, written straight from their statement, in the angles themselves and
//! without any events.

use toothsayer_mechanics::driveline::{Case, Event, Parameters};

/// Peaks: drive flank, coast flank, shaft, ground, current.
pub type Peaks = [f64; 5];

const QM: usize = 0;
const WM: usize = 1;
const QS: usize = 2;
const WS: usize = 3;
const QW: usize = 4;
const WW: usize = 5;
const V: usize = 6;
const I: usize = 7;
const FX: usize = 8;
const ZS: usize = 9;
const US: usize = 10;
const ZU: usize = 11;
const UU: usize = 12;
const YP: usize = 13;
/// The angles and speeds themselves, and what goes with them.
pub type Y = [f64; 14];

/// A truck by the statement of the equations.
pub struct Truck<'a> {
    p: &'a Parameters,
    kt: f64,
    jw: f64,
    ms: f64,
    mu: f64,
    cm: f64,
    cd: f64,
}

fn law(x: f64, dx: f64, half: f64, k: f64, c: f64) -> f64 {
    if x > half {
        (k * (x - half) + c * dx).max(0.0)
    } else if x < -half {
        (k * (x + half) + c * dx).min(0.0)
    } else {
        0.0
    }
}

impl<'a> Truck<'a> {
    pub fn new(p: &'a Parameters) -> Self {
        let nw = f64::from(p.wheel_count);
        let jw = f64::from(p.driven_wheels) * p.wheel_mass_kg * (p.gyration_ratio * p.tyre_radius_m).powi(2);
        let me = 1.0
            / (p.pinion_base_radius_m.powi(2) / p.rotor_inertia_kg_m2
                + p.spur_base_radius_m.powi(2) / p.spur_inertia_kg_m2);
        let turned = p.rotor_inertia_kg_m2 * (p.spur_base_radius_m / p.pinion_base_radius_m).powi(2);
        let jd = 1.0 / (1.0 / (p.spur_inertia_kg_m2 + turned) + p.ratio_after_spur.powi(2) / jw);
        Self {
            p,
            kt: 1.0 / p.motor_kv_rad_s_v,
            jw,
            ms: p.truck_mass_kg - nw * p.wheel_mass_kg,
            mu: nw * p.wheel_mass_kg,
            cm: 2.0 * p.mesh_damping_ratio * (p.mesh_stiffness_n_m * me).sqrt(),
            cd: 2.0 * p.shaft_damping_ratio * (p.shaft_stiffness_n_m_rad * jd).sqrt(),
        }
    }

    /// Tooth force, shaft torque, clutch slip speed, ground force.
    fn forces(&self, y: &Y) -> (f64, f64, f64, f64) {
        let p = self.p;
        let x = p.pinion_base_radius_m * y[QM] - p.spur_base_radius_m * y[QS];
        let dx = p.pinion_base_radius_m * y[WM] - p.spur_base_radius_m * y[WS];
        let mesh = law(x, dx, 0.5 * p.normal_backlash_m, p.mesh_stiffness_n_m, self.cm);
        let i = p.ratio_after_spur;
        let twist = y[QS] - i * y[QW] - y[YP];
        let whole = law(twist, y[WS] - i * y[WW], 0.5 * i * p.lash_rad, p.shaft_stiffness_n_m_rad, self.cd);
        let limit = p.clutch_torque_n_m.unwrap_or(f64::INFINITY);
        let shaft = whole.clamp(-limit, limit);
        let slip = if whole == shaft { 0.0 } else { (whole - shaft) / self.cd };
        let nw = f64::from(p.wheel_count);
        let ground = if y[ZU] < 0.0 {
            (-nw * p.tyre_stiffness_n_m * y[ZU] - nw * p.tyre_damping_n_s_m * y[UU]).max(0.0)
        } else {
            0.0
        };
        (mesh, shaft, slip, ground)
    }

    pub fn slopes(&self, y: &Y, command: char, wheel_rate: Option<f64>) -> Y {
        let p = self.p;
        let (mesh, shaft, slip, ground) = self.forces(y);
        let back = self.kt * y[WM];
        let wanted = match command {
            'd' => {
                let free = (p.battery_voltage_v - back) / (p.motor_resistance_ohm + p.battery_resistance_ohm);
                p.throttle_strength * free.min(p.drive_current_a).max(0.0)
            }
            'b' => {
                let sign = if y[WM] == 0.0 { 0.0 } else { y[WM].signum() };
                -p.brake_strength * p.brake_current_a.min(back.abs() / p.motor_resistance_ohm) * sign
            }
            _ => 0.0,
        };
        let torque = self.kt * (y[I] - p.no_load_current_a * (y[WM] / 50.0).tanh());
        let tread = p.tyre_radius_m * y[WW];
        let speed = y[V].abs().max(tread.abs()).max(1.0);
        let slip_ratio = (tread - y[V]) / speed;
        let target = p.grip
            * p.driven_load_share
            * ground
            * (p.tyre_slip_shape * (p.tyre_slip_stiffness * slip_ratio).atan()).sin();
        let c = y[ZU] - y[ZS];
        let damper = p.suspension_damping_n_s_m * (y[UU] - y[US]);
        let spring = if c < 0.0 {
            p.stop_stiffness_n_m * c + damper
        } else {
            p.suspension_stiffness_n_m * c + damper + (p.stop_stiffness_n_m * (c - p.suspension_travel_m)).max(0.0)
        };
        let slap = match p.chassis_clearance_m {
            Some(hc) if y[ZS] < -hc => (p.slap_stiffness_n_m * (-y[ZS] - hc) - p.slap_damping_n_s_m * y[US]).max(0.0),
            _ => 0.0,
        };
        let g = 9.81;
        let mut d = [0.0; 14];
        d[QM] = y[WM];
        d[WM] = (torque - mesh * p.pinion_base_radius_m) / p.rotor_inertia_kg_m2;
        d[QS] = y[WS];
        d[WS] = (mesh * p.spur_base_radius_m - shaft) / p.spur_inertia_kg_m2;
        d[QW] = y[WW];
        d[WW] = wheel_rate.unwrap_or((p.ratio_after_spur * shaft - p.tyre_radius_m * y[FX]) / self.jw);
        let rolling = f64::from(p.wheel_count - p.driven_wheels) * p.wheel_mass_kg * p.gyration_ratio.powi(2);
        d[V] = (y[FX] - 0.5 * 1.2 * p.drag_area_m2 * y[V] * y[V].abs()) / (p.truck_mass_kg + rolling);
        d[I] = (wanted - y[I]) / p.current_lag_s;
        d[FX] = (target - y[FX]) * speed / p.relaxation_length_m;
        d[ZS] = y[US];
        d[US] = (spring + slap) / self.ms - g;
        d[ZU] = y[UU];
        d[UU] = (ground - spring) / self.mu - g;
        d[YP] = slip;
        d
    }

    pub fn start(&self, event: &Event) -> Y {
        let p = self.p;
        let no_load = p.battery_voltage_v * p.motor_kv_rad_s_v * p.pinion_base_radius_m
            / p.spur_base_radius_m
            / p.ratio_after_spur;
        let v0 = event.start_speed_m_s.unwrap_or(0.9 * p.loaded_top_speed_m_s());
        let vl = event.landing_speed_m_s;
        let r = p.tyre_radius_m;
        let (flank, phase, v, ww) = match event.case {
            Case::Launch => (1.0, 0.5, 0.0, 0.0),
            Case::FullBrake | Case::Reversal => (-1.0, 1.0, v0, v0 / r),
            Case::LandingOnThrottle => (1.0, 0.0, vl, 0.95 * no_load),
            Case::LandingOnBrake => (-1.0, 0.0, vl, 0.0),
            Case::LandingCoasting => (-1.0, 0.0, vl, vl / r),
            Case::WheelStop => (1.0, 0.0, v0, v0 / r),
        };
        let open = flank * (1.0 - 2.0 * event.lash_phase.unwrap_or(phase));
        let mut y = [0.0; 14];
        y[QS] = open * 0.5 * p.ratio_after_spur * p.lash_rad;
        y[QM] = (open * 0.5 * p.normal_backlash_m + p.spur_base_radius_m * y[QS]) / p.pinion_base_radius_m;
        y[WW] = ww;
        y[WS] = p.ratio_after_spur * ww;
        y[WM] = y[WS] * p.spur_base_radius_m / p.pinion_base_radius_m;
        y[V] = v;
        if event.case.is_landing() {
            y[US] = -(2.0 * 9.81 * event.drop_height_m).sqrt();
            y[UU] = y[US];
        } else {
            y[ZU] = -p.truck_mass_kg * 9.81 / (f64::from(p.wheel_count) * p.tyre_stiffness_n_m);
            let weight = self.ms * 9.81;
            let mut c = weight / p.suspension_stiffness_n_m;
            if c > p.suspension_travel_m {
                c = (weight + p.stop_stiffness_n_m * p.suspension_travel_m)
                    / (p.suspension_stiffness_n_m + p.stop_stiffness_n_m);
            }
            y[ZS] = y[ZU] - c;
        }
        y
    }
}

impl Truck<'_> {
    /// Raises peaks to the loads at a state.
    pub fn raise(&self, peaks: &mut Peaks, y: &Y) {
        let (mesh, shaft, _, ground) = self.forces(y);
        for (peak, now) in peaks.iter_mut().zip([mesh, -mesh, shaft.abs(), ground, y[I].abs()]) {
            *peak = peak.max(now);
        }
    }
}

/// A stretch of an event: until when, with which command, and the wheels' rate where they are stopped from outside.
pub type Stretch = (f64, char, Option<f64>);

/// The stretches of an event that starts from a state.
pub fn stretches(event: &Event, start: &Y) -> Vec<Stretch> {
    let end = event.duration_s();
    let all = match event.case {
        Case::Launch | Case::LandingOnThrottle => vec![(end, 'd', None)],
        Case::FullBrake | Case::LandingOnBrake => vec![(end, 'b', None)],
        Case::LandingCoasting => vec![(end, 'c', None)],
        Case::Reversal => vec![(0.25, 'b', None), (end, 'd', None)],
        Case::WheelStop => vec![(0.01, 'c', Some(-start[WW] / 0.01)), (end, 'c', Some(0.0))],
    };
    all.into_iter().map(|(until, command, rate)| (until.min(end), command, rate)).collect()
}
