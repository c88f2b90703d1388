//! Every kind of bad job file is refused with a message, a way out, and the place in the file.
//!
//! No outside source: what a file may say is this project's own; the marker `▸` in a text stands where the problem
//! must be pointed at.

use toothsayer_fault_book::FaultBook;
use toothsayer_job::{Job, JobError, LARGEST_FILE, Problem};

const MARK: char = '▸';

/// The five facts, with a place to put something wrong in.
const FACTS: &str = r#"
[truck]
mass = "10.4 kg"
[battery]
cells = 7
[motor]
kv = "980 rpm/V"
[gears]
module = "1 mm"
pinion.teeth = 19
spur.teeth = 53
[wheels]
diameter = "188 mm"
mass = "410 g"
"#;

/// A joint with everything that it needs.
const JOINT: &str = r#"
[[joints]]
name = "motor to mount"
carries = "motor"
screws = 2
size = "M4"
length = "12 mm"
clamped = "5 mm"
hole_depth = "8 mm"
thread_in = "aluminium"
under_head = "aluminium"
circle = "28 mm"
"#;

/// The facts with one text replaced by another.
#[track_caller]
fn changed(right: &str, wrong: &str) -> String {
    assert!(FACTS.contains(right), "{right}");
    FACTS.replacen(right, wrong, 1)
}

/// The facts with more lines after them.
fn added(more: &str) -> String {
    format!("{FACTS}{more}\n")
}

/// The facts with a joint of which one text is replaced.
#[track_caller]
fn joint(right: &str, wrong: &str) -> String {
    assert!(JOINT.contains(right), "{right}");
    added(&JOINT.replacen(right, wrong, 1))
}

#[track_caller]
fn problems(text: &str) -> Vec<Problem> {
    match Job::parse(text, FaultBook::built_in()) {
        Err(JobError::Problems(problems)) => problems,
        Err(other) => panic!("no problems but: {other}"),
        Ok(_) => panic!("taken"),
    }
}

fn place_of_mark(marked: &str) -> (usize, usize) {
    let before = &marked[..marked.find(MARK).expect("the text has no mark")];
    let line = before.rsplit('\n').next().unwrap_or("");
    (before.matches('\n').count() + 1, line.chars().count() + 1)
}

/// The marked text has one problem, there, whose message and hint contain these words.
#[track_caller]
fn check(marked: &str, message: &str, hint: &str) {
    let found = problems(&marked.replace(MARK, ""));
    let shown = || found.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
    assert_eq!(found.len(), 1, "{}", shown());
    assert_eq!((found[0].line, found[0].column), place_of_mark(marked), "{}", shown());
    assert!(found[0].message.contains(message), "{}", shown());
    assert!(!found[0].hint.is_empty() && found[0].hint.contains(hint), "{}", shown());
}

#[test]
fn the_facts_and_the_joint_that_the_other_tests_spoil_are_sound() {
    assert!(Job::parse(&added(JOINT), FaultBook::built_in()).is_ok());
}

#[test]
fn a_wrong_unit_is_told_with_the_right_ones() {
    check(&changed("\"10.4 kg\"", "▸\"10.4 mm\""), "`mm` measures a length, and a mass is expected", "kg, g, lb");
    check(&changed("\"188 mm\"", "▸\"188 mmm\""), "`mmm` is not a unit known here", "did you mean \"mm\"?");
    check(
        &changed("\"980 rpm/V\"", "▸\"980 rpm\""),
        "`rpm` measures an angular speed, and a motor Kv is expected",
        "rpm/V",
    );
}

#[test]
fn a_bare_number_is_told_with_the_unit_it_lacks() {
    check(&changed("\"10.4 kg\"", "▸10.4"), "bare number 10.4, and a unit is needed", "\"10.4 kg\"");
    check(&changed("\"10.4 kg\"", "▸\"10.4\""), "`10.4` has no unit", "\"10.4 kg\"");
}

#[test]
fn numbers_without_bound_are_refused_bare_and_in_quotes() {
    check(&changed("\"10.4 kg\"", "▸\"nan kg\""), "not a finite number", "ordinary number");
    check(&changed("\"10.4 kg\"", "▸\"inf kg\""), "not a finite number", "ordinary number");
    check(&changed("\"10.4 kg\"", "▸\"-inf kg\""), "not a finite number", "ordinary number");
    check(&changed("\"10.4 kg\"", "▸\"1e999 kg\""), "not a finite number", "ordinary number");
    check(&changed("\"10.4 kg\"", "▸nan"), "bare number nan", "kg");
    check(&added("grip = ▸nan"), "is nan, which is no finite number", "ordinary number");
    check(&added("grip = ▸-inf"), "is -inf, which is no finite number", "ordinary number");
    check(&added("grip = ▸1e999"), "is 1e999, which is no finite number", "ordinary number");
    check(&changed("cells = 7", "cells = ▸inf"), "a whole number is expected", "lithium cells");
}

#[test]
fn impossible_values_are_told_with_what_is_allowed() {
    check(&changed("\"10.4 kg\"", "▸\"-10.4 kg\""), "`truck.mass` is -10.4 kg, outside 0.1 kg to 200 kg", "check the");
    check(&changed("pinion.teeth = 19", "pinion.teeth = ▸0"), "is 0, outside 5 to 500", "teeth of the pinion");
    check(&changed("spur.teeth = 53", "spur.teeth = ▸1000000000"), "outside 5 to 500", "teeth of the spur");
    check(&changed("cells = 7", "cells = ▸17"), "is 17, outside 1 to 16", "cells");
    check(&changed("cells = 7", "cells = ▸99999999999999999999"), "outside 1 to 16", "cells");
}

#[test]
fn a_decimal_comma_is_told_with_the_point() {
    check(&changed("\"10.4 kg\"", "▸\"10,4 kg\""), "has a comma in its number", "\"10.4 kg\"");
}

#[test]
fn a_wrong_sort_of_value_is_told_with_the_right_one() {
    check(&changed("cells = 7", "cells = ▸\"seven\""), "is a text, and a whole number is expected", "lithium cells");
    check(&changed("cells = 7", "cells = ▸7.5"), "is a float, and a whole number is expected", "lithium cells");
    check(&changed("\"10.4 kg\"", "▸true"), "is a boolean, and a mass in quotes", "mass ready to run");
    check(&changed("\"10.4 kg\"", "▸[10.4]"), "is an array, and a mass in quotes", "mass ready to run");
    check(&added("grip = ▸\"0.9\""), "is a text, and a number without quotes is expected", "grip");
    check(&joint("circle", "washer = ▸\"yes\"\ncircle"), "is a text, and true or false is expected", "washer");
    check(&added("[set_screw]\nseat = ▸5"), "is an integer, and a text in quotes is expected", "set screw");
}

#[test]
fn a_range_must_be_whole_ordered_and_not_negative() {
    let mass = |range: &str| changed("\"10.4 kg\"", range);
    check(
        &mass("▸{ value = \"10 kg\", low = \"11 kg\", high = \"12 kg\" }"),
        "value outside its own",
        "low, value, high",
    );
    check(
        &mass("▸{ value = \"10 kg\", low = \"8 kg\", high = \"9 kg\" }"),
        "value outside its own",
        "low, value, high",
    );
    check(&mass("{ value = \"10 kg\", plus_minus = ▸\"-1 kg\" }"), "negative `plus_minus`", "either way");
    check(&mass("▸{ value = \"10 kg\", low = \"8 kg\" }"), "needs `plus_minus`, or `low` and `high`", "high =");
    check(&mass("▸{ low = \"8 kg\", high = \"9 kg\" }"), "has no `value`", "value =");
    check(&mass("{ value = \"10 kg\", ▸plusminus = \"1 kg\", plus_minus = \"1 kg\" }"), "is no key", "`plus_minus`?");
}

#[test]
fn more_driven_wheels_than_wheels_are_told() {
    check(&added("▸driven = 5"), "more wheels are driven than the 4", "give all wheels as `count`");
}

#[test]
fn an_unknown_table_or_key_is_told_with_the_nearest() {
    check(&added("[▸suspencion]"), "`suspencion` is no key of a job file", "did you mean `suspension`?");
    check(&added("▸diametre = \"188 mm\""), "`wheels.diametre` is no key", "did you mean `diameter`?");
    check(&added("▸zzzzzzzz = 1"), "`wheels.zzzzzzzz` is no key", "known here: count, driven");
    check(&joint("circle", "▸torqe = \"2 N*m\"\ncircle"), "`joints.torqe` is no key", "did you mean `torque`?");
    check(&added("[shop]\n▸labor_rate = \"55 EUR/h\""), "is no key", "did you mean `labour_rate`?");
}

#[test]
fn a_word_that_no_list_knows_is_told_with_the_list() {
    check(
        &joint("thread_in = \"aluminium\"", "thread_in = ▸\"aluminum\""),
        "\"aluminum\"",
        "did you mean \"aluminium\"?",
    );
    check(&joint("size = \"M4\"", "size = ▸\"M44\""), "\"M44\", which is not known here", "M4");
    let gears = changed("spur.teeth = 53", "spur.teeth = 53\nspur.material = ▸\"cheese\"");
    check(&gears, "\"cheese\", which is not known here", "case-hardened");
    check(&added("[job]\ncomplaint = ▸\"striped\""), "\"striped\"", "did you mean \"stripped\"?");
}

#[test]
fn what_is_said_twice_is_told() {
    check(&changed("cells = 7", "cells = 7\n▸cells = 6"), "duplicate key", "TOML");
    check(&added("[▸truck]\nname = \"again\""), "duplicate key", "TOML");
    let second = JOINT.replace("[[joints]]", "▸[[joints]]");
    check(&added(&format!("{JOINT}{second}")), "motor to mount", "name");
    check(
        &changed("module = \"1 mm\"", "module = \"1 mm\"\n▸diametral_pitch = \"32 1/in\""),
        "both say",
        "keep the one",
    );
    let mesh = "spur.teeth = 53\n▸mesh_set = \"paper 0.1 mm\"\nbacklash = \"0.1 mm\"";
    check(&changed("spur.teeth = 53", mesh), "`gears.backlash` and `gears.mesh_set`", "keep the one");
    let mesh = "spur.teeth = 53\ncentre_distance = \"36.05 mm\"\n▸backlash = \"0.1 mm\"";
    check(&changed("spur.teeth = 53", mesh), "`gears.centre_distance` and `gears.backlash`", "keep the one");
    check(
        &joint("circle", "torque = \"3 N*m\"\ntightness = \"hand\"\ncircle").replacen("[[joints]]", "▸[[joints]]", 1),
        "both `torque` and `tightness`",
        "torque",
    );
    check(
        &added("[set_screw]\ntorque = \"4 N*m\"\n▸tool = \"driver\""),
        "`set_screw.torque` and `set_screw.tool`",
        "keep the one",
    );
}

/// What is missing is named by key, whatever else there is.
#[track_caller]
fn missing(text: &str, keys: &[&str]) {
    let found = problems(text);
    let mut named: Vec<&str> = found.iter().map(|problem| problem.key.as_str()).collect();
    named.sort_unstable();
    assert_eq!(named, keys);
    for problem in &found {
        assert!(problem.message.contains("five facts") && problem.message.contains(&problem.key), "{problem}");
        assert!(problem.line >= 1 && problem.column >= 1 && !problem.hint.is_empty(), "{problem}");
    }
}

#[test]
fn all_missing_facts_are_named_at_once() {
    let all = [
        "battery.cells",
        "gears.module",
        "gears.pinion.teeth",
        "gears.spur.teeth",
        "motor.kv",
        "truck.mass",
        "wheels.diameter",
        "wheels.mass",
    ];
    missing("", &all);
    missing("\n# only a comment\n", &all);
    missing("[truck]\nmass = \"10.4 kg\"\n[motor]\ncan_diameter = \"56 mm\"\n[wheels]\n", &all_but(&all, "truck.mass"));
    missing(&changed("module = \"1 mm\"", ""), &["gears.module"]);
}

fn all_but<'a>(all: &[&'a str], one: &str) -> Vec<&'a str> {
    all.iter().copied().filter(|key| *key != one).collect()
}

#[test]
fn a_missing_fact_is_pointed_at_in_its_table() {
    check(&changed("module = \"1 mm\"\n", "").replace("[gears]", "[▸gears]"), "`gears.module` is missing", "1/in");
    check(&changed("kv = \"980 rpm/V\"\n", "").replace("[motor]", "[▸motor]"), "`motor.kv` is missing", "can_diameter");
}

#[test]
fn a_joint_must_be_complete() {
    let marked = |right: &str| joint(right, "").replacen("[[joints]]", "▸[[joints]]", 1);
    check(&marked("name = \"motor to mount\"\n"), "a joint has no `name`", "name =");
    check(&marked("screws = 2\n"), "joint \"motor to mount\" has no `screws`", "number of screws");
    check(&marked("circle = \"28 mm\"\n"), "carries the motor and has no `circle`", "bolt circle");
}

#[test]
fn a_mesh_set_by_something_unknown_is_told() {
    let text = changed("spur.teeth = 53", "spur.teeth = 53\n▸mesh_set = \"by ear\"");
    check(&text, "\"by ear\", which says no thickness", "paper 0.1 mm");
}

#[test]
fn findings_must_be_the_fault_books() {
    let finding = |rest: &str| added(&format!("[[findings]]\n{rest}"));
    check(&finding("check = ▸\"motor-rock\"\nanswer = \"yes\""), "\"motor-rock\"", "did you mean \"motor-rocks\"?");
    check(&finding("check = ▸\"xyzzy-plugh\"\nanswer = \"yes\""), "not known here", "toothsayer fault-book");
    check(&finding("check = \"motor-rocks\"\nanswer = ▸\"maybe\""), "\"maybe\", which is not known here", "yes, no");
    check(&finding("check = \"motor-rocks\"\nanswer = ▸true"), "`findings.answer` is no text", "quotes");
    let tips = "check = \"tips-sheared\"\nanswer = \"yes\"\nvalue = ▸\"1 mm\"";
    check(&finding(tips), "takes no value: nothing is measured there", "leave `value` out");
    let rocks = |value: &str| finding(&format!("check = \"motor-rocks\"\nanswer = \"yes\"\nvalue = {value}"));
    check(&rocks("▸0.45"), "`value` of check \"motor-rocks\" is no text with a unit", "0.45 mm");
    check(&rocks("▸\"0.45 kg\""), "`kg` measures a mass", "mm");
    check(&rocks("▸\"-0.45 mm\""), "outside what can be measured", "check the number");
    check(&added("[findings]\nx = 1").replace("[findings]", "▸[findings]"), "is no list of tables", "[[findings]]");
}

#[test]
fn a_check_answered_twice_is_told() {
    let one = "[[findings]]\ncheck = \"motor-rocks\"\nanswer = \"yes\"\n";
    let two = "▸[[findings]]\ncheck = \"motor-rocks\"\nanswer = \"no\"\n";
    check(&added(&format!("{one}{two}")), "check \"motor-rocks\" is answered twice", "keep one answer");
}

#[test]
fn an_overlay_speaks_only_of_joints_that_the_truck_has() {
    let text = format!("{JOINT}[▸found]\njoints = [{{ name = \"motor to mont\", torque = \"1 N*m\" }}]");
    check(&added(&text), "[found] speaks of joint \"motor to mont\"", "did you mean \"motor to mount\"?");
}

#[test]
fn shares_of_landings_make_at_most_the_whole() {
    let text = added("[driver]\n▸landings_on_throttle = \"60 %\"\nlandings_on_brake = \"50 %\"");
    check(&text, "more than 100 % together", "together at most 100 %");
    check(&added("[driver]\nlandings_on_brake = ▸\"130 %\""), "130 %, outside 0 % to 100 %", "share of landings");
}

#[test]
fn prices_need_their_currency() {
    check(&added("[shop]\nlabour_rate = ▸\"55\""), "`55` is no amount", "14.50 EUR/h");
    check(&added("[shop]\ncomeback_cost = ▸120"), "no text with an amount and a currency", "14.50 EUR");
    check(&added("[shop]\ncomeback_cost = ▸\"120 USD\""), "is in USD, and the shop counts in EUR", "one currency");
    check(&added("[shop]\ncurrency = ▸\"euros\""), "is no currency code", "three capital letters");
    check(&added("[shop]\nparts = [{ part = \"spur 53\", price = ▸\"16.90\" }]"), "`16.90` is no amount", "EUR");
    check(&added("[shop]\nparts = [▸{ part = \"spur 53\" }]"), "needs `part` and `price`", "16.90 EUR");
    check(&added("[shop]\nhorizon_runs = ▸0"), "no whole number from 1 to 10000", "without a unit");
}

#[test]
fn a_file_that_is_far_too_large_is_not_read() {
    let text = format!("▸{}", "# sand\n".repeat(2 * LARGEST_FILE / 7));
    check(&text, "more than 1048576", "is this the right one?");
}

/// Something that is no TOML is refused wherever the reader stops, with a way out.
#[track_caller]
fn refused(text: &str) {
    let found = problems(text);
    assert!(!found.is_empty());
    for problem in &found {
        assert!(problem.line >= 1 && problem.column >= 1, "{problem}");
        assert!(!problem.message.is_empty() && !problem.hint.is_empty(), "{problem}");
    }
}

#[test]
fn what_is_no_toml_is_refused_without_harm() {
    let deep = 10_000;
    refused(&added(&format!("x = {}{}", "[".repeat(deep), "]".repeat(deep))));
    refused(&added(&format!("x = {}", "[".repeat(deep))));
    refused(&added(&format!("x = {}{}", "{a=".repeat(deep), "}".repeat(deep))));
    refused(&added(&format!("x.{}y = 1", "x.".repeat(deep))));
    refused("\0");
    refused(&added("[driver]\nlaunches = 3\0"));
    refused(&added("[driver"));
    refused(&added("grip = "));
    refused(&changed("\"10.4 kg\"", "\"10.4 kg"));
}

#[test]
fn every_problem_of_a_file_comes_at_once_and_in_its_order() {
    let text = changed("\"10.4 kg\"", "\"10,4 kg\"")
        .replace("cells = 7", "cells = 0")
        .replace("\"188 mm\"", "188")
        .replace("mass = \"410 g\"", "mass = \"410 g\"\nmas = \"410 g\"");
    let found = problems(&text);
    let keys: Vec<&str> = found.iter().map(|problem| problem.key.as_str()).collect();
    assert_eq!(keys, ["truck.mass", "battery.cells", "wheels.diameter", "wheels.mas"]);
    assert!(found.is_sorted_by_key(|problem| (problem.line, problem.column)));
}
