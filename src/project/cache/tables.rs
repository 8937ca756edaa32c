//! What many outcomes have in common, said once: they give its number.

use std::sync::Arc;

use foldhash::HashMap;
use serde::{Deserialize, Serialize};

use crate::review::Interface;
use crate::text::{FileId, Source};

/// The tables as they are kept.
#[derive(Default, Serialize, Deserialize)]
pub struct Listed {
    /// Included texts, by name and print.
    pub includes: Vec<(String, String)>,
    /// What details join: a kind, and for each assembly its file and its name.
    pub interfaces: Vec<Arc<Interface>>,
}

/// Tables that are made anew, so that there is nothing in them that no outcome mentions.
#[derive(Default)]
pub struct Tables {
    pub listed: Listed,
    includes: HashMap<(String, String), u32>,
    texts: HashMap<FileId, u32>,
    interfaces: HashMap<Arc<Interface>, u32>,
}

impl Tables {
    pub fn include(&mut self, name: &str, print: &str) -> u32 {
        let list = &mut self.listed.includes;
        *self.includes.entry((name.to_owned(), print.to_owned())).or_insert_with(|| {
            list.push((name.to_owned(), print.to_owned()));
            list.len() as u32 - 1
        })
    }

    /// The same of a text of this run, whose print is worked out once.
    pub fn text(&mut self, text: &Source, print: impl Fn(&Source) -> String) -> u32 {
        match self.texts.get(&text.id) {
            Some(known) => *known,
            None => {
                let number = self.include(&text.name, &print(text));
                self.texts.insert(text.id, number);
                number
            }
        }
    }

    pub fn interface(&mut self, interface: &Arc<Interface>) -> u32 {
        let list = &mut self.listed.interfaces;
        *self.interfaces.entry(interface.clone()).or_insert_with(|| {
            list.push(interface.clone());
            list.len() as u32 - 1
        })
    }
}
