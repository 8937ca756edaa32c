//! The stock rules as the build script keeps them for the program: the files in their order, with expressions and sentences
//! read, without examples and without the places of words in expressions.

use crate::rules::written::{Expr, Form, Piece, Quoted, RawFile, RawRule, parse, read_sentence};

/// Whether a file below `rules` holds stock rules. The library to begin from has settings, and editions are asked for by name.
pub fn is_stock(path: &str) -> bool {
    path.ends_with(".toml") && !path.starts_with("start") && !path.starts_with("editions")
}

/// What the program starts from.
pub fn prepare(files: &[RawFile<'_>]) -> Vec<u8> {
    let files: Vec<RawFile<'_>> = files.iter().map(RawFile::prepared).collect();
    postcard::to_allocvec(&files).expect("rules can be written into memory")
}

/// Back from there.
pub fn prepared(bytes: &[u8]) -> Vec<RawFile<'_>> {
    postcard::from_bytes(bytes).expect("the build script has written it")
}

impl RawFile<'_> {
    fn prepared(&self) -> RawFile<'_> {
        let file: RawFile<'_> = self.clone();
        RawFile { rules: self.rules.iter().map(RawRule::prepared).collect(), ..file }
    }
}

impl RawRule<'_> {
    fn prepared(&self) -> RawRule<'_> {
        let rule: RawRule<'_> = self.clone();
        RawRule {
            when: self.when.as_ref().map(expression),
            needs: expression(&self.needs),
            says: sentence(&self.says),
            fix: self.fix.as_ref().map(sentence),
            per: self.per.as_ref().map(expression),
            ..rule
        }
    }
}

/// What cannot be read stays as it is written, to be complained of when it is checked.
fn expression<'t>(form: &'t Form<'_, Expr<'_>>) -> Form<'t, Expr<'t>> {
    form.read(|quoted: &'t Quoted<'_>| parse(quoted, 0..quoted.text.len()).ok())
}

fn sentence<'t>(form: &'t Form<'_, Vec<Piece<'_>>>) -> Form<'t, Vec<Piece<'t>>> {
    form.read(|quoted: &'t Quoted<'_>| {
        Some(read_sentence(quoted)).filter(|(_, problems)| problems.is_empty()).map(|(pieces, _)| pieces)
    })
}
