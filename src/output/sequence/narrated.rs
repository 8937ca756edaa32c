//! The installation sequence in sentences, for a screen reader: no columns, no words in capitals.

use crate::output::sequence::Sequence;
use crate::output::words::{counted, sentence};
use crate::output::wrap::wrap;
use crate::output::{CAUTION, visible};

/// All orders of work, `width` columns wide, with the caution at the end.
pub fn narrated(sequences: &[Sequence], width: usize) -> String {
    let mut page = String::new();
    for said in sequences.iter().map(sentences) {
        for line in said {
            page.push_str(&wrap(&sentence(&visible(&line)), "", width));
            page.push('\n');
        }
        page.push('\n');
    }
    page.push_str(&wrap(CAUTION, "", width));
    page.push('\n');
    page
}

fn sentences(sequence: &Sequence) -> Vec<String> {
    let title = sequence.title.as_ref().map_or(String::new(), |title| format!(", \"{title}\""));
    let sheet = sequence.sheet.as_ref().map_or(String::new(), |sheet| format!(", on sheet {sheet}"));
    let count = sequence.steps.len();
    let mut said = vec![format!("Detail {}{title}{sheet}, is installed in {}", sequence.name, counted(count, "step"))];
    said.extend(sequence.problems.iter().map(|problem| format!("It cannot be built as drawn: {problem}")));
    said.extend(sequence.limits.iter().cloned());
    for (index, step) in sequence.steps.iter().enumerate() {
        said.push(format!("Step {} of {count}: {}", index + 1, step.act));
        said.extend(step.manner().cloned());
        said.extend(step.hold.iter().map(|hold| format!("Stop here: {hold}")));
        said.extend(step.cautions.iter().map(|caution| format!("Be careful: {caution}")));
    }
    said.extend(sequence.notes.iter().map(|note| format!("The author notes: {note}")));
    said
}
