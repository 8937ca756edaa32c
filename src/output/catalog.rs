//! Rules and materials for programs. The same input gives the same bytes.

use std::io::{self, Write};
use std::sync::Arc;

use serde::Serialize;
use serde_json::{Value, json};

use crate::finding::PAGES;
use crate::model::{Control, Material};
use crate::output::escaped;
use crate::output::json::FORMAT;
use crate::quantity::Quantity;
use crate::rules::{Pack, Rule};

/// Every rule with its level, its limits and their basis, and the ids of errors of texts.
///
/// # Errors
/// Those of `out`.
pub fn rules_json(pack: &Pack, out: &mut dyn Write) -> io::Result<()> {
    let texts = PAGES.iter().map(|page| {
        json!({ "id": page.id, "title": page.title, "level": page.level.word(), "says": page.says, "fix": page.fix })
    });
    let rules: Vec<Value> = pack.rules.iter().map(|rule| one(pack, rule)).collect();
    whole(&json!({ "format": FORMAT, "rules": rules, "texts": texts.collect::<Vec<_>>() }), out)
}

fn one(pack: &Pack, rule: &Rule) -> Value {
    let source = pack.sources().get(&rule.span.file);
    let topic = source.and_then(|source| source.name.split('/').rev().nth(1));
    let limits: Vec<Value> = rule
        .constants
        .iter()
        .map(|constant| json!({ "name": &*constant.name, "value": constant.value.show() }))
        .collect();
    let basis: Vec<Value> = rule
        .wording()
        .basis
        .iter()
        .map(|b| json!({ "source": b.source, "clause": b.clause, "says": b.says, "known": b.known.word() }))
        .collect();
    json!({
        "id": &*rule.id,
        "title": &*rule.title,
        "level": rule.level.word(),
        "about": rule.about.word(),
        "topic": topic,
        "off": rule.off,
        "limits": limits,
        "basis": basis,
        "adjusted": rule.adjusted,
        "file": source.map(|source| source.name.as_str()),
    })
}

/// Materials with the values that they state.
///
/// # Errors
/// Those of `out`.
pub fn materials_json(materials: &[&Arc<Material>], out: &mut dyn Write) -> io::Result<()> {
    let all: Vec<Value> = materials.iter().map(|material| material_of(material)).collect();
    whole(&json!({ "format": FORMAT, "materials": all }), out)
}

fn material_of(material: &Material) -> Value {
    let holds: Vec<&str> = Control::ALL.into_iter().filter(|c| material.holds.has(*c)).map(Control::word).collect();
    let quantity = |value: Option<Quantity>| value.map(|q| json!({ "value": q.number(), "unit": q.unit.symbol }));
    json!({
        "name": &*material.name,
        "kind": material.kind.map(|kind| kind.word()),
        "title": material.title,
        "holds": holds,
        "thickness": quantity(material.thickness),
        "vapor": quantity(material.vapor.map(|vapor| vapor.dry)),
        "vapor_wet": quantity(material.vapor.and_then(|vapor| vapor.wet)),
        "conductivity": quantity(material.conductivity),
        "resistance": quantity(material.resistance),
        "density": quantity(material.density),
        "air_permeance": quantity(material.air_permeance),
        "surface": material.surface.as_deref(),
        "adhesive": material.adhesive.as_deref(),
        "section": material.section,
        "source": material.source,
    })
}

fn whole(value: &impl Serialize, out: &mut dyn Write) -> io::Result<()> {
    escaped::pretty(value, out)?;
    writeln!(out)
}
