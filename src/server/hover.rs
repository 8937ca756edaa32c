//! What is known of the word under the pointer.

use lsp_types::{Hover, HoverContents, HoverParams, MarkupContent, MarkupKind};

use crate::about::{Surroundings, about};
use crate::server::State;

pub fn hover(state: &State, asked: &HoverParams) -> Option<Hover> {
    let at = &asked.text_document_position_params;
    let path = state.path(&at.text_document.uri)?;
    let (source, reading) = (state.source(&path)?, state.reading(&path)?);
    let library = state.libraries.of(&path)?;
    let around = Surroundings {
        source: &source,
        checked: state.checked(&path),
        all: state.reviewed.get(&path).map_or(&[], |reviewed| &reviewed.run.checked),
        library: &reading.library,
        pack: library.rules_for(&path),
    };
    let (value, span) = about(&around, state.encoding.offset(&source, at.position))?;
    let range = span.map(|span| state.encoding.range(&source, span));
    Some(Hover { contents: HoverContents::Markup(MarkupContent { kind: MarkupKind::Markdown, value }), range })
}
