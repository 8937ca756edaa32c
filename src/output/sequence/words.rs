//! Places and names as a crew says them.

use crate::facts::DetailFacts;
use crate::model::{Extent, Material, Piece, Seal};
use crate::text::set_off;

/// `` `wrap` (vapor-open polyolefin wrap) ``, or with the material's name when it has no title.
pub fn thing(piece: &Piece) -> String {
    format!("{} ({})", set_off(&piece.name), piece.material.called())
}

/// A material within a sentence: `silicone sealant`. A word of capitals, such as a standard's, keeps them.
pub fn within(material: &Material) -> String {
    let title = material.called();
    let mut letters = title.chars();
    match (letters.next(), letters.clone().next()) {
        (Some(first), Some(second)) if second.is_lowercase() => first.to_lowercase().chain(letters).collect(),
        _ => title.to_owned(),
    }
}

/// `silicone sealant, 1 in wide, 1/2 in deep, on closed-cell backer rod`.
pub fn bead(seal: &Seal) -> String {
    within(&seal.sealant) + &measures(seal)
}

/// The same as a name beside a drawing.
pub fn bead_name(seal: &Seal) -> String {
    seal.sealant.called().to_owned() + &measures(seal)
}

fn measures(seal: &Seal) -> String {
    let wide = seal.width.iter().map(|width| format!(", {width} wide"));
    let deep = seal.depth.iter().map(|depth| format!(", {depth} deep"));
    let backer = seal.backer.iter().map(|(backer, _)| format!(", on {}", within(backer)));
    wide.chain(deep).chain(backer).collect()
}

/// `stem and deck`, `stem, plate and deck`.
pub fn list(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}

/// Where a thing lies: `from -75 mm to 75 mm up, along from 600 mm on`.
pub fn place(up: &Extent, along: &Extent) -> String {
    let up = match (up.low, up.high) {
        (None, None) => None,
        (Some(low), None) => Some(format!("from {low} up")),
        (None, Some(high)) => Some(format!("up to {high}")),
        (Some(low), Some(high)) => Some(format!("from {low} to {high} up")),
    };
    let along = match (along.low, along.high) {
        (None, None) => None,
        (Some(left), None) => Some(format!("along from {left} to the right")),
        (None, Some(right)) => Some(format!("along from the left to {right}")),
        (Some(left), Some(right)) => Some(format!("along from {left} to {right}")),
    };
    match (up, along) {
        (None, None) => "over the whole face".into(),
        (Some(one), None) | (None, Some(one)) => one,
        (Some(up), Some(along)) => format!("{up}, {along}"),
    }
}

/// A piece within a sentence.
pub fn name(facts: &DetailFacts, piece: usize) -> String {
    set_off(&facts.detail.pieces[piece].name)
}
