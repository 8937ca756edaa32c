//! Climates and drawing sets: compared as they are written.

use std::collections::BTreeMap;

use foldhash::HashMap;

use crate::compare::statement::{self, ItemText};
use crate::compare::{ItemChange, Side};
use crate::model::Name;

/// By name; sets have a title, or none.
pub fn changes(issued: &Side<'_>, submitted: &Side<'_>) -> Vec<ItemChange> {
    let (before, mut after) = (items(issued), items(submitted));
    let mut changes = Vec::new();
    for (name, old) in before {
        match after.remove(&name) {
            None => changes.push(ItemChange::removed(&name)),
            Some(new) => {
                let differences = statement::differences(&old, &new, &BTreeMap::new(), &[]);
                changes.extend(ItemChange::changed(&name, &name, differences));
            }
        }
    }
    changes.extend(after.keys().map(ItemChange::added));
    changes
}

/// `climate site` or `set "Millrace Library annex"`; several of one name one after the other.
fn items(side: &Side<'_>) -> BTreeMap<Name, ItemText> {
    let mut all = BTreeMap::new();
    let mut counts: HashMap<String, usize> = HashMap::default();
    for item in side.checked.iter().flat_map(|checked| statement::items(&checked.source.text)) {
        let keyword = item.head.keyword();
        if matches!(keyword, "climate" | "set") {
            let name = format!("{keyword} {}", item.head.name());
            let count = counts.entry(name.clone()).or_default();
            *count += 1;
            all.insert(numbered(&name, *count).into(), item);
        }
    }
    all
}

fn numbered(name: &str, number: usize) -> String {
    if number == 1 { name.trim_end().to_owned() } else { format!("{} {number}", name.trim_end()) }
}
