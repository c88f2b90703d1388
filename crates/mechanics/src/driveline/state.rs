//! The state vector.
//!
//! Only differences of the angles enter the equations, so the solver carries the mesh's travel x = rb1 qm - rb2 qs
//! and the shaft's twist y = qs - i qw - yp instead of the angles of rotor and spur: a few micrometres are not lost
//! in hundreds of radians. The wheels' angle qw and the clutch's slip yp feed nothing back and are summed beside it.

/// Number of states.
pub(super) const COUNT: usize = 12;

/// The state: see the positions below.
pub(super) type State<T = f64> = [T; COUNT];

/// Travel x of the mesh along the line of action, m.
pub(super) const MESH: usize = 0;
/// Twist y of the shaft at the spur, rad.
pub(super) const TWIST: usize = 1;
/// Rotor speed wm, rad/s.
pub(super) const ROTOR_SPEED: usize = 2;
/// Spur speed ws, rad/s.
pub(super) const SPUR_SPEED: usize = 3;
/// Wheel speed ww, rad/s.
pub(super) const WHEEL_SPEED: usize = 4;
/// Truck speed v, m/s.
pub(super) const TRUCK_SPEED: usize = 5;
/// Motor current I, A.
pub(super) const CURRENT: usize = 6;
/// Tyre force Fx along the road, N.
pub(super) const TYRE_FORCE: usize = 7;
/// Sprung height zs, m.
pub(super) const SPRUNG_HEIGHT: usize = 8;
/// Sprung speed us, m/s.
pub(super) const SPRUNG_SPEED: usize = 9;
/// Unsprung height zu, m.
pub(super) const UNSPRUNG_HEIGHT: usize = 10;
/// Unsprung speed uu, m/s.
pub(super) const UNSPRUNG_SPEED: usize = 11;
