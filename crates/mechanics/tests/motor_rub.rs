//! A pressed bearing against published friction and a wall worked by hand.

use toothsayer_mechanics::bearing::rub::{FRICTION, Pressed, SEAT_LIMITS, press, seat_limit};
use toothsayer_mechanics::bearing::{Bearing, find};
use toothsayer_mechanics::material::joint_material;
use toothsayer_quantity::{AngularSpeed, Force, Length, LinearStiffness};

/// Roundings of a few operations.
const ROUNDING: f64 = 1e-9;

#[track_caller]
fn check(got: f64, expected: f64, relative: f64) {
    assert!((got - expected).abs() <= relative * expected.abs(), "got {got}, expected {expected} within {relative}");
}

fn bearing() -> &'static Bearing {
    find("8x16x5").unwrap()
}

fn pressed(force_n: f64, rpm: f64) -> Pressed<'static> {
    let (wall, shaft) = (Length::mm(4.0), Length::mm(24.0));
    Pressed { bearing: bearing(), force: Force::n(force_n), speed: AngularSpeed::rpm(rpm), wall, shaft }
}

// Bearing makers' tables: M = mu P d/2 with 0.0010 to 0.0015 for deep-groove balls; loss 1.05e-4 M n W with M in N mm
// and n in rpm. 100 N on an 8 mm bore: 0.6 N mm, at 20 000 rpm 1.26 W.
#[test]
fn friction_and_heat_are_those_of_the_tables() {
    assert!((0.0010..=0.0015).contains(&FRICTION));
    let rub = pressed(100.0, 20_000.0).rub().unwrap();
    check(rub.moment.to_n_mm(), 0.6, ROUNDING);
    check(rub.heat_w, 1.05e-4 * 0.6 * 20_000.0, 3e-3);
}

// By hand: ring ln(24/16)/(2 pi 0.3 x 0.005) = 43.02 K/W, film 1/(15 pi 0.024 x 0.005) = 176.84 K/W, together
// 4.548 mW/K; shaft 45 x pi/4 x 0.008²/0.024 = 94.25 mW/K.
#[test]
fn wall_and_shaft_carry_the_heat_away() {
    let rub = pressed(100.0, 20_000.0).rub().unwrap();
    check(rub.conductance_w_k, 0.004_548 + 0.094_25, 1e-3);
    check(rub.rise_k, rub.heat_w / rub.conductance_w_k, ROUNDING);
}

#[test]
fn the_rise_goes_with_force_and_speed() {
    let rise_k = |force_n: f64, rpm: f64| pressed(force_n, rpm).rub().unwrap().rise_k;
    check(rise_k(60.0, 20_000.0), 2.0 * rise_k(30.0, 20_000.0), ROUNDING);
    check(rise_k(60.0, 20_000.0), 2.0 * rise_k(60.0, 10_000.0), ROUNDING);
    assert_eq!(rise_k(0.0, 20_000.0), 0.0);
    check(press(Length::mm(0.3), LinearStiffness::n_per_mm(200.0)).unwrap().to_n(), 60.0, ROUNDING);
}

// Encyclopedia of Physical Science and Technology, "Plastics Engineering", table I: deflection temperatures of POM 110,
// PA66 77, PA66 with 30 % glass 249 °C.
#[test]
fn seats_give_way_where_the_table_says_and_every_row_is_a_joint_material() {
    for (material, celsius) in [("pom", 110.0), ("pa66", 77.0), ("pa66-gf30", 249.0)] {
        check(seat_limit(material).unwrap().limit.to_k() - 273.15, celsius, ROUNDING);
    }
    for row in SEAT_LIMITS {
        assert!(joint_material(row.material).unwrap().plastic && !row.source.is_empty(), "{}", row.material);
    }
    assert_eq!(seat_limit("aluminium"), None);
}

#[test]
fn what_is_outside_its_range_is_refused_by_name() {
    let thin = Pressed { wall: Length::ZERO, ..pressed(10.0, 1000.0) };
    assert_eq!(thin.rub().unwrap_err().to_string(), "wall about the bearing is 0 mm, outside 0.5 to 50 mm");
    assert!(pressed(f64::NAN, 1000.0).rub().unwrap_err().to_string().starts_with("bearing load is NaN N"));
    let lifted = press(Length::mm(-1.0), LinearStiffness::n_per_mm(200.0)).unwrap_err().to_string();
    assert_eq!(lifted, "how far the stack presses the bearing is -1 mm, outside 0 to 50 mm");
}
