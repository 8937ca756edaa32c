//! Materials by kind, for people who look for a name.

use std::io::{self, Write};
use std::sync::Arc;

use crate::model::{Material, MaterialKind};
use crate::output::wrap::wrap;
use crate::output::{Look, visible, words};

/// Every material with `word` in its name, kind or title; all of them without one.
///
/// # Errors
/// Those of `out`.
pub fn material_list(
    materials: &[Arc<Material>],
    word: Option<&str>,
    look: Look,
    out: &mut dyn Write,
) -> io::Result<()> {
    let listed = named_with(materials, word);
    let width = listed.iter().map(|material| material.name.chars().count()).max().unwrap_or(0);
    for kind in MaterialKind::ALL {
        let mut of_kind = listed.iter().filter(|material| material.kind == Some(kind)).peekable();
        if of_kind.peek().is_none() {
            continue;
        }
        writeln!(out, "{}", kind.word())?;
        for material in of_kind {
            let first = match look.narrate {
                true => format!("{}: ", visible(&material.name)),
                false => format!("  {:<width$}  ", material.name),
            };
            writeln!(out, "{}", wrap(material.title.as_deref().unwrap_or(""), &first, look.width))?;
        }
        writeln!(out)?;
    }
    let close = match word {
        Some(word) if listed.is_empty() => format!(
            "No material has \"{}\" in its name, kind or title. `headlap materials` lists them all.",
            visible(word)
        ),
        _ => format!(
            "{}. A file that says `include \"stock.detail\"` may use these names.",
            words::counted(listed.len(), "material")
        ),
    };
    writeln!(out, "{}", wrap(&close, "", look.width))
}

/// The materials with a word in their name, kind or title.
pub fn named_with<'m>(materials: &'m [Arc<Material>], word: Option<&str>) -> Vec<&'m Arc<Material>> {
    let wanted = word.unwrap_or("").to_lowercase();
    materials.iter().filter(|material| speaks_of(material, &wanted)).collect()
}

fn speaks_of(material: &Material, word: &str) -> bool {
    let kind = material.kind.map_or("", MaterialKind::word);
    let title = material.title.as_deref().unwrap_or("");
    [&*material.name, kind, title].iter().any(|text| text.to_lowercase().contains(word))
}
