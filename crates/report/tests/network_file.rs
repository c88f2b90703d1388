//! The network file read back: its nodes, split or whole, give the formulas' probabilities.

use std::collections::BTreeMap;
use toothsayer_evidence::{
    Cause, CauseId, CauseLink, Evidence, Finding, FindingId, Mode, ModeId, ModeLink, Network, NetworkParts, State,
};
use toothsayer_report::network_file;

/// A few dozen rounded products.
const ROUNDING: f64 = 1e-12;
/// Causes: more than one table of twelve parents holds.
const N: usize = 17;

/// Parents and P(yes) by their states, a letter each.
type Node = (Vec<String>, BTreeMap<String, f64>);

/// The nodes of a file in the Bayesian Interchange Format, as it is written here: one row a line.
fn read(file: &str) -> BTreeMap<String, Node> {
    let mut nodes: BTreeMap<String, Node> = BTreeMap::new();
    let mut now = String::new();
    for line in file.lines() {
        if let Some(head) = line.strip_prefix("probability ( ") {
            let (name, parents) = head.trim_end_matches(" ) {").split_once(" | ").unwrap_or((head, ""));
            now = name.trim_end_matches(" ) {").to_owned();
            let parents = parents.split(", ").filter(|name| !name.is_empty()).map(str::to_owned).collect();
            let before = nodes.insert(now.clone(), (parents, BTreeMap::new()));
            assert!(before.is_none(), "{now} stands twice");
        } else if let Some(row) = line.strip_prefix("  table ").or_else(|| line.strip_prefix("  (")) {
            let (states, columns) = row.split_once(") ").unwrap_or(("", row));
            let columns: Vec<f64> =
                columns.trim_end_matches(';').split(", ").map(|text| text.parse().unwrap()).collect();
            assert!((columns[0] + columns[1] - 1.0).abs() <= ROUNDING, "{line}");
            let states = states.split(", ").filter_map(|state| state.chars().next()).collect();
            nodes.get_mut(&now).expect("a row stands in a node").1.insert(states, columns[1]);
        }
    }
    nodes
}

/// P(node = yes) where the states of some nodes are given, by summing over the states of all parents that are not.
fn yes(nodes: &BTreeMap<String, Node>, given: &BTreeMap<String, bool>, name: &str) -> f64 {
    let (parents, rows) = &nodes[name];
    let of = |(states, yes): (&String, &f64)| {
        let weigh = |(parent, state): (&String, char)| match (given.get(parent), state == 'y') {
            (Some(is), state) => f64::from(u8::from(*is == state)),
            (None, true) => self::yes(nodes, given, parent),
            (None, false) => 1.0 - self::yes(nodes, given, parent),
        };
        parents.iter().zip(states.chars()).map(weigh).product::<f64>() * yes
    };
    rows.iter().map(of).sum()
}

fn links(places: impl Iterator<Item = usize>) -> Vec<CauseLink> {
    places.map(|place| CauseLink { cause: CauseId(place), probability: 0.9 / (place + 2) as f64 }).collect()
}

/// A mode with a table, links within the table and far more links than a table holds; a finding of all causes and both
/// modes; a name that is used twice and one with odd letters.
fn network() -> Network {
    let state = |place| if place == 3 { State::Known(true) } else { State::Prior(0.03 + 0.01 * place as f64) };
    let name = |place| if place == 5 { "odd name".into() } else { format!("cause-{place}") };
    let mode = |name: &str, leak, links, trigger| Mode { name: name.into(), leak, links, trigger };
    let modes =
        vec![mode("broken", 0.02, links(1..N), vec![0.0, 0.3, 0.9, 0.4]), mode("cause-1", 0.01, links(0..2), vec![])];
    let by_mode = |place, probability| ModeLink { mode: ModeId(place), probability };
    let finding =
        Finding { name: "seen".into(), leak: 0.05, causes: links(0..N), modes: vec![by_mode(0, 0.7), by_mode(1, 0.2)] };
    Network::new(NetworkParts {
        causes: (0..N).map(|place| Cause { name: name(place), state: state(place) }).collect(),
        computed: vec![CauseId(0), CauseId(2)],
        modes,
        findings: vec![finding],
    })
    .unwrap()
}

fn node(place: usize) -> String {
    if place == 5 { "odd_name".into() } else { format!("cause-{place}") }
}

/// (1 - leak) prod over present parents (1 - p), the rows of the doc comments of the network.
fn off(leak: f64, links: &[CauseLink], vector: usize) -> f64 {
    let present = links.iter().filter(|link| vector >> link.cause.0 & 1 == 1);
    present.fold(1.0 - leak, |off, link| off * (1.0 - link.probability))
}

#[track_caller]
fn check(what: &str, got: f64, expected: f64) {
    assert!((got - expected).abs() <= ROUNDING, "{what}: the file gives {got}, the formula {expected}");
}

#[test]
fn split_nodes_give_what_the_whole_formula_gives() {
    let network = network();
    let nodes = read(&network_file("Tarnhorn 6", &network, &Evidence::none(1)));
    assert!(nodes.values().all(|(parents, rows)| parents.len() <= 12 && rows.len() == 1 << parents.len()));
    assert!(nodes.contains_key("broken__1") && nodes.contains_key("seen__1") && !nodes.contains_key("cause-1___1"));
    let rows = network.modes().rows();
    for vector in [0, 1, 4, 5, 0b10_0110, 0x1_ffff, 0x1_5555, 0x0_aaaa, 0x1_0303] {
        let given: BTreeMap<String, bool> = (0..N).map(|place| (node(place), vector >> place & 1 == 1)).collect();
        let table = rows[0].trigger[vector & 1 | vector >> 1 & 2];
        check("broken", yes(&nodes, &given, "broken"), 1.0 - off(0.02, &rows[0].links, vector) * (1.0 - table));
        check("second mode", yes(&nodes, &given, "cause-1_"), 1.0 - off(0.01, &rows[1].links, vector));
        for (modes, missed) in [(0, 1.0), (1, 0.3), (2, 0.8), (3, 0.3 * 0.8)] {
            let mut given = given.clone();
            given.extend([("broken".into(), modes & 1 == 1), ("cause-1_".into(), modes & 2 == 2)]);
            let no = off(0.05, &network.findings()[0].causes, vector) * missed;
            check("seen", yes(&nodes, &given, "seen"), 1.0 - no);
            check("strip", yes(&nodes, &given, "strip"), f64::from(u8::from(modes > 0)));
        }
    }
}

#[test]
fn priors_what_is_decided_and_what_was_answered_stand_in_the_file() {
    let evidence = Evidence { some_mode: true, ..Evidence::none(1).with(FindingId(0), false) };
    let file = network_file("Tarnhorn \"6\"\n", &network(), &evidence);
    assert!(file.starts_with("network \"Tarnhorn 6\" {\n}\n"), "{file}");
    let nodes = read(&file);
    check("prior", nodes["odd_name"].1[""], 0.08);
    check("decided", nodes["cause-3"].1[""], 1.0);
    let told: Vec<&str> = file.lines().filter_map(|line| line.strip_prefix("// evidence: ")).collect();
    assert_eq!(told, ["seen = no", "strip = yes", "cause-3 = yes"]);
}
