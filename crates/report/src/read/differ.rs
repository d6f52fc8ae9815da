//! Where the text of a plan differs from what the plan, replayed, would be written as.

use super::written::Written;
use pithward_job::{Fault, PlanFileFault};
use pithward_measure::Excerpt;
use serde_json::Value;

/// Differences that are told one by one.
const MOST: usize = 20;

/// Fields that only say in words what others say: another program may word them otherwise.
const WORDS: [&str; 1] = ["says"];

/// The faults of a text, given what it should be. `beside` are fields that nothing else follows from.
pub(super) fn differences(
    written: &Written<'_>,
    text: &str,
    right: &[u8],
    beside: &[&str],
) -> Vec<Fault> {
    if text.as_bytes() == right {
        return Vec::new();
    }
    let (Ok(is), Ok(right)) = (serde_json::from_str(text), serde_json::from_slice(right)) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    differ("", &is, &right, beside, &mut found);
    let more = found.len().saturating_sub(MOST);
    let shown = found.into_iter().take(MOST);
    let mut faults: Vec<Fault> = shown.map(|(path, kind)| written.fault(&path, kind)).collect();
    if more > 0 {
        faults.push(written.fault("", PlanFileFault::More { more }));
    }
    faults
}

fn differ(
    path: &str,
    is: &Value,
    right: &Value,
    beside: &[&str],
    found: &mut Vec<(String, PlanFileFault)>,
) {
    match (is, right) {
        (Value::Object(is), Value::Object(right)) => {
            for (name, value) in is {
                let path = if path.is_empty() { name.clone() } else { format!("{path}.{name}") };
                if WORDS.contains(&&**name) || beside.contains(&&*path) {
                    continue;
                }
                match right.get(name) {
                    Some(right) => differ(&path, value, right, beside, found),
                    None => found.push((path, PlanFileFault::NoField)),
                }
            }
            // What the file lacks and nobody needed to read it is no fault: an older program may not have written it.
        }
        (Value::Array(is), Value::Array(right)) if is.len() == right.len() => {
            for (n, (is, right)) in is.iter().zip(right).enumerate() {
                differ(&format!("{path}[{n}]"), is, right, beside, found);
            }
        }
        (Value::Array(is), Value::Array(right)) => {
            let kind = PlanFileFault::Entries { got: is.len(), right: right.len() };
            found.push((path.to_owned(), kind));
        }
        (is, right) if is != right => {
            let [got, right] = [is, right].map(|value| Excerpt::new(&value.to_string()));
            found.push((path.to_owned(), PlanFileFault::Differs { got, right }));
        }
        _ => {}
    }
}
