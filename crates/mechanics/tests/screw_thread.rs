//! Thread dimensions and stress areas against the standards' tables.

use toothsayer_mechanics::screw::{ScrewError, Series, THREADS, Thread};
use toothsayer_quantity::Length;

fn thread(size: &str) -> &'static Thread {
    Thread::find(size).unwrap_or_else(|error| unreachable!("{error}"))
}

// ISO 262 coarse pitches; ISO 7089, ISO 4762 and ISO 273 have washer > head > hole > thread.
#[test]
fn every_row_is_a_screw_that_fits_its_hole_head_and_washer() {
    for row in THREADS {
        let mm = |length: Length| length.to_mm();
        assert!(mm(row.washer_outer) > mm(row.head), "{}", row.name);
        assert!(mm(row.head) > mm(row.hole) + 0.5, "{}", row.name);
        assert!(mm(row.hole) > mm(row.diameter), "{}", row.name);
        assert!(mm(row.washer_thickness) > 0.0 && row.washer_thickness < row.washer_outer / 5.0, "{}", row.name);
        let (root, minor, pitch) = (row.root_diameter(), row.minor_diameter(), row.pitch_diameter());
        assert!(Length::ZERO < root && root < minor && minor < pitch && pitch < row.diameter, "{}", row.name);
        let core_share = row.stress_area() / row.nominal_area();
        assert!((0.60..0.75).contains(&core_share) && row.root_area() < row.stress_area(), "{} {core_share}", row.name);
        assert_eq!(Thread::find(row.name), Ok(row));
    }
}

#[test]
fn rows_stand_from_small_to_large_in_each_series() {
    for series in [Series::Metric, Series::Unified] {
        let rows: Vec<_> = THREADS.iter().filter(|row| row.series == series).collect();
        assert!(rows.windows(2).all(|pair| pair[0].diameter <= pair[1].diameter), "{series:?}");
    }
}

#[test]
fn a_size_may_be_written_as_the_bench_writes_it() {
    for (written, name) in [("m4", "M4"), (" M2.5 ", "M2.5"), ("#8-32", "8-32"), ("1/4-20", "1/4-20")] {
        assert_eq!(thread(written).name, name);
    }
    let error = Thread::find("M4.5").map(|row| row.name);
    let Err(error @ ScrewError::UnknownThread { .. }) = error else { unreachable!("{error:?}") };
    assert!(error.to_string().starts_with("thread size `M4.5` is not in the table, which has M2, M2.5, M3"), "{error}");
}
