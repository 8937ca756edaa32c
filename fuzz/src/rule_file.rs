//! Any text as a firm's rule file on top of another: refused at places inside, or usable in all that rules are used for.

use headlap::output::{self, Look};

use super::expression::{BASE, load};

/// Tries these bytes.
pub fn run(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let Some(pack) = load(&[BASE, &text]) else { return };
    for rule in &pack.rules {
        output::rule_page(&pack, rule, Look::PLAIN, &mut std::io::sink()).expect("a sink takes it");
        pack.examples(rule);
    }
    output::rule_list(&pack, Look::PLAIN, &mut std::io::sink()).expect("a sink takes it");
}
