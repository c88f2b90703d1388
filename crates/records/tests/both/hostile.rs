//! Archives that mean no good: refused on both databases, empty or full, and nothing is changed.

use crate::archive::archive;
use crate::ground::{on_both, on_sqlite, wait};
use crate::writes::taken_in;
use sha2::{Digest, Sha256};
use std::io::{BufReader, Read};
use toothsayer_records::{Error, LATEST, Store, check_archive, find, health_of, restore, restore_in_place};

/// An archive of these lines with a foot that fits, so that only what they say can be refused.
fn signed(lines: &[String]) -> Vec<u8> {
    let body: String = lines.iter().map(|line| format!("{line}\n")).collect();
    let rows = lines.iter().skip(1).filter(|line| !line.starts_with("{\"table\":")).count();
    let sha256: String = Sha256::digest(&body).iter().map(|byte| format!("{byte:02x}")).collect();
    format!("{body}{{\"rows\":{rows},\"sha256\":\"{sha256}\"}}\n").into_bytes()
}

/// The lines of an archive without its foot.
fn lines(archive: &[u8]) -> Vec<String> {
    let text = std::str::from_utf8(archive).unwrap();
    let lines: Vec<String> = text.lines().map(str::to_owned).collect();
    lines[..lines.len() - 1].to_vec()
}

/// A good archive with the first line that holds `old` changed.
fn with(good: &[u8], old: &str, new: &str) -> Vec<u8> {
    let mut lines = lines(good);
    let line = lines.iter_mut().find(|line| line.contains(old)).unwrap_or_else(|| panic!("{old} stands nowhere"));
    *line = line.replacen(old, new, 1);
    signed(&lines)
}

/// What each of them says that no good archive says, and the words of the refusal.
fn bad(good: &[u8]) -> Vec<(Vec<u8>, &'static str)> {
    let twice = |old: &str| {
        let mut lines = lines(good);
        let place = lines.iter().position(|line| line.contains(old)).unwrap();
        lines.insert(place + 1, lines[place].clone());
        signed(&lines)
    };
    let behind = [good, b"{}\n"].concat();
    let short = [&good[..good.len() - 2], b"0\"}\n"].concat();
    vec![
        (with(good, "\"Anna Vogel\"", "[[[[\"Anna\"]]]]"), "a text, a whole number"),
        (with(good, "\"Anna Vogel\"", "\"Anna\",\"extra\":\"x\""), "`extra` is no column"),
        (with(good, "\"Anna Vogel\"", "\"Anna\",\"name\":\"Bob\""), "twice"),
        (with(good, "\"Anna Vogel\"", "\"An\\u0000na\""), "`name` is"),
        (with(good, "\"Anna Vogel\"", "null"), "`name` is"),
        (with(good, "\"erased\":false", "\"erased\":7"), "`erased` is"),
        (with(good, "\"state\":\"taken-in\"", "\"state\":\"nowhere\""), "`state` is"),
        (with(good, "\"state\":\"taken-in\"", "\"state\":\"collected\""), "do not allow"),
        (with(good, "\"open\":true", "\"open\":false"), "do not allow"),
        (with(good, "\"to_state\":\"taken-in\"", "\"to_state\":\"ready\""), "do not allow"),
        (with(good, "\"what\":\"{", "\"what\":\"{{"), "`what` is"),
        (with(good, "{\"table\":\"truck\"}", "{\"table\":\"../../etc/passwd\"}"), "is no table"),
        (with(good, "{\"table\":\"truck\"}", "{\"table\":\"search_doc\"}"), "is no table"),
        (with(good, "{\"table\":\"truck\"}", "{\"table\":\"person\"}"), "out of order"),
        (with(good, &format!("\"schema\":{LATEST}"), "\"schema\":0"), "schema 0"),
        (twice("\"Anna Vogel\""), "do not allow"),
        (
            signed(&lines(good).into_iter().filter(|line| !line.contains("Anna Vogel")).collect::<Vec<_>>()),
            "do not allow",
        ),
        (behind, "behind its end"),
        (short, ""),
        (good[..good.len() / 2].to_vec(), "cut short"),
        (b"\xff\xfe\n".to_vec(), ""),
    ]
}

#[test]
fn a_hostile_archive_changes_nothing() {
    on_both(|store| async move {
        taken_in(&store, "Anna Vogel").await;
        let good = archive(&store).await;
        for (bad, told) in bad(&good) {
            let refused = restore_in_place(&store, &mut bad.as_slice(), |_| {}).await.unwrap_err();
            assert!(refused.to_string().contains(told), "{told:?} is missing in: {refused}");
            assert!(archive(&store).await == good, "{told:?} changed something");
            assert_eq!(find(&store, "vogel", 9).await.unwrap().len(), 1, "{told:?} changed the index");
        }
        restore_in_place(&store, &mut good.as_slice(), |_| {}).await.unwrap();
        assert!(archive(&store).await == good);
        let health = health_of(&store.view().await.unwrap(), |_| {}).await.unwrap();
        assert_eq!(health.faults, Vec::<String>::new());
    });
}

#[test]
fn a_line_without_end_is_refused_before_it_fills_the_memory() {
    let head = format!("{{\"format\":\"toothsayer-records\",\"schema\":{LATEST},\"version\":1}}\n{{\"id\":\"");
    // A hundred times the memory of the machine, were it read.
    let endless = head.as_bytes().chain(std::io::repeat(b'a').take(1 << 40));
    let refused = check_archive(&mut BufReader::with_capacity(1 << 20, endless), |_| {}).unwrap_err();
    assert!(refused.to_string().contains("above"), "{refused}");
}

#[test]
fn an_archive_that_changes_while_it_is_read_is_noticed() {
    let fresh = on_sqlite();
    wait(async {
        let store = Store::open(&fresh.place).await.unwrap();
        taken_in(&store, "Anna Vogel").await;
        let good = archive(&store).await;
        let place = good.len() * 2 / 3;
        let mut other = good[place..].to_vec();
        let digit = other.iter().position(u8::is_ascii_digit).unwrap();
        other[digit] = if other[digit] == b'1' { b'2' } else { b'1' };
        // A stream gives every byte once: what is checked is what is written.
        let mut stream = BufReader::with_capacity(256, good[..place].chain(other.as_slice()));
        assert!(restore_in_place(&store, &mut stream, |_| {}).await.is_err());
        assert!(archive(&store).await == good);
    });
}

#[test]
fn an_archive_of_an_older_schema_is_brought_up_to_date() {
    on_both(|store| async move {
        taken_in(&store, "Anna Vogel").await;
        let good = archive(&store).await;
        let known_then =
            ["person", "customer", "truck", "build", "job", "job_move", "finding", "verdict", "offer", "line"];
        let (mut old, mut known) =
            (vec![lines(&good)[0].replace(&format!("\"schema\":{LATEST}"), "\"schema\":1")], true);
        for line in &lines(&good)[1..] {
            if let Some(table) = line.strip_prefix("{\"table\":\"") {
                known =
                    known_then.iter().chain(&["go_ahead", "form", "audit"]).any(|name| table == format!("{name}\"}}"));
            }
            old.extend(known.then(|| line.clone()));
        }
        restore_in_place(&store, &mut signed(&old).as_slice(), |_| {}).await.unwrap();
        assert!(archive(&store).await == good, "the tables that are newer were empty");
        let refused = restore(&store, &mut signed(&old).as_slice(), |_| {}).await.unwrap_err();
        assert_eq!(refused, Error::NotEmpty { one: "customer" });
    });
}
