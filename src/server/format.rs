//! One layout, as `headlap tidy` writes it.

use lsp_types::{Range, TextEdit, Uri};

use crate::server::dispatch::Refusal;
use crate::server::{Message, State};
use crate::text::Source;
use crate::tidy::tidy;

/// The lines that change. A text that cannot be read whole is left as it is.
pub fn format(state: &State, uri: &Uri) -> Result<Option<Vec<TextEdit>>, Refusal> {
    let Some(source) = state.path(uri).and_then(|path| state.source(&path)) else { return Ok(None) };
    let Ok(text) = tidy(&source) else {
        return Err(Message::NotFormatted.words());
    };
    Ok(Some(lines_between(state, &source, &text)))
}

/// One edit from the first line that differs to the last one, so that the cursor elsewhere stays where it is.
fn lines_between(state: &State, source: &Source, new: &str) -> Vec<TextEdit> {
    let old = &source.text;
    if old == new {
        return Vec::new();
    }
    let same = |(a, b): &(&str, &str)| a == b;
    let front: usize =
        old.split_inclusive('\n').zip(new.split_inclusive('\n')).take_while(same).map(|(a, _)| a.len()).sum();
    let (old_rest, new_rest) = (&old[front..], &new[front..]);
    let lines = |text: &'_ str| text.split_inclusive('\n').map(str::to_owned).rev().collect::<Vec<_>>();
    let (old_lines, new_lines) = (lines(old_rest), lines(new_rest));
    let back: usize = old_lines.iter().zip(&new_lines).take_while(|(a, b)| a == b).map(|(a, _)| a.len()).sum();
    let range =
        Range { start: state.encoding.position(source, front), end: state.encoding.position(source, old.len() - back) };
    vec![TextEdit { range, new_text: new_rest[..new_rest.len() - back].to_owned() }]
}
