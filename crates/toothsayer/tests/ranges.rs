//! Ranges at the command line: what people are told of them, and Ctrl-C while they run.

use std::process::{Command, Stdio};

fn margins(name: &str) -> Command {
    let mut run = Command::new(env!("CARGO_BIN_EXE_toothsayer"));
    run.args(["margins", &format!("{}/../../examples/{name}", env!("CARGO_MANIFEST_DIR")), "--narrow"]);
    run
}

#[test]
fn people_are_told_what_to_measure_first() {
    let output = margins("tarnhorn.toml").output().unwrap();
    let text = String::from_utf8(output.stdout).unwrap().split_whitespace().collect::<Vec<_>>().join(" ");
    let told = ["stack.cover_bearing", "Measure first: ", "no measurement takes", "No measurement would change that"];
    for words in told {
        assert!(text.contains(words), "{words} is missing in {text}");
    }
}

/// The signal that Ctrl-C sends, from the system's own tool.
#[cfg(unix)]
#[test]
fn ctrl_c_during_ranges_ends_with_a_message_and_code_one() {
    // The ranges begin after some tenths of a second and last some seconds; a slow machine needs the later tries.
    for wait_ms in [400, 800, 1600, 3200, 6400] {
        let child = margins("tarnhorn-motor.toml").stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        std::thread::sleep(std::time::Duration::from_millis(wait_ms));
        Command::new("kill").args(["-INT", &child.id().to_string()]).output().unwrap();
        let output = child.wait_with_output().unwrap();
        let message = String::from_utf8(output.stderr).unwrap();
        if message.contains("cancelled after") {
            assert_eq!(output.status.code(), Some(1), "{message}");
            assert!(output.stdout.is_empty(), "nothing half-told");
            return;
        }
    }
    panic!("no try met the ranges under way");
}
