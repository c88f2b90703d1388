//! The program as a person runs it: exit codes, streams, keys, bad input of every kind.

use std::path::PathBuf;
use std::process::{Command, Output};

const FACTS: [&str; 13] = [
    "begin",
    "--mass",
    "10.4 kg",
    "--cells",
    "7",
    "--kv",
    "980 rpm/V",
    "--teeth",
    "19/53",
    "--pitch",
    "1 mm",
    "--wheel",
    "188 mm, 410 g",
];

fn toothsayer(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_toothsayer")).args(args).env_remove("COLUMNS").output().unwrap()
}

fn example(name: &str) -> String {
    format!("{}/../../examples/{name}", env!("CARGO_MANIFEST_DIR"))
}

/// A file of its own for each test.
fn scratch(name: &str, bytes: &[u8]) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR"));
    std::fs::create_dir_all(&folder).unwrap();
    let path = folder.join(name);
    std::fs::write(&path, bytes).unwrap();
    path
}

#[track_caller]
fn json(args: &[&str]) -> serde_json::Value {
    let output = toothsayer(args);
    assert!(output.status.success(), "{args:?}: {}", String::from_utf8_lossy(&output.stderr));
    assert!(output.stderr.is_empty(), "{args:?}: {}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

#[track_caller]
fn numbers(value: &serde_json::Value, keys: &[&str]) {
    for key in keys {
        assert!(value[*key].is_number(), "{key} in {value}");
    }
}

/// A bad file: exit code 1, nothing on standard output, a message that helps.
#[track_caller]
fn refused(name: &str, bytes: &[u8], wanted: &[&str]) {
    let path = scratch(name, bytes);
    for command in ["margins", "why", "plan", "screws", "gears", "motor"] {
        let output = toothsayer(&[command, path.to_str().unwrap(), "--json"]);
        let told = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(1), "{command}: {told}");
        assert!(output.stdout.is_empty(), "{command} printed on standard output");
        assert!(!told.contains("panicked"), "{told}");
        for words in wanted {
            assert!(told.contains(words), "{command}: {words:?} is missing in\n{told}");
        }
    }
}

fn tarnhorn_with(from: &str, to: &str) -> Vec<u8> {
    let text = std::fs::read_to_string(example("tarnhorn.toml")).unwrap();
    assert!(text.contains(from), "{from}");
    text.replacen(from, to, 1).into_bytes()
}

#[test]
fn bad_values_are_refused_with_the_way_out() {
    for (name, from, to, wanted) in [
        ("unit", "\"10.4 kg\"", "\"10.4 N\"", &["measures a force", "units of a mass"][..]),
        ("bare", "\"10.4 kg\"", "10.4", &["a unit is needed", "\"10.4 kg\""]),
        ("nan", "stiffness = \"36 N*m/rad\"", "stiffness = nan", &["unit is needed"]),
        ("nan2", "ratio_after_spur = 5.1", "ratio_after_spur = nan", &["no finite number"]),
        ("nan3", "\"10.4 kg\"", "\"nan kg\"", &["not a finite number"]),
        ("negative", "\"10.4 kg\"", "\"-3 kg\"", &["outside", "200 kg"]),
        ("none", "teeth = 19", "teeth = 0", &["outside 5 to 500"]),
        ("many", "teeth = 19", "teeth = 1000000000", &["outside 5 to 500"]),
        ("comma", "\"10.4 kg\"", "\"10,4 kg\"", &["comma", "10.4 kg"]),
    ] {
        refused(&format!("{name}.toml"), &tarnhorn_with(from, to), wanted);
    }
}

#[test]
fn bad_keys_are_refused_with_the_word_that_was_meant() {
    let missing = ["did you mean `mass`?", "`truck.mass` is missing"];
    refused("unknown.toml", &tarnhorn_with("mass = \"10.4 kg\"", "maas = \"10.4 kg\""), &missing);
    refused("twice.toml", &tarnhorn_with("drag_area", "mass = \"9 kg\"\ndrag_area"), &["duplicate key"]);
    refused("check.toml", &tarnhorn_with("motor-rocks", "motor-rock"), &["did you mean \"motor-rocks\"?"]);
}

#[test]
fn odd_files_are_refused() {
    refused("latin.toml", b"[truck]\nname = \"M\xfcller\"\n", &["not UTF-8", "line 2"]);
    refused("large.toml", &vec![b'#'; 10 << 20], &["more than"]);
    refused("deep.toml", format!("a = {}", "[".repeat(100_000)).as_bytes(), &["line 1"]);
    refused("empty.toml", b"", &["`truck.mass` is missing", "five facts"]);
    refused("noise.toml", &[0, 1, 2, 3, 255, 254], &["not UTF-8"]);
}

#[test]
fn all_errors_of_a_file_are_told_at_once() {
    let text = std::fs::read_to_string(example("tarnhorn.toml")).unwrap();
    let text =
        text.replace("\"10.4 kg\"", "10.4").replace("teeth = 53", "teeth = 3").replace("grip = 0.9", "gripp = 0.9");
    let wanted = ["3 problems", "unit is needed", "outside 5 to 500", "did you mean `grip`?"];
    refused("three.toml", text.as_bytes(), &wanted);
}

#[test]
fn wrong_usage_has_its_own_exit_code() {
    let with =
        |from: &str, to: &'static str| FACTS.map(|word| if word == from { to } else { word }.to_owned()).to_vec();
    let file = example("tarnhorn.toml");
    let words = |text: &[&str]| text.iter().map(|word| (*word).to_owned()).collect::<Vec<String>>();
    for args in [
        words(&["margins"]),
        words(&["nonsense"]),
        words(&["shock", &file, "--case", "jump"]),
        words(&["shock", &file, "--case", "launch", "--strength", "2"]),
        words(&["identify", "--teeth", "19", "--tip-diameter", "21"]),
        words(&["fault-book", "no-such-entry"]),
        with("10.4 kg", "heavy"),
        with("19/53", "19"),
        with("19/53", "0/53"),
    ] {
        let args: Vec<&str> = args.iter().map(String::as_str).collect();
        let output = toothsayer(&args);
        assert_eq!(output.status.code(), Some(2), "{args:?}: {}", String::from_utf8_lossy(&output.stderr));
        assert!(output.stdout.is_empty() && !output.stderr.is_empty(), "{args:?}");
    }
    assert_eq!(toothsayer(&["margins", "no-such-file.toml"]).status.code(), Some(1));
}

#[test]
fn gears_shock_and_screws_have_their_keys() {
    let file = example("tarnhorn.toml");
    let gears = json(&["gears", &file, "--json", "--state", "built"]);
    let pair = ["working_pressure_angle_rad", "contact_ratio", "normal_backlash_m", "circumferential_backlash_m"];
    numbers(&gears, &pair);
    numbers(&gears, &["tip_clearance_m", "mesh_stiffness_n_per_m", "face_overlap_m", "stack_gap_m"]);
    for gear in ["pinion", "spur"] {
        let lengths = ["tip_radius_m", "base_radius_m", "root_radius_m", "tip_thickness_m"];
        numbers(&gears[gear], &lengths);
        numbers(&gears[gear], &["form_factor", "stress_factor"]);
    }
    let shock = json(&["shock", &file, "--case", "launch", "--json"]);
    let peaks =
        ["peak_drive_flank_n", "peak_coast_flank_n", "peak_drive_time_s", "peak_coast_time_s", "peak_shaft_n_m"];
    numbers(&shock, &peaks);
    numbers(&shock, &["peak_ground_n", "peak_current_a", "final_truck_speed_m_s", "energy_residual"]);
    assert_eq!(shock["peak_coast_flank_n"], 0.0, "a peak that never occurs is 0");
    let screws = json(&["screws", &file, "--json", "--state", "built"]);
    let joint = &screws["joints"][0];
    numbers(joint, &["preload_n", "torque_to_strip_n_m", "window_low_n_m", "window_high_n_m", "slip_margin"]);
    assert_eq!(joint["clamp_after_runs"].as_array().unwrap().len(), 5);
}

#[test]
fn the_motor_has_its_keys_and_says_what_is_not_stated() {
    let file = example("tarnhorn.toml");
    let motor = json(&["motor", &file, "--json", "--state", "built"]);
    numbers(
        &motor,
        &["no_load_motor_speed_rad_s", "wheels_in_the_air_rad_s", "no_load_top_speed_m_s", "top_speed_m_s"],
    );
    numbers(
        &motor,
        &["top_speed_current_a", "stall_current_a", "stall_torque_n_m", "limited_current_a", "limited_torque_n_m"],
    );
    numbers(&motor["launch"], &["motor_current_a", "grip_current_a", "tread_force_n"]);
    assert_eq!(motor["launch"]["ruled_by"], "grip");
    numbers(&motor["run"], &["winding_temperature_degc", "case_temperature_degc", "winding_limit_degc"]);
    assert!((motor["run"]["winding_limit_degc"].as_f64().unwrap() - 110.0).abs() < 1e-9);
    let strengths: Vec<f64> =
        motor["stopping"].as_array().unwrap().iter().map(|row| row["brake_strength"].as_f64().unwrap()).collect();
    assert_eq!(strengths, [1.0, 0.8, 0.6, 0.4]);
    numbers(&motor["stopping_as_set"], &["brake_strength", "distance_m", "time_s"]);
    let limits = motor["makers_limits"].as_array().unwrap();
    assert_eq!(limits[0]["passed"], false);
    assert!(limits[1]["value_rad_s"].is_number() && limits[1]["limit_rad_s"].is_number());
    // 8x16x5 at 26 681 rpm: 12 mm x that.
    assert_eq!(motor["bearings"][0]["grease"], "special");
    assert!((motor["bearings"][0]["speed_factor_mm_per_min"].as_f64().unwrap() - 320_172.0).abs() < 100.0);
    assert!(limits[2]["limit_rad_s"].is_null() && limits[2]["passed"].is_null(), "{}", limits[2]);
    let output = toothsayer(&["motor", &file, "--units", "us", "--explain"]);
    let text = String::from_utf8(output.stdout).unwrap().split_whitespace().collect::<Vec<_>>().join(" ");
    for words in ["the tyres limit the launch", "°F", "mph", "not stated unknown", "Wheels in the air", "IEC 60028"] {
        assert!(text.contains(words), "{words} is missing in {text}");
    }
}

#[test]
fn verdicts_have_their_keys() {
    let file = example("tarnhorn.toml");
    let plan = json(&["plan", &file, "--json"]);
    assert_eq!(plan["alternatives"][0]["name"], "new-gears-only");
    numbers(&plan["alternatives"][1], &["price_minor", "comeback_probability", "minutes"]);
    let why = json(&["why", &file, "--json"]);
    assert_eq!(why["causes"][0]["id"], "motor-loose");
    numbers(&why["next_checks"][0], &["bits", "worth", "minutes"]);
    let margins = json(&["margins", &file, "--json"]);
    assert_eq!(margins["states"][1]["holds"], "no");
    let found = margins["states"][1]["margins"].as_array().unwrap();
    assert!(found.iter().any(|row| row["fails_at"] == "condition" && row["limit"] == "engagement"));
    let keys = ["demand", "capacity", "margin", "margin_low", "margin_high", "probability_exceeded"];
    numbers(&found[0], &keys);
    numbers(&found[0], &["margin_median", "probability_exceeded_low", "probability_exceeded_high"]);
    numbers(&margins["states"][0], &["draws", "draws_lost", "chance_share"]);
    assert_eq!(margins["states"][0]["settle"], margins["states"][0]["narrowing"][0]["input"]);
    let keys = ["first_order", "first_order_error", "total", "total_error", "minutes", "total_per_minute"];
    numbers(&margins["states"][0]["narrowing"][0], &keys);
    assert!(margins["states"][1]["narrowing"].is_null(), "it fails, and nobody asked");
    let book = json(&["fault-book", "--json"]);
    for key in ["causes", "modes", "findings", "steps"] {
        assert!(!book[key].as_array().unwrap().is_empty(), "{key}");
    }
    let identify = json(&["identify", "--teeth", "19", "--tip-diameter", "21.0 mm", "--json"]);
    assert!((identify["candidates"][0]["module_m"].as_f64().unwrap() - 1e-3).abs() < 1e-9);
}

#[test]
fn five_facts_give_a_first_verdict_and_a_file_that_reads_back() {
    let mut args = FACTS.to_vec();
    args.push("--json");
    let first = json(&args);
    assert!(first["states"][0]["margins"].as_array().unwrap().len() > 30);
    assert!(first["assumptions"].as_array().unwrap().len() > 40);
    let path = scratch("begun.toml", b"");
    std::fs::remove_file(&path).unwrap();
    let mut args = FACTS.to_vec();
    args.extend(["-o", path.to_str().unwrap()]);
    assert!(toothsayer(&args).status.success());
    let again = json(&["margins", path.to_str().unwrap(), "--json", "--points"]);
    let root = |margins: &serde_json::Value| margins["states"][0]["margins"][0]["margin"].as_f64().unwrap();
    assert!((root(&first) / root(&again) - 1.0).abs() < 1e-3, "{} {}", root(&first), root(&again));
    assert_eq!(toothsayer(&args).status.code(), Some(1), "a file that is there is never written over");
}

#[test]
fn every_example_is_told_to_people_on_any_width() {
    for name in ["tarnhorn.toml", "tarnhorn-fragments.toml", "tarnhorn-check.toml"] {
        for (command, width) in [
            ("margins", 40),
            ("margins", 110),
            ("why", 60),
            ("plan", 50),
            ("screws", 80),
            ("gears", 36),
            ("motor", 38),
            ("life", 44),
        ] {
            let points: &[&str] = if command == "margins" { &["--points"] } else { &[] };
            let mut run = Command::new(env!("CARGO_BIN_EXE_toothsayer"));
            run.args([command, &example(name), "--units", "us"]).args(points).env("COLUMNS", width.to_string());
            let output = run.output().unwrap();
            let text = String::from_utf8(output.stdout).unwrap();
            assert!(output.status.success() && !text.contains("NaN"), "{command} {name}");
            let widest = text.lines().map(|line| line.chars().count()).max().unwrap();
            assert!(widest <= width, "{command} {name} at {width}: {widest}");
            assert!(!text.contains('\u{1b}'), "colour where nobody looks");
        }
    }
}

#[test]
fn the_demo_does_the_whole_job() {
    let output = toothsayer(&["demo", "--no-serve"]);
    let text = String::from_utf8(output.stdout).unwrap().split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "does not hold",
        "Fails in the condition found: motor to mount",
        "motor loose in its mount",
        "Recommended",
        "Care plan",
    ] {
        assert!(text.contains(words), "{words}");
    }
}

#[test]
fn every_price_and_cause_is_explained() {
    let told = |command: &str| {
        let output = toothsayer(&[command, &example("tarnhorn.toml"), "--explain"]);
        String::from_utf8(output.stdout).unwrap().split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let plan = told("plan");
    assert!(plan.contains("55.00 EUR an hour x 1 h 09 min + pinion 19 (14.50 EUR) + spur 53 (16.90 EUR)"), "{plan}");
    let why = told("why");
    for words in ["beforehand 2 of 14 trucks", "motor-rocks: yes", "mutual information"] {
        assert!(why.contains(words), "{words} is missing in {why}");
    }
}

#[test]
fn change_tells_before_after_shares_and_what_would_make_it_hold() {
    let file = example("tarnhorn.toml");
    let set = ["--set", "wheels.mass=800 g", "--set", "joints.motor to mount.torque=8 N*m", "--points"];
    let answer = json(&[&["change", &file, "--json"], &set[..]].concat());
    assert_eq!(answer["before"]["holds"], "unsure");
    assert_eq!(answer["after"]["holds"], "no");
    assert_eq!(answer["holds_without"], serde_json::json!([["motor to mount: torque"]]));
    assert!(!answer["remedies"].as_array().unwrap().is_empty());
    for share in answer["shares"].as_array().unwrap() {
        numbers(share, &["before", "after"]);
        assert_eq!(share["by"].as_array().unwrap().len(), 2);
    }
    for (set, wanted) in
        [("wheels.mas=1 kg", "did you mean"), ("wheels.mass=1", "has no unit"), ("wheels", "key=value")]
    {
        let output = toothsayer(&["change", &file, "--set", set]);
        assert_eq!(output.status.code(), Some(2), "{set}");
        assert!(String::from_utf8_lossy(&output.stderr).contains(wanted), "{set}");
    }
}

#[test]
fn a_statement_names_the_step_and_the_figures_as_found() {
    let answer = json(&["statement", &example("tarnhorn.toml"), "--json"]);
    assert_eq!(answer["as_sold_known"], false);
    assert_eq!(answer["findings"][0]["measured"], "measured 0.45 mm");
    let shortfalls = answer["shortfalls"].as_array().unwrap();
    assert!(shortfalls.iter().any(|one| one["part"] == "mesh" && one["limit"] == "engagement"));
    for one in shortfalls {
        assert_eq!(one["fails_at"], "condition");
        assert!(one["sentence"].as_str().unwrap().contains("in the condition found"), "{one}");
    }
}

#[test]
fn a_statement_shares_what_was_fitted_among_the_parts() {
    let stock =
        "[stock]\nwheels = { mass = \"250 g\", diameter = \"160 mm\" }\nbattery = { cells = 6 }\n\n[[findings]]";
    let path = scratch("fitted.toml", &tarnhorn_with("[[findings]]", stock));
    let answer = json(&["statement", path.to_str().unwrap(), "--json"]);
    assert_eq!(answer["as_sold_known"], true);
    let fitted: Vec<&str> =
        answer["fitted"].as_array().unwrap().iter().map(|one| one["part"].as_str().unwrap()).collect();
    assert_eq!(fitted, ["battery", "wheels"]);
    for share in answer["shares"].as_array().unwrap() {
        let by: f64 = share["by"].as_array().unwrap().iter().map(|one| one["share"].as_f64().unwrap()).sum();
        let moved = share["margin_built"].as_f64().unwrap() - share["margin_stock"].as_f64().unwrap();
        assert!((by - moved).abs() < 1e-9, "{share}");
    }
    let text = String::from_utf8(toothsayer(&["statement", path.to_str().unwrap()]).stdout).unwrap();
    for words in ["holds as sold", "mass 410 g, as sold 250 g", "names steps, not persons"] {
        assert!(text.contains(words), "{words} is missing in\n{text}");
    }
}

#[test]
fn every_command_has_a_manual_page() {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("man1");
    let output = toothsayer(&["manual", "--into", folder.to_str().unwrap()]);
    assert!(output.status.success());
    let help = String::from_utf8(toothsayer(&["--help"]).stdout).unwrap();
    let listed = help.lines().skip_while(|line| *line != "Commands:").skip(1).take_while(|line| !line.is_empty());
    let commands: Vec<&str> =
        listed.filter_map(|line| line.strip_prefix("  ")?.split(' ').next()).filter(|name| !name.is_empty()).collect();
    assert!(commands.len() > 10, "{commands:?}");
    for command in commands.into_iter().filter(|name| *name != "help") {
        let page = std::fs::read_to_string(folder.join(format!("toothsayer-{command}.1"))).unwrap();
        assert!(page.contains(".SH SYNOPSIS") && page.contains("fault\\-book"), "{command}");
    }
    let wrong = toothsayer(&["manual", "margin"]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&wrong.stderr).contains("did you mean margins?"));
}

#[test]
fn five_facts_are_enough_at_the_counter() {
    use std::io::Write;
    use std::process::Stdio;
    let begun = toothsayer(&FACTS);
    assert!(begun.status.success());
    let mut change = Command::new(env!("CARGO_BIN_EXE_toothsayer"))
        .args(["change", "-", "--set", "wheels.mass=800 g", "--points", "--json"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    change.stdin.take().unwrap().write_all(&begun.stdout).unwrap();
    let output = change.wait_with_output().unwrap();
    assert!(output.status.success());
    let answer: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(answer["changes"][0]["after"], "800 g");
}

#[test]
fn a_trace_holds_the_peaks_that_are_told() {
    let file = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("trace.csv");
    let answer = json(&[
        "shock",
        &example("tarnhorn.toml"),
        "--case",
        "full-brake",
        "--json",
        "--trace",
        file.to_str().unwrap(),
    ]);
    let text = std::fs::read_to_string(&file).unwrap();
    let rows: Vec<Vec<f64>> =
        text.lines().skip(1).map(|line| line.split(',').map(|cell| cell.parse().unwrap()).collect()).collect();
    assert_eq!(rows.len(), 3001);
    assert_eq!(text.lines().next().unwrap().split(',').count(), rows[0].len());
    let least = rows.iter().map(|row| row[2]).fold(0.0, f64::min);
    let peak = answer["peak_coast_flank_n"].as_f64().unwrap();
    assert!((least + peak).abs() < 0.02 * peak, "{least} and {peak}");
}

#[test]
fn a_change_beyond_a_makers_limit_is_not_to_be_fitted() {
    let file = example("tarnhorn-small.toml");
    let answer = json(&["change", &file, "--set", "battery.cells=3", "--points", "--json"]);
    let limits = answer["makers_limits"].as_array().unwrap();
    let cells = limits.iter().find(|limit| limit["key"] == "controller.max_cells").unwrap();
    assert_eq!((&cells["limit"], &cells["passed"]), (&serde_json::json!(2.0), &serde_json::json!(true)));
    assert!(limits.iter().any(|limit| limit["limit"].is_null() && limit["passed"].is_null()));
    let text = toothsayer(&["change", &file, "--set", "battery.cells=3", "--points"]).stdout;
    assert!(String::from_utf8_lossy(&text).contains("Not to be fitted: cells in series would be 3"));
}

#[test]
fn a_weaker_brake_is_told_with_the_way_to_a_stop() {
    let file = example("tarnhorn.toml");
    let answer = json(&["change", &file, "--set", "controller.brake_strength=20 %", "--points", "--json"]);
    let ways: Vec<f64> =
        answer["stopping_distance_m"].as_array().unwrap().iter().map(|way| way.as_f64().unwrap()).collect();
    assert!(ways[1] > 1.3 * ways[0], "{ways:?}");
    let text = toothsayer(&["change", &file, "--set", "controller.brake_strength=20 %", "--points"]).stdout;
    assert!(String::from_utf8_lossy(&text).contains("Way to a stop from the speed of a full brake"));
}

#[test]
fn measure_tells_readings_and_reads_them_back() {
    let file = example("tarnhorn.toml");
    let answer = json(&["measure", &file, "--state", "built", "--json"]);
    numbers(&answer["pinion"], &["tip_diameter_m", "span_m", "span_worn_m", "over_pins_m", "over_pins_worn_m"]);
    numbers(&answer["mesh"], &["backlash_m", "backlash_at_rim_m", "centre_distance_low_m", "centre_distance_high_m"]);
    // 36.05 mm against the 36 mm at which 19 and 53 teeth of 1 mm close without shift: 72/2 x 1 mm (ISO 21771, 6).
    assert!((answer["mesh"]["radial_play_m"].as_f64().unwrap() - 5e-5).abs() < 1e-9, "{answer}");
    numbers(&answer["stack"], &["overlap_m", "overlap_least_m", "gap_m", "gap_least_m", "gap_most_m"]);
    let small = json(&["measure", &example("tarnhorn-small.toml"), "--json"]);
    numbers(&small["spur"], &["over_pins_m", "span_m"]);
    for (option, key) in [("--span", "span_worn_m"), ("--over-pins", "over_pins_worn_m")] {
        let reading = format!("{} m", answer["spur"][key].as_f64().unwrap());
        let back = json(&["measure", &file, "--state", "built", "--gear", "spur", option, &reading, "--json"]);
        assert!((back["thinning_m"].as_f64().unwrap() - 1e-4).abs() < 1e-9, "{back}");
    }
    let rim = format!("{} m", answer["mesh"]["backlash_at_rim_m"].as_f64().unwrap());
    let back = json(&["measure", &file, "--state", "built", "--backlash-at-rim", &rim, "--json"]);
    assert!((back["centre_distance_m"].as_f64().unwrap() - 0.03605).abs() < 1e-9, "{back}");
    // A span over one tooth more is a base pitch longer, and no wear.
    let more = json(&["measure", &file, "--state", "built", "--gear", "spur", "--span", "19.93 mm", "--json"]);
    assert!(more["thinning_m"].as_f64().unwrap().abs() < 5e-5, "{more}");
    assert_eq!(toothsayer(&["measure", &file, "--span", "2 kg"]).status.code(), Some(2));
}

#[test]
fn materials_are_listed_and_explained_by_the_names_that_a_file_takes() {
    let answer = json(&["materials", "--json"]);
    for gear in answer["gears"].as_array().unwrap() {
        numbers(gear, &["root_static_pa", "root_endurance_pa", "flank_limit_pa", "scatter_root"]);
        let text = toothsayer(&["materials", gear["name"].as_str().unwrap()]);
        assert!(text.status.success() && String::from_utf8_lossy(&text.stdout).contains("source:"));
    }
    let class = json(&["materials", "12.9", "--json"]);
    assert_eq!(class["gears"].as_array().unwrap().len() + class["joints"].as_array().unwrap().len(), 0);
    // ISO 898-1, table 3: 1220 N/mm2.
    assert_eq!(class["screw_classes"][0]["tensile_strength_pa"], 1.22e9);
    let pom = json(&["materials", "pom", "--json"]);
    let [cold, hot] = [0, 4].map(|i| pom["gears"][0]["strengths"][i]["root_static_pa"].as_f64().unwrap());
    assert!(hot < cold && pom["joints"].as_array().unwrap().len() == 1, "{pom}");
    let wrong = toothsayer(&["materials", "case-hardned"]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&wrong.stderr).contains("did you mean case-hardened?"));
}

#[test]
fn lewis_and_iso_are_of_one_size_and_a_hardness_off_the_line_is_told() {
    let hard = tarnhorn_with("hardness = \"330 HV\"", "hardness = \"480 HV\"");
    let path = scratch("hard.toml", &hard);
    let answer = json(&["gears", path.to_str().unwrap(), "--json"]);
    for gear in ["pinion", "spur"] {
        let ratio = answer[gear]["root_stress_per_kn_pa"].as_f64().unwrap()
            / answer[gear]["lewis_stress_per_kn_pa"].as_f64().unwrap();
        assert!((0.5..2.0).contains(&ratio), "{gear}: {ratio}");
    }
    let text = String::from_utf8(toothsayer(&["gears", path.to_str().unwrap()]).stdout).unwrap();
    assert!(text.contains("480 HV lie outside the 200 to 360 HV of through-hardened-alloy"), "{text}");
}

fn shop_book() -> String {
    format!("{}/../../docs/examples/shop-book.toml", env!("CARGO_MANIFEST_DIR"))
}

#[track_caller]
fn told(args: &[&str], words: &[&str]) {
    let output = toothsayer(args);
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    assert_eq!(output.status.code(), Some(0), "{args:?}: {}", String::from_utf8_lossy(&output.stderr));
    for word in words {
        assert!(text.contains(word), "{args:?} does not tell {word:?}:\n{text}");
    }
}

#[test]
fn every_kind_of_entry_of_the_fault_book_is_explained() {
    told(&["fault-book", "motor-loose"], &["Seen by", "Cure:", "caution:"]);
    told(&["fault-book", "tighten-motor"], &["Tools", "Off first", "tightens the joint", "Part of the cure of"]);
    told(&["fault-book", "scuffed"], &["Brought about", "Seen by"]);
    told(&["fault-book", "gear-cover"], &["comes off", "Off first"]);
    told(&["fault-book", "season-end"], &["complaint", "Every plan has"]);
}

#[test]
fn a_shops_own_book_is_checked_and_drawn() {
    let path = shop_book();
    told(&["fault-book", "--check", &path], &["holds 28 causes, 57 checks and 61 steps"]);
    told(&["fault-book", "cable-pulls-motor", "--graph", "--fault-book", &path], &["digraph", "cable-taut", "0.9"]);
    told(&["fault-book", "--graph"], &["digraph fault_book", "motor-loose"]);
    let wrong = std::fs::read_to_string(&path).unwrap().replace("cable-taut = 0.9", "cable-tout = 0.9");
    let broken = scratch("broken-book.toml", wrong.as_bytes()).display().to_string();
    let output = toothsayer(&["fault-book", "--check", &broken]);
    let text = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(1));
    assert!(text.contains("line 13, column 14") && text.contains("cable-taut"), "{text}");
}

#[test]
fn the_shops_own_cause_is_ranked_when_its_check_is_answered_and_its_step_is_planned() {
    let job = std::fs::read_to_string(example("tarnhorn.toml")).unwrap();
    let seen = format!("{job}\n[[findings]]\ncheck = \"cable-taut\"\nanswer = \"yes\"\n");
    let file = scratch("cable.toml", seen.as_bytes()).display().to_string();
    let path = shop_book();
    let why = json(&["why", &file, "--json", "--fault-book", &path]);
    let causes = why["causes"].as_array().unwrap();
    let place = causes.iter().position(|cause| cause["id"] == "cable-pulls-motor").unwrap();
    assert!(place < 6 && causes[place]["present"].as_f64().unwrap() > 0.3, "{place} {}", causes[place]);
    told(&["plan", &file, "--fault-book", &path], &["Longer motor cables"]);
}

#[test]
fn a_plan_says_whether_the_repaired_truck_then_holds() {
    let good = json(&["plan", &example("tarnhorn-motor.toml"), "--json"]);
    assert_eq!(good["repaired_holds"], "unsure");
    let text = std::fs::read_to_string(example("tarnhorn-motor.toml")).unwrap();
    let narrow = text.replace("face_width = \"11 mm\"", "face_width = \"5 mm\"");
    let file = scratch("narrow.toml", narrow.replace("face_width = \"10 mm\"", "face_width = \"5 mm\"").as_bytes());
    let file = file.to_str().unwrap();
    assert_eq!(json(&["plan", file, "--json"])["repaired_holds"], "no");
    let shown = toothsayer(&["plan", file]);
    let shown = String::from_utf8(shown.stdout).unwrap();
    assert!(shown.contains("Then the truck does not hold: "), "{shown}");
}

/// What the trade expects of each visit: common practice, no source.
#[test]
fn a_visit_for_noise_and_one_at_seasons_end_get_plans_of_their_own() {
    let healthy = std::fs::read_to_string(example("tarnhorn-check.toml")).unwrap();
    for (visit, expected) in [("noise", "find-noisy-end"), ("season-end", "store-pack")] {
        let text = healthy.replace("complaint = \"check\"", &format!("complaint = \"{visit}\""));
        assert!(text.contains(visit), "the example's complaint");
        let file = scratch(&format!("{visit}.toml"), text.as_bytes());
        let plan = json(&["plan", file.to_str().unwrap(), "--json"]);
        let steps: Vec<&str> =
            plan["alternatives"][1]["steps"].as_array().unwrap().iter().filter_map(|s| s["id"].as_str()).collect();
        assert!(steps.contains(&expected), "{visit}: {steps:?}");
        let why = json(&["why", file.to_str().unwrap(), "--json"]);
        let likely = why["causes"].as_array().unwrap().iter().filter_map(|cause| cause["mattered"].as_f64());
        assert!(likely.fold(0.0, f64::max) < 0.5, "{visit}: a healthy truck is accused");
    }
}
