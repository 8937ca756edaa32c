//! Details that people wrote who had not seen the rules, in `tests/trials`: each correct, and then with one mistake at a time
//! (`NAME.mistakes` beside `NAME.detail`). `tests/trials/known.txt` lists the mistakes that bring no new warning and no new error, and
//! the warnings and errors in the correct details. `HEADLAP_TRIALS=write cargo test --test suite trials` writes it anew: what is new
//! in it is read by a person.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use headlap::finding::Level;
use rayon::prelude::*;

use crate::review::review_text;

/// What a mistake puts in the place of some lines.
struct Swap {
    lines: Vec<String>,
    instead: Vec<String>,
}

struct Mistake {
    id: String,
    swaps: Vec<Swap>,
}

#[test]
fn what_is_missed_and_what_is_a_false_alarm_is_known() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/trials");
    let known = folder.join("known.txt");
    let mut details: Vec<PathBuf> = fs::read_dir(&folder)
        .expect("the trials are there")
        .flatten()
        .filter(|set| set.path().is_dir())
        .flat_map(|set| fs::read_dir(set.path()).expect("a set").flatten().map(|entry| entry.path()))
        .filter(|path| path.extension().is_some_and(|ending| ending == "detail"))
        .collect();
    details.sort();
    let reported: Vec<(usize, String)> = details.par_iter().map(|path| tried(&folder, path)).collect();
    let lines: String = reported.iter().map(|(_, lines)| lines.as_str()).collect();
    let mistakes: usize = reported.iter().map(|(mistakes, _)| mistakes).sum();
    let missed = lines.lines().filter(|line| line.starts_with("missed")).count();
    let alarms = lines.lines().count() - missed;
    let text = format!(
        "{} of {mistakes} mistakes found, {alarms} false alarms in {} correct details\n\n{lines}",
        mistakes - missed,
        details.len()
    );
    if std::env::var_os("HEADLAP_TRIALS").is_some_and(|value| value == "write") {
        fs::write(known, text).expect("written");
    } else {
        let before = fs::read_to_string(known).expect("it was written");
        assert!(text == before, "tests/trials/known.txt is not what is found now:\n{}", differences(&before, &text));
    }
}

/// How many mistakes a detail is tried with, and a line for each that is missed and for each alarm in the correct text.
fn tried(folder: &Path, path: &Path) -> (usize, String) {
    let text = fs::read_to_string(path).expect("a detail");
    let name =
        path.strip_prefix(folder).expect("it lies there").with_extension("").display().to_string().replace('\\', "/");
    let mut lines = String::new();
    let correct = found(&text);
    for (rule, count) in &correct {
        let _ =
            writeln!(lines, "alarm  {name}: {rule}{}", if *count > 1 { format!(" x{count}") } else { String::new() });
    }
    let mistakes = read(&fs::read_to_string(path.with_extension("mistakes")).unwrap_or_default());
    for mistake in &mistakes {
        let wrong =
            made(&text, &mistake.swaps).unwrap_or_else(|line| panic!("{name}, {}: not once there: {line}", mistake.id));
        if found(&wrong).iter().all(|(rule, count)| correct.get(rule).is_some_and(|before| before >= count)) {
            let _ = writeln!(lines, "missed {name}: {}", mistake.id);
        }
    }
    (mistakes.len(), lines)
}

/// Warnings and errors of a text, by rule.
fn found(text: &str) -> BTreeMap<String, usize> {
    let mut counts = BTreeMap::new();
    for finding in review_text(text).findings.iter().filter(|finding| finding.level != Level::Note) {
        *counts.entry(finding.rule.to_string()).or_default() += 1;
    }
    counts
}

/// `# id: what is wrong`, then lines after `-` that stand together in the detail, and after `+` what stands there instead.
fn read(text: &str) -> Vec<Mistake> {
    let mut mistakes: Vec<Mistake> = Vec::new();
    let mut open = false;
    for line in text.lines() {
        let swaps = mistakes.last_mut().map(|mistake| &mut mistake.swaps);
        match (line.chars().next(), swaps) {
            (Some('#'), _) => {
                let id = line.trim_start_matches('#').split(':').next().unwrap_or_default().trim().to_owned();
                mistakes.push(Mistake { id, swaps: Vec::new() });
                open = false;
            }
            (Some('-'), Some(swaps)) => {
                if !open {
                    swaps.push(Swap { lines: Vec::new(), instead: Vec::new() });
                }
                open = true;
                swaps.last_mut().expect("just begun").lines.push(line[1..].trim().to_owned());
            }
            (Some('+'), Some(swaps)) => {
                open = false;
                swaps.last_mut().expect("lines that it replaces").instead.push(line[1..].trim().to_owned());
            }
            _ => open = false,
        }
    }
    mistakes
}

/// The detail with its mistake, or the first line that is not there, or not once.
fn made(text: &str, swaps: &[Swap]) -> Result<String, String> {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    for swap in swaps {
        let there =
            |at: &usize| lines[*at..].iter().zip(&swap.lines).filter(|(line, wanted)| line.trim() == **wanted).count();
        let places: Vec<usize> = (0..lines.len()).filter(|at| there(at) == swap.lines.len()).collect();
        let [at] = places[..] else { return Err(swap.lines.first().cloned().unwrap_or_default()) };
        lines.splice(at..at + swap.lines.len(), swap.instead.iter().cloned());
    }
    Ok(lines.join("\n") + "\n")
}

fn differences(before: &str, now: &str) -> String {
    let lines = |text: &str| text.lines().map(str::to_owned).collect::<std::collections::BTreeSet<_>>();
    let (before, now) = (lines(before), lines(now));
    let gone = before.difference(&now).map(|line| format!("- {line}\n"));
    let come = now.difference(&before).map(|line| format!("+ {line}\n"));
    gone.chain(come).collect()
}
