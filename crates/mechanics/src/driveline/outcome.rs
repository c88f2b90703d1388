//! What an event does: the peaks, the energy book, the trace.

/// The hardest blow on one flank.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Blow {
    /// Force along the line of action, N; 0 where the flank is never loaded.
    pub force_n: f64,
    /// When, s.
    pub time_s: f64,
    /// The motor's current then, A.
    pub current_a: f64,
    /// How often the flanks had met before.
    pub impacts_before: u32,
}

/// Where the energy went, J.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct EnergyBook {
    /// Stored at the start.
    pub start_j: f64,
    /// Put in by the motor.
    pub in_j: f64,
    /// Lost in friction, dampers, tyre slip, drag, clutch and wheel stop.
    pub lost_j: f64,
    /// Stored at the end.
    pub end_j: f64,
}

impl EnergyBook {
    /// |start + in - end - lost| over the largest of them.
    pub fn residual(&self) -> f64 {
        let open = (self.start_j + self.in_j - self.end_j - self.lost_j).abs();
        let largest = [self.start_j, self.in_j, self.end_j, self.lost_j].map(f64::abs).into_iter().fold(0.0, f64::max);
        if largest > 0.0 { open / largest } else { 0.0 }
    }
}

/// One instant of the trace.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TracePoint {
    /// Time, s.
    pub time_s: f64,
    /// Mesh force, N; positive on the drive flank.
    pub mesh_force_n: f64,
    /// Shaft torque at the spur, N·m.
    pub shaft_torque_n_m: f64,
    /// Ground force on all tyres, N.
    pub ground_force_n: f64,
    /// Motor current, A.
    pub current_a: f64,
    /// Truck speed, m/s.
    pub truck_speed_m_s: f64,
}

/// What the solver spent.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Effort {
    /// Accepted steps.
    pub steps: u32,
    /// Steps tried again.
    pub rejected: u32,
    /// Evaluations of the equations.
    pub evaluations: u32,
    /// Branches changed.
    pub events: u32,
}

/// What an event does.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outcome {
    /// The hardest blow on the drive flank.
    pub peak_drive_flank: Blow,
    /// The hardest blow on the coast flank.
    pub peak_coast_flank: Blow,
    /// Largest torque of the shaft at the spur, N·m.
    pub peak_shaft_torque_n_m: f64,
    /// Largest ground force on all tyres, N.
    pub peak_ground_force_n: f64,
    /// Largest current of the motor, A.
    pub peak_current_a: f64,
    /// How often flanks met.
    pub impacts: u32,
    /// Largest speed at which they met, m/s.
    pub largest_closing_speed_m_s: f64,
    /// Energy.
    pub energy: EnergyBook,
    /// Speed of the truck at the end, m/s.
    pub final_truck_speed_m_s: f64,
    /// Speed of the wheels at the end, rad/s.
    pub final_wheel_speed_rad_s: f64,
    /// Speed of the motor at the end, rad/s.
    pub final_motor_speed_rad_s: f64,
    /// The course of it, where asked for.
    pub trace: Vec<TracePoint>,
    /// What the solver spent.
    pub effort: Effort,
}

impl Outcome {
    /// The harder of the two blows.
    pub fn hardest(&self) -> Blow {
        if self.peak_drive_flank.force_n >= self.peak_coast_flank.force_n {
            self.peak_drive_flank
        } else {
            self.peak_coast_flank
        }
    }
}
