//! Everything that was worked out, to be checked by hand or read by a program.

mod assembly;
mod detail;
mod json;
mod narrated;
mod shape;

pub use json::json;

use std::io::{self, Write};

use crate::output::{CAUTION, Look, wrap::wrap};
use crate::report::Checked;

/// The facts of all files as text: each detail's laps, drops and joints, each assembly's numbers.
///
/// # Errors
/// Those of `out`.
pub fn text(checked: &[Checked], only: &[String], look: Look, out: &mut dyn Write) -> io::Result<()> {
    for file in checked {
        for facts in file.facts.assemblies.iter().filter(|facts| wanted(only, &facts.assembly.name)) {
            match look.narrate {
                true => narrated::assembly(facts, &file.source, look, out)?,
                false => assembly::text(facts, &file.source, out)?,
            }
        }
        for facts in file.facts.details.iter().filter(|facts| wanted(only, &facts.detail.name)) {
            detail::text(facts, &file.source, look, out)?;
        }
    }
    writeln!(out, "{}", wrap(CAUTION, "", look.width))
}

fn wanted(only: &[String], name: &str) -> bool {
    only.is_empty() || only.iter().any(|wanted| wanted == name)
}
