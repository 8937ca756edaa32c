//! Built-in texts as the build script keeps them for the program, so that it need not parse them.

use serde::{Deserialize, Serialize};

use crate::syntax::{Document, parse};
use crate::text::Source;

/// A text with the document that it reads as.
#[derive(Serialize, Deserialize)]
pub struct PreparedText<'s> {
    pub name: &'s str,
    pub text: &'s str,
    /// `Document`, to be read when needed.
    document: &'s [u8],
}

impl PreparedText<'_> {
    /// What reading the text would give. Its places are in the file whose number the build script gave it.
    pub fn document(&self) -> Document {
        postcard::from_bytes(self.document).expect("the build script has written it")
    }
}

/// The texts in the form that is built into the program. None may have a mistake: the program would not say so.
pub fn prepare(sources: &[Source]) -> Vec<u8> {
    let document = |source: &Source| {
        let (document, findings) = parse(source);
        assert!(findings.is_empty(), "{}: {findings:?}", source.name);
        written(&document)
    };
    let documents: Vec<Vec<u8>> = sources.iter().map(document).collect();
    let texts = sources.iter().zip(&documents);
    let texts = texts.map(|(source, document)| PreparedText { name: &source.name, text: &source.text, document });
    written(&texts.collect::<Vec<_>>())
}

/// Reads that form.
pub fn read_prepared(bytes: &[u8]) -> Vec<PreparedText<'_>> {
    postcard::from_bytes(bytes).expect("the build script has written it")
}

fn written(what: &impl Serialize) -> Vec<u8> {
    postcard::to_allocvec(what).expect("texts can be written into memory")
}
