//! Files that were damaged at random are read or refused, never answered with a panic.
//!
//! No outside source: the property is this project's own; the generator is splitmix64 with fixed seeds.

use toothsayer_fault_book::FaultBook;
use toothsayer_job::{Job, JobError};

const NOISE_SEEDS: u64 = 200;
const DAMAGE_SEEDS: u64 = 2000;

/// Splitmix64.
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    fn below(&mut self, end: usize) -> usize {
        (self.next() % end.max(1) as u64) as usize
    }
}

/// The text is read, or refused with every problem placed and told; returns whether it was read.
#[track_caller]
fn check(text: &str, seed: u64) -> bool {
    let problems = match Job::parse(text, FaultBook::built_in()) {
        Ok(job) => {
            let finite = job
                .built
                .fields
                .numbers
                .values()
                .all(|entry| entry.value.is_finite() && entry.low <= entry.value && entry.value <= entry.high);
            assert!(finite, "seed {seed}: a value is not finite or lies outside its range\n{text}");
            return true;
        }
        Err(JobError::Problems(problems)) => problems,
        Err(other) => panic!("seed {seed}: {other}\n{text}"),
    };
    assert!(!problems.is_empty(), "seed {seed}: refused without a problem\n{text}");
    for problem in problems {
        assert!(problem.line >= 1 && problem.column >= 1, "seed {seed}: {problem}");
        assert!(!problem.message.trim().is_empty(), "seed {seed}: an empty message\n{text}");
    }
    false
}

fn example() -> String {
    let path = format!("{}/../../examples/tarnhorn.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).expect("the example is there")
}

/// One to four bytes deleted, doubled or flipped, or a run of them cut out or moved.
fn damaged(text: &str, random: &mut Random) -> String {
    let mut bytes = text.as_bytes().to_vec();
    for _ in 0..=random.below(4) {
        let place = random.below(bytes.len());
        let run = (place + 1 + random.below(40)).min(bytes.len());
        match random.below(5) {
            0 => drop(bytes.remove(place)),
            1 => bytes.insert(place, bytes[place]),
            2 => bytes[place] ^= 1 << random.below(8),
            3 => drop(bytes.drain(place..run)),
            _ => {
                let cut: Vec<u8> = bytes.drain(place..run).collect();
                let target = random.below(bytes.len());
                bytes.splice(target..target, cut);
            }
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

#[test]
fn a_file_of_noise_is_refused() {
    for seed in 0..NOISE_SEEDS {
        let mut random = Random(seed);
        let bytes: Vec<u8> = (0..random.below(4000)).map(|_| random.next() as u8).collect();
        assert!(!check(&String::from_utf8_lossy(&bytes), seed), "seed {seed}: noise was taken for a truck");
    }
}

#[test]
fn a_damaged_example_is_read_or_refused_with_its_problems_placed() {
    let text = example();
    let read = (0..DAMAGE_SEEDS).filter(|seed| check(&damaged(&text, &mut Random(*seed)), *seed)).count();
    // Both outcomes must be common, or the damage tests nothing: comments take harmless hits, keys do not.
    let read = read as u64;
    assert!(read > DAMAGE_SEEDS / 20 && read < DAMAGE_SEEDS * 9 / 10, "{read} of {DAMAGE_SEEDS} were read");
}

#[test]
fn an_example_with_lines_left_out_is_read_or_refused() {
    let text = example();
    let lines: Vec<&str> = text.lines().collect();
    for seed in 0..DAMAGE_SEEDS {
        let mut random = Random(seed);
        let mut kept = lines.clone();
        for _ in 0..=random.below(12) {
            kept.remove(random.below(kept.len()));
        }
        check(&kept.join("\n"), seed);
    }
}

#[test]
fn an_example_cut_off_anywhere_is_read_or_refused() {
    let text = example();
    for end in (0..text.len()).filter(|end| text.is_char_boundary(*end)).step_by(7) {
        check(&text[..end], end as u64);
    }
}
