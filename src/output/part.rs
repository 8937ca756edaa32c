//! Parts of a page that have a name, and rows of cells. A screen reader gets sentences in their place.

use std::io::{self, Write};

use crate::output::words::sentence;
use crate::output::wrap::wrap;
use crate::output::{Look, visible};

/// `  Level     warning`, or `Level: warning.`; a part that goes on with the one before it has no name.
pub fn part(name: &str, text: &str, look: Look, out: &mut dyn Write) -> io::Result<()> {
    let line = match (look.narrate, name.is_empty()) {
        (true, true) => wrap(&sentence(text), "", look.width),
        (true, false) => wrap(&sentence(&format!("{name}: {text}")), "", look.width),
        (false, _) => wrap(text, &format!("  {name:<9} "), look.width),
    };
    writeln!(out, "{line}")
}

/// Cells under each other, each column as wide as its widest cell; or a sentence for each row.
///
/// # Errors
/// Those of `out`.
pub fn columns(rows: &[Vec<String>], indent: &str, look: Look, out: &mut dyn Write) -> io::Result<()> {
    if look.narrate {
        return rows.iter().try_for_each(|row| {
            let cells: Vec<_> = row.iter().map(|cell| visible(cell.trim())).filter(|cell| !cell.is_empty()).collect();
            writeln!(out, "{}", wrap(&sentence(&cells.join(", ")), "", look.width))
        });
    }
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let cell = |row: &Vec<String>, column: usize| row.get(column).map_or(0, |cell| cell.chars().count());
    let widths: Vec<usize> = (0..count).map(|c| rows.iter().map(|row| cell(row, c)).max().unwrap_or(0)).collect();
    for row in rows {
        let line: Vec<String> =
            row.iter().zip(&widths).map(|(cell, width)| format!("{:<width$}", visible(cell))).collect();
        writeln!(out, "{}", format!("{indent}{}", line.join("  ")).trim_end())?;
    }
    Ok(())
}
