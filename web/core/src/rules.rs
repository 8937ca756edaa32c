//! The rules that hold for a file: the stock ones, or those of the library that it stands in.

use std::collections::BTreeMap;

use headlap::{Checker, Report, Texts};

use crate::request::Shown;

/// Reading the rules takes longer than a review, so they are kept until the settings change.
#[derive(Default)]
pub struct Rules {
    stock: Option<Checker>,
    own: Option<Own>,
}

/// The library's, with all that they were made from.
struct Own {
    settings: String,
    texts: BTreeMap<String, String>,
    made: Result<Checker, Report>,
}

impl Rules {
    /// What the nearest `headlap.toml` above the file says, else what is built in.
    pub fn of(&mut self, shown: &Shown) -> Result<&Checker, &Report> {
        let Some(settings) = nearest(shown) else {
            return Ok(self.stock.get_or_insert_with(|| Checker::stock().remembering()));
        };
        // A climate may stand in a file of details.
        let climate = |name: &str| shown.toml[&settings].contains(name.rsplit('/').next().unwrap_or(name));
        let files = shown.files.iter().filter(|(name, _)| climate(name)).chain(&shown.toml);
        let from: BTreeMap<String, String> = files.map(|(name, text)| (name.clone(), text.clone())).collect();
        let kept = self.own.take().filter(|own| own.settings == settings && own.texts == from);
        let own = self.own.insert(kept.unwrap_or_else(|| {
            let mut texts = Texts::new();
            from.iter().for_each(|(name, text)| texts.add(name.as_str(), text.as_str()));
            let made = Checker::with_settings(&texts, &settings).map(Checker::remembering);
            Own { settings, texts: from, made }
        }));
        own.made.as_ref()
    }
}

fn nearest(shown: &Shown) -> Option<String> {
    let mut folder = shown.name.as_str();
    loop {
        folder = folder.rsplit_once('/').map_or("", |(above, _)| above);
        let name = if folder.is_empty() { "headlap.toml".to_owned() } else { format!("{folder}/headlap.toml") };
        if shown.toml.contains_key(&name) {
            return Some(name);
        }
        if folder.is_empty() {
            return None;
        }
    }
}
