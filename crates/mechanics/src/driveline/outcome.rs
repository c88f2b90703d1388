//! What an event gives: peaks, impacts, energy, traces, and what it cost to compute.

use super::energy::EnergyBook;

/// The largest force on one flank, and when it came. Zero at time zero where the flank is never loaded.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Blow {
    /// Force along the line of action, N, as a magnitude.
    pub force_n: f64,
    /// When, s.
    pub time_s: f64,
    /// Motor current at that instant, A; negative where it brakes.
    pub current_a: f64,
    /// How often the mesh closed up to then, the closing of this blow not counted.
    pub impacts_before: u32,
}

/// One point of the trace for plots.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TracePoint {
    /// Time, s.
    pub time_s: f64,
    /// Tooth force then, N; positive on the drive flank.
    pub mesh_force_n: f64,
    /// Largest tooth force since the point before, N.
    pub mesh_force_max_n: f64,
    /// Least tooth force since the point before, N.
    pub mesh_force_min_n: f64,
    /// Torque of the shaft at the spur, N·m.
    pub shaft_torque_n_m: f64,
    /// Force of the tyres on the ground, N.
    pub ground_force_n: f64,
    /// Force of the tyres along the road, N.
    pub tyre_force_n: f64,
    /// Motor current, A.
    pub current_a: f64,
    /// Rotor speed, rad/s.
    pub rotor_speed_rad_s: f64,
    /// Wheel speed, rad/s.
    pub wheel_speed_rad_s: f64,
    /// Truck speed, m/s.
    pub truck_speed_m_s: f64,
    /// Height of the sprung mass, m.
    pub sprung_height_m: f64,
    /// Height of the wheels, m.
    pub unsprung_height_m: f64,
}

/// One point of the tooth force's whole history.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshPoint {
    /// Time, s.
    pub time_s: f64,
    /// Tooth force, N; positive on the drive flank.
    pub force_n: f64,
    /// Motor current, A.
    pub current_a: f64,
}

/// What the solution cost, over all runs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Effort {
    /// Steps accepted.
    pub steps: u32,
    /// Steps rejected.
    pub rejected: u32,
    /// Steps computed, those taken again included: shorter, or up to a branch's end.
    pub taken: u32,
    /// Evaluations of the right-hand side.
    pub evaluations: u32,
    /// Changes of branch that were located.
    pub events: u32,
    /// Runs at successive tolerances.
    pub runs: u32,
}

impl Effort {
    /// Both together.
    pub fn and(self, other: Self) -> Self {
        Self {
            steps: self.steps + other.steps,
            rejected: self.rejected + other.rejected,
            taken: self.taken + other.taken,
            evaluations: self.evaluations + other.evaluations,
            events: self.events + other.events,
            runs: self.runs + other.runs,
        }
    }
}

/// The result of one event.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// Largest force on the drive flank.
    pub peak_drive_flank: Blow,
    /// Largest force on the coast flank.
    pub peak_coast_flank: Blow,
    /// Largest torque of the shaft at the spur, N·m, either way.
    pub peak_shaft_torque_n_m: f64,
    /// Largest force of the tyres on the ground, N.
    pub peak_ground_force_n: f64,
    /// Largest motor current, A, either way.
    pub peak_current_a: f64,
    /// How often the mesh closed.
    pub impacts: u32,
    /// Largest speed at which it closed, m/s along the line of action.
    pub largest_closing_speed_m_s: f64,
    /// Energy.
    pub energy: EnergyBook,
    /// Speed of the truck at the end, m/s.
    pub final_truck_speed_m_s: f64,
    /// Speed of the wheels at the end, rad/s.
    pub final_wheel_speed_rad_s: f64,
    /// Speed of the rotor at the end, rad/s.
    pub final_rotor_speed_rad_s: f64,
    /// Angle that the wheels turned, rad.
    pub wheel_turn_rad: f64,
    /// Angle that the clutch slipped at the spur, rad, forward less backward.
    pub clutch_slip_rad: f64,
    /// Trace at even times, where it was asked for.
    pub trace: Vec<TracePoint>,
    /// Tooth force at every step's ends and middle, where it was asked for: for rainflow counting and for what slides under it.
    pub mesh_history: Vec<MeshPoint>,
    /// Largest difference of a peak between the last two tolerances, over what is allowed; none where it was not asked for.
    pub settled: Option<f64>,
    /// What it cost.
    pub effort: Effort,
}
