//! A shop's book with more causes than are weighed together: refused at once, with the limit and the way out.

use std::path::{Path, PathBuf};
use std::process::Command;

/// A file of its own.
fn scratch(name: &str, text: &str) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, text).unwrap();
    path
}

#[test]
fn more_causes_than_are_weighed_together_are_refused_with_the_way_out() {
    let mut book = "name = \"many\"\nsource = \"made up\"\n[[modes]]\nid = \"worn\"\nname = \"worn\"\n\
                    plain = \"worn\"\nleak = 0.01\n[[findings]]\nid = \"seen\"\nquestion = \"Seen?\"\nhow = \"Look.\"\n\
                    minutes = 1\norder = 1\nleak = 0.05\n[[steps]]\nid = \"do\"\nname = \"do\"\nwhat = \"Do.\"\n\
                    minutes = 1\norder = 1\n"
        .to_owned();
    for place in 0..60 {
        book += &format!(
            "[[causes]]\nid = \"c-{place}\"\nname = \"c\"\nplain = \"c\"\nprior = {{ yes = 1, no = {} }}\n\
             outlives_gear_change = true\nmodes = {{ worn = 0.1 }}\nfindings = {{ seen = 0.5 }}\ncured_by = [\"do\"]\n",
            9 + place
        );
    }
    let book = scratch("sixty.toml", &book);
    let job = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/tarnhorn.toml")).unwrap();
    let job = scratch("sixty-job.toml", job.split("[[findings]]").next().unwrap());
    let began = std::time::Instant::now();
    let output = Command::new(env!("CARGO_BIN_EXE_toothsayer"))
        .arg("why")
        .arg(&job)
        .arg("--fault-book")
        .arg(&book)
        .output()
        .unwrap();
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(1), "{told}");
    for words in ["60 causes", "more than the 28", "\"c-59\", \"c-58\"", "take rare causes out of the book"] {
        assert!(told.contains(words), "{words:?} is missing in\n{told}");
    }
    // Meant to take less than a second, for nothing is simulated by then; ten times that where a machine is busy.
    assert!(began.elapsed().as_secs() < 10, "{:?}", began.elapsed());
}
