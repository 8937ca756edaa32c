//! Characters that some programs take for line breaks and that do not end a line here: text after them could be part of a
//! comment without anybody noticing.

use crate::finding::Id;
use crate::syntax::{Diagnostics, Message};
use crate::text::{FileId, Span};

/// Adds an error for each of them, unless there is one at that place already.
pub fn refuse(text: &str, file: FileId, problems: &mut Diagnostics) {
    // The first bytes of such characters. Most texts have none, and the search for them looks at many bytes in one step.
    let begins = |byte: &u8| matches!(byte, 0 | 0x0B | 0x0C | 0xC2 | 0xE2);
    if !text.as_bytes().chunks(64).any(|chunk| chunk.iter().fold(false, |any, byte| any | begins(byte))) {
        return;
    }
    for (at, letter) in text.char_indices() {
        let Some(name) = name(letter) else { continue };
        let span = Span::new(file, at, at + letter.len_utf8());
        let said = problems.list.iter().any(|finding| finding.span.start <= span.start && span.end <= finding.span.end);
        if said || problems.full(Id::Syntax) {
            continue;
        }
        problems.add(Message::StrayCharacter { name, letter }.at(span));
    }
}

fn name(letter: char) -> Option<&'static str> {
    Some(match letter {
        '\0' => "NUL character",
        '\u{B}' => "vertical tab",
        '\u{C}' => "form feed",
        '\u{85}' => "next-line character",
        '\u{2028}' => "line separator",
        '\u{2029}' => "paragraph separator",
        _ => return None,
    })
}
