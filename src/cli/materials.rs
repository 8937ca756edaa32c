//! `headlap materials`: the names that a detail may use without giving them itself.

use std::process::ExitCode;

use crate::cli::args::{Materials, Page};
use crate::cli::{Done, print};
use crate::model::{SourceMap, Words, builtin, no_text};
use crate::output;

pub fn run(args: &Materials, page: &Page) -> Done {
    let words = Words::default();
    let fetch = |path: &str| Err(no_text::in_stock(path));
    let stock = builtin("stock.detail").expect("it is built in");
    let library = SourceMap::new(&fetch, &words).read(stock).library;
    let look = print::page(page);
    let word = args.word.as_deref();
    print::out(|out| match args.format.as_str() {
        "json" => output::materials_json(&output::named_with(&library.materials, word), out),
        _ => output::material_list(&library.materials, word, look, out),
    })?;
    Ok(ExitCode::SUCCESS)
}
