//! Editions of the stock rules. A firm pins one, so that the verdicts on its library stay the same when rules change.

use std::collections::BTreeMap;
use std::hash::{Hash, Hasher};
use std::sync::Arc;

use include_dir::{Dir, include_dir};
use siphasher::sip::SipHasher13;

use crate::rules::written::ASSUMED;
use crate::text::{FileId, Source};

static EDITIONS: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/rules/editions");

/// One edition: for each of its rules and tables a print (a hash) of what it judges by, and the former text of those that have
/// changed since.
pub struct Edition {
    pub name: String,
    /// By `rule ID` or `table NAME`.
    pub prints: BTreeMap<String, String>,
    pub older: Vec<Arc<Source>>,
}

/// The names of all editions, the oldest first.
pub fn editions() -> impl Iterator<Item = &'static str> {
    EDITIONS.files().filter_map(|file| file.path().file_stem()?.to_str())
}

/// `rules/editions/NAME.list`, and the rule files in the folder of that name.
pub fn edition(name: &str) -> Option<Edition> {
    let text = EDITIONS.get_file(format!("{name}.list"))?.contents_utf8()?;
    let older = EDITIONS.get_dir(name).into_iter().flat_map(Dir::files);
    let source = |(at, file): (usize, &include_dir::File<'_>)| {
        let path = format!("rules/editions/{}", file.path().display());
        Some(Arc::new(Source::new(FileId::former_rules(at), path, file.contents_utf8()?)))
    };
    Some(Edition::of(name, text, older.enumerate().filter_map(source).collect()))
}

impl Edition {
    /// Reads an edition from its list, which has a line `"rule ID" = "PRINT"` for each rule.
    pub fn of(name: &str, list: &str, older: Vec<Arc<Source>>) -> Edition {
        Edition { name: name.to_owned(), prints: toml::from_str(list).unwrap_or_default(), older }
    }

    pub fn has_rule(&self, id: &str) -> bool {
        self.prints.contains_key(&format!("rule {id}"))
    }
}

/// The print of what each rule and table of a file judges by: everything except its wording, its basis and its examples.
pub fn prints(source: &Source) -> BTreeMap<String, String> {
    let file: toml::Table = source.text.parse().unwrap_or_default();
    let mut prints = BTreeMap::new();
    for (kind, key) in [("rule", "id"), ("table", "name")] {
        for mut item in file.get(kind).and_then(toml::Value::as_array).cloned().unwrap_or_default() {
            let Some(item) = item.as_table_mut() else { continue };
            ["title", "says", "fix", "basis", "example"].iter().for_each(|words| drop(item.remove(*words)));
            let exceptions = item.get_mut("except").and_then(toml::Value::as_array_mut).into_iter().flatten();
            exceptions.filter_map(toml::Value::as_table_mut).for_each(|table| drop(table.remove("because")));
            let Some(name) = item.get(key).and_then(toml::Value::as_str) else { continue };
            prints.insert(format!("{kind} {name}"), print(item));
        }
    }
    // All files together have one table of assumed values.
    let assumed = file.get(ASSUMED).and_then(toml::Value::as_table);
    prints.extend(assumed.map(|table| (format!("table {ASSUMED}"), print(table))));
    prints
}

fn print(table: &toml::Table) -> String {
    let mut hasher = SipHasher13::new();
    toml::to_string(table).unwrap_or_default().hash(&mut hasher);
    format!("{:016x}", hasher.finish())
}
