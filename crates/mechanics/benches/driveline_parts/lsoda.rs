//! SciPy's LSODA on the same event, where there is a Python with SciPy.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use toothsayer_mechanics::driveline::{Case, Parameters};

/// What `reference/lsoda_time.py` prints of a case.
pub struct Timed {
    /// The loosest tolerance that is good enough.
    pub tolerance: String,
    /// Time, ms.
    pub taken_ms: f64,
    /// Relative error of the larger flank's peak.
    pub error: f64,
    /// Evaluations of the right-hand side.
    pub evaluations: u64,
}

/// A Python that has SciPy: the one named by `TOOTHSAYER_PYTHON`, or the one in `.venv`.
pub fn python() -> Option<PathBuf> {
    let named = std::env::var_os("TOOTHSAYER_PYTHON").map(PathBuf::from);
    let python = named.unwrap_or_else(|| root().join(".venv/bin/python"));
    let asked = Command::new(&python).args(["-c", "import scipy.integrate"]).stderr(Stdio::null()).status();
    asked.is_ok_and(|status| status.success()).then_some(python)
}

/// Times LSODA at the loosest tolerance at which the peak is as near to `peak_n` as `error` says; none where it never is.
pub fn timed(python: &Path, case: Case, truck: &Parameters, [peak_n, error]: [f64; 2]) -> Option<Timed> {
    let mut child = Command::new(python)
        .arg(root().join("reference/lsoda_time.py"))
        .args([case.name().to_owned(), peak_n.to_string(), error.to_string()])
        .env("PYTHONDONTWRITEBYTECODE", "1")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .ok()?;
    child.stdin.take()?.write_all(format!("{truck:?}").as_bytes()).ok()?;
    let output = child.wait_with_output().ok()?;
    let text = String::from_utf8(output.stdout).ok()?;
    let words: Vec<&str> = text.split_whitespace().collect();
    let [tolerance, taken_ms, error, evaluations] = words[..] else { return None };
    Some(Timed {
        tolerance: tolerance.to_owned(),
        taken_ms: taken_ms.parse().ok()?,
        error: error.parse().ok()?,
        evaluations: evaluations.parse().ok()?,
    })
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}
