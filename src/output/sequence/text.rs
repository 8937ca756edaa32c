//! The installation sequence on a terminal or in a plain file.

use crate::output::sequence::Sequence;
use crate::output::wrap::wrap;
use crate::output::{CAUTION, visible};

/// All orders of work, `width` columns wide, with the caution at the end.
pub fn text(sequences: &[Sequence], width: usize) -> String {
    let mut page = String::new();
    for sequence in sequences {
        let line = |page: &mut String, first: &str, text: &str| {
            page.push_str(&wrap(&visible(text), first, width));
            page.push('\n');
        };
        let title = sequence.title.as_ref().map_or(String::new(), |title| format!("  {title}"));
        let sheet = sequence.sheet.as_ref().map_or(String::new(), |sheet| format!("  ({sheet})"));
        line(&mut page, "", &format!("Installation sequence: {}{title}{sheet}", sequence.name));
        page.push('\n');
        sequence.problems.iter().for_each(|problem| line(&mut page, "  STOP  ", problem));
        sequence.limits.iter().for_each(|limit| line(&mut page, "  limit  ", limit));
        if !(sequence.problems.is_empty() && sequence.limits.is_empty()) {
            page.push('\n');
        }
        for (index, step) in sequence.steps.iter().enumerate() {
            line(&mut page, &format!("{:>4}. ", index + 1), &step.act);
            step.manner().for_each(|how| line(&mut page, "      - ", how));
            step.hold.iter().for_each(|hold| line(&mut page, "      HOLD  ", hold));
            step.cautions.iter().for_each(|caution| line(&mut page, "      CAUTION  ", caution));
        }
        page.push('\n');
        sequence.notes.iter().for_each(|note| line(&mut page, "  note  ", note));
        if !sequence.notes.is_empty() {
            page.push('\n');
        }
    }
    page.push_str(&wrap(CAUTION, "", width));
    page.push('\n');
    page
}
