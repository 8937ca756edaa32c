//! The numbers of one thing in short lines of Markdown.

use crate::facts::DetailFacts;
use crate::facts::face::Lap;
use crate::facts::vocabulary::Fact;
use crate::model::{Climate, Control, Extent, Indoor, Material, MaterialKind, VaporUnit};
use crate::output::visible;
use crate::rules::{Literal, Pack, looking_at};

pub fn code(text: &str) -> String {
    // A fence in a name must not end the block.
    format!("```text\n{}\n```", text.trim_end().replace("```", "'''"))
}

/// Extent, step, neighbors in the stack, laps with the limits that apply.
pub fn piece(pack: &Pack, facts: &DetailFacts, index: usize) -> String {
    let detail = &facts.detail;
    let piece = &detail.pieces[index];
    // The title that its maker or the stock gives says more than its kind.
    let kind = piece.material.kind.map_or("", MaterialKind::word);
    let what = piece.material.title.as_deref().map_or(kind.to_owned(), |title| visible(title).into_owned());
    let role = piece.role.as_ref().map_or(String::new(), |role| format!(", as {role}"));
    let name = |piece: &usize| format!("`{}`", detail.pieces[*piece].name);
    let mut lines = vec![
        format!("**piece** `{}`: {}{role}", piece.name, piece.material.name),
        what,
        format!("Step {} of {}", index + 1, detail.pieces.len()),
        format!("Height: {}", extent(&piece.up)),
        format!("Along: {}", extent(&piece.along)),
    ];
    let [outboard, inboard] = neighbors(facts, index);
    let list = |pieces: &[usize]| pieces.iter().map(name).collect::<Vec<_>>().join(", ");
    for (word, pieces) in [("Outboard of it", outboard), ("Inboard of it", inboard)] {
        if !pieces.is_empty() {
            lines.push(format!("{word}: {}", list(&pieces)));
        }
    }
    let bonds: Vec<usize> = piece.bonds.iter().map(|bond| bond.index).collect();
    if !bonds.is_empty() {
        lines.push(format!("Bonded to: {}", list(&bonds)));
    }
    for (number, lap) in facts.face.laps.iter().enumerate() {
        if (lap.over == index || lap.under == index) && counts(lap) {
            lines.push(format!("- {}{}", whole(facts, lap), limits(pack, Fact::Lap(facts, number))));
        }
    }
    lines.join("  \n")
}

/// `; short-head-lap: least 100 mm`
fn limits(pack: &Pack, item: Fact<'_>) -> String {
    let rules = looking_at(pack, item);
    let one = |rule: &&crate::rules::Rule| {
        let lengths = rule.constants.iter().filter(|constant| matches!(constant.value, Literal::Quantity(_)));
        let said: Vec<String> = lengths.map(|c| format!("{} {}", c.name, c.value.show())).collect();
        (!said.is_empty()).then(|| format!("{}: {}", rule.id, said.join(", ")))
    };
    let said: Vec<String> = rules.iter().filter_map(one).collect();
    if said.is_empty() { String::new() } else { format!("; {}", said.join("; ")) }
}

/// The pieces right outboard and right inboard of a piece, anywhere on it.
fn neighbors(facts: &DetailFacts, index: usize) -> [Vec<usize>; 2] {
    let cells = &facts.face.cells;
    let mut found = [Vec::new(), Vec::new()];
    let places = (0..cells.columns()).flat_map(|column| (0..cells.rows()).map(move |row| (column, row)));
    for (column, row) in places {
        let stack = cells.stack(column, row);
        let Some(at) = stack.iter().position(|piece| *piece as usize == index) else { continue };
        // A stack runs from the inner piece to the outer one.
        let beside = [stack.get(at + 1), at.checked_sub(1).and_then(|before| stack.get(before))];
        for (list, piece) in found.iter_mut().zip(beside) {
            list.extend(piece.map(|piece| *piece as usize));
        }
    }
    found.map(|mut list| {
        list.sort_unstable();
        list.dedup();
        list
    })
}

pub fn extent(extent: &Extent) -> String {
    match (extent.low, extent.high) {
        (Some(low), Some(high)) => format!("{low} to {high}"),
        (Some(low), None) => format!("from {low} up"),
        (None, Some(high)) => format!("up to {high}"),
        (None, None) => "runs through".to_owned(),
    }
}

/// Properties and where they come from.
pub fn material(material: &Material) -> String {
    let mut lines = vec![format!("**material** `{}`: {}", material.name, material.kind.map_or("", MaterialKind::word))];
    lines.extend(material.title.as_ref().map(|title| visible(title).into_owned()));
    let holds: Vec<&str> = Control::ALL.into_iter().filter(|c| material.holds.has(*c)).map(Control::word).collect();
    let mut put = |name: &str, value: Option<String>| lines.extend(value.map(|value| format!("{name}: {value}")));
    put("Holds", (!holds.is_empty()).then(|| holds.join(", ")));
    let quantity = |value: Option<crate::quantity::Quantity>| value.map(|value| value.to_string());
    put("Thickness", quantity(material.thickness));
    put(
        "Vapor",
        material.vapor.map(|vapor| {
            let unit = match vapor.unit {
                VaporUnit::Permeance => "permeance",
                VaporUnit::Mu => "mu",
                VaporUnit::Permeability => "permeability",
                VaporUnit::AirLayer => "sd",
            };
            let wet = vapor.wet.map_or(String::new(), |wet| format!(" dry, {wet} wet"));
            format!("{unit} {}{wet}", vapor.dry)
        }),
    );
    put("Conductivity", quantity(material.conductivity));
    put("Resistance", quantity(material.resistance));
    put("Density", quantity(material.density));
    put("Air permeance at 75 Pa", quantity(material.air_permeance));
    put("Surface", material.surface.as_ref().map(ToString::to_string));
    put("Made of", material.made_of.as_ref().map(ToString::to_string));
    put("Adhesive", material.adhesive.as_ref().map(ToString::to_string));
    put("Applies above", quantity(material.applies_above));
    put("UV limit", quantity(material.uv_limit));
    put("Moisture-sensitive", material.sensitive.then(|| "yes".to_owned()));
    put("Section", material.section.clone());
    put("Source", material.source.as_ref().map(|source| visible(source).into_owned()));
    lines.join("  \n")
}

pub fn climate(climate: &Climate) -> String {
    let mut lines = vec![format!("**climate** `{}`", climate.name)];
    lines.extend(climate.title.as_ref().map(|title| visible(title).into_owned()));
    lines.extend(climate.zone.as_ref().map(|zone| format!("Zone: {zone}")));
    lines.extend(climate.indoor.map(|indoor| match indoor {
        Indoor::Fixed { temperature, humidity } => format!("Indoors: {temperature}, {humidity}"),
        Indoor::Class(class) => format!("Indoors: humidity class {class} of ISO 13788"),
    }));
    lines.extend(climate.source.as_ref().map(|source| format!("Source: {}", visible(source))));
    lines.join("  \n")
}

/// The two lie against each other or are sealed: what only passes far outboard of the other laps nothing.
pub fn counts(lap: &Lap) -> bool {
    lap.contact || lap.sealed || lap.bridged.is_some()
}

/// `wrap laps base by 100 mm, head lap, shingled, sealed`
pub fn whole(facts: &DetailFacts, lap: &Lap) -> String {
    let name = |piece: usize| &facts.detail.pieces[piece].name;
    let mut said = format!(
        "{} laps {} by {}, {} lap",
        name(lap.over),
        name(lap.under),
        facts.length(Some(lap.over), lap.length),
        lap.run.word()
    );
    if lap.run.word() == "head" {
        said.push_str(if lap.shingled { ", sheds water" } else { ", reversed" });
    }
    if lap.sealed {
        said.push_str(", sealed");
    }
    if let Some(third) = lap.bridged {
        said.push_str(&format!(", sealed across by {}", name(third)));
    }
    said
}
