//! The installation sequence as Markdown, for a site handbook or an issue tracker.

use crate::output::sequence::Sequence;
use crate::output::{CAUTION, visible};

/// All orders of work, a heading for each, with the caution at the end.
pub fn markdown(sequences: &[Sequence]) -> String {
    let mut page = String::new();
    for sequence in sequences {
        let title = sequence.title.as_ref().map_or(String::new(), |title| format!(" {title}"));
        let sheet = sequence.sheet.as_ref().map_or(String::new(), |sheet| format!(" ({sheet})"));
        page.push_str(&format!("## Installation sequence: {}\n\n", plain(&format!("{}{title}{sheet}", sequence.name))));
        for problem in &sequence.problems {
            page.push_str(&format!("> **Stop.** {}\n\n", plain(problem)));
        }
        for limit in &sequence.limits {
            page.push_str(&format!("- *Limit:* {}\n", plain(limit)));
        }
        if !sequence.limits.is_empty() {
            page.push('\n');
        }
        for (index, step) in sequence.steps.iter().enumerate() {
            page.push_str(&format!("{}. {}\n", index + 1, plain(&step.act)));
            for how in step.manner() {
                page.push_str(&format!("   - {}\n", plain(how)));
            }
            for hold in &step.hold {
                page.push_str(&format!("   - [ ] **Hold:** {}\n", plain(hold)));
            }
            for caution in &step.cautions {
                page.push_str(&format!("   - **Caution:** {}\n", plain(caution)));
            }
        }
        page.push('\n');
        for note in &sequence.notes {
            page.push_str(&format!("*Note:* {}\n\n", plain(note)));
        }
    }
    page.push_str(&format!("---\n\n{CAUTION}\n"));
    page
}

/// Escapes a text from a file, so that it cannot format anything.
fn plain(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for c in visible(text).chars() {
        if c == '\n' || c == '\r' {
            shown.push(' ');
            continue;
        }
        if "\\`*_[]<>#|~!&".contains(c) {
            shown.push('\\');
        }
        shown.push(c);
    }
    shown
}
